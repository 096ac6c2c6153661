/** What was to be written rests on a state that is no longer the current one; nothing was written. */
export class Conflict extends Error {
  override readonly name = 'Conflict';
  /** The current revision or version; 0 when there is none. */
  readonly current: number;

  constructor(current: number) {
    super(`the current one is ${current}`);
    this.current = current;
  }
}
