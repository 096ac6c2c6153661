/** Faults of a request, gathered under the pointer where they are. */
import type { RequestFault } from './request.ts';

/** RFC 6901: `~` is `~0` and `/` is `~1` in a step. */
const escapeStep = (step: string | number): string => String(step).replaceAll('~', '~0').replaceAll('/', '~1');

export class Faults {
  readonly list: RequestFault[];
  readonly #at: string;

  constructor(at = '', list: RequestFault[] = []) {
    this.#at = at;
    this.list = list;
  }

  in(...steps: readonly (string | number)[]): Faults {
    return new Faults([this.#at, ...steps.map(escapeStep)].join('/'), this.list);
  }

  add(code: string, message: string, help: string): undefined {
    this.list.push({ pointer: this.#at, code, message, help });
    return undefined;
  }
}
