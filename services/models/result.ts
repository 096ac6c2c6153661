/** What a model answers: a value, or why there is none. Models never answer NaN. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly reason: string };

export function found<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function refused(reason: string): { readonly ok: false; readonly reason: string } {
  return { ok: false, reason };
}
