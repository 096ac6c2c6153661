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

/** The name nearest to what was typed, as help: `did you mean \`tyre\`?`, or the names there are. */
export function suggest(typed: string, names: Iterable<string>): string {
  const all = [...names];
  const near = all.map((name) => ({ name, distance: editDistance(typed, name) })).sort((a, b) => a.distance - b.distance)[0];
  if (near && near.distance <= Math.max(2, typed.length / 3)) return `did you mean \`${near.name}\`?`;
  return all.length <= 12 ? `known are ${all.map((name) => `\`${name}\``).join(', ')}` : `${all.length} are known; list them at the API`;
}

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next[j] = Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1);
    }
    row = next;
  }
  return row[b.length] as number;
}
