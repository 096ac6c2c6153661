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

export interface Position {
  readonly line: number;
  readonly column: number;
}

export function positionOf({ text }: Source, offset: number): Position {
  const before = text.slice(0, offset);
  return { line: before.split('\n').length, column: offset - before.lastIndexOf('\n') };
}

export const lineAt = ({ text }: Source, line: number): string => (text.split('\n')[line - 1] ?? '').replace(/\r$/, '');
