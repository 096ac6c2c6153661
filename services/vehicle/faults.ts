/** Faults of a request, gathered under the pointer where they are. */
import { suggest } from '../engine/diagnostics.ts';
import type { RequestFault } from './request.ts';

/** RFC 6901: `~` is `~0` and `/` is `~1` in a step. */
const escapeStep = (step: string | number): string => String(step).replaceAll('~', '~0').replaceAll('/', '~1');

export class Faults {
  readonly list: RequestFault[];
  readonly #at: string;
  readonly #held: boolean;

  constructor(at = '', list: RequestFault[] = [], held = false) {
    this.#at = at;
    this.#held = held;
    this.list = list;
  }

  in(...steps: readonly (string | number)[]): Faults {
    if (this.#held) return this;
    return new Faults([this.#at, ...steps.map(escapeStep)].join('/'), this.list);
  }

  /** A fault found again, such as at each corner of one part, is told once. */
  /** All of them here, whatever is below: it was not sent. */
  held(): Faults {
    return new Faults(this.#at, this.list, true);
  }

  add(code: string, message: string, help: string): undefined {
    const pointer = this.#at;
    if (!this.list.some((fault) => fault.pointer === pointer && fault.message === message))
      this.list.push({ pointer, code, message, help });
    return undefined;
  }
}

export const listed = (names: Iterable<string>): string => [...new Set(names)].map((name) => `\`${name}\``).join(', ');

/** Help that names what was probably meant: by a letter or two, or as a word of a longer name; else what there is, and what lists it all. */
export function suggestFrom(typed: string, names: Iterable<string>, path?: string): string {
  const all = [...new Set(names)];
  const near = suggest(typed, all);
  const longer = all.filter((name) => name.split(/[._-]/).includes(typed.toLowerCase()));
  if (!near.startsWith('did you mean') && longer.length > 0) return `did you mean ${listed(longer)}?`;
  return path === undefined || near.startsWith('did you mean') ? near : `${near}; ${path} lists them all`;
}
