import type { components } from './schema.ts';

type Problem = components['schemas']['Problem'];

/** The service said no: its code, and every fault with a JSON Pointer and its fix. */
export class FettleProblem extends Error {
  override readonly name = 'FettleProblem';
  readonly status: number;
  readonly code: Problem['code'];
  readonly faults: Problem['faults'];
  readonly requestId: string | undefined;

  constructor(problem: Problem) {
    super([problem.detail, ...problem.faults.map(({ pointer, message, help }) => `${pointer || '/'}: ${message}; ${help}`)].join('\n'));
    this.status = problem.status;
    this.code = problem.code;
    this.faults = problem.faults;
    this.requestId = problem.request_id;
  }
}

/** The service could not be reached, or answered something that is not its own. */
export class FettleUnreachable extends Error {
  override readonly name = 'FettleUnreachable';
}
