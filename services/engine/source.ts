/** A text with a name, and places in it. Offsets count UTF-16 units from 0; lines and columns count from 1. */
export interface Source {
  readonly file: string;
  readonly text: string;
}

export interface Span {
  readonly source: Source;
  readonly start: number;
  /** Exclusive. */
  readonly end: number;
}
