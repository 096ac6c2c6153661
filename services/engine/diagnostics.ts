/**
 * What is wrong in files, all of it at once: place, message, the line with a caret, and how to mend it. Messages are
 * lowercase with the author's words in backticks; help stands apart.
 */
import { lineAt, positionOf, type Span } from './source.ts';

export type Code =
  | 'RULE_SYNTAX'
  | 'RULE_UNKNOWN_NAME'
  | 'RULE_UNKNOWN_KEY'
  | 'RULE_MISSING_KEY'
  | 'RULE_DUPLICATE_KEY'
  | 'RULE_DUPLICATE_ID'
  | 'RULE_NULL'
  | 'RULE_ALIAS'
  | 'RULE_BAD_VALUE'
  | 'RULE_UNIT'
  | 'RULE_DIMENSION'
  | 'RULE_TYPE'
  | 'RULE_REAL_EQUALITY'
  | 'RULE_NEVER_TRUE'
  | 'RULE_ALWAYS_TRUE'
  | 'RULE_NO_SOURCE'
  | 'RULE_NO_EXAMPLE'
  | 'RULE_EXAMPLE'
  | 'RULE_UNKNOWN_WORK'
  | 'RULE_UNKNOWN_CAUTION'
  | 'RULE_UNUSED'
  | 'RULE_CYCLE'
  | 'RULE_TOO_LARGE';

export interface Diagnostic {
  readonly code: Code;
  readonly span: Span;
  readonly message: string;
  readonly help: string;
}

/** Faults shown of one file; a file that is wrong all over is not helped by more. */
const MOST_PER_FILE = 50;

export class Report {
  readonly #found = new Map<string, Diagnostic>();

  /** Records a fault, each once, and gives undefined so that a reader can return it. */
  add(code: Code, span: Span, message: string, help: string): undefined {
    const key = `${span.source.file}:${span.start}:${span.end}:${code}`;
    if (!this.#found.has(key)) this.#found.set(key, { code, span, message, help });
    return undefined;
  }

  get size(): number {
    return this.#found.size;
  }

  /** By file and place. */
  sorted(): readonly Diagnostic[] {
    return [...this.#found.values()].sort(
      (a, b) => compare(a.span.source.file, b.span.source.file) || a.span.start - b.span.start || compare(a.code, b.code),
    );
  }
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export function renderDiagnostic({ code, span, message, help }: Diagnostic): string {
  const { line, column } = positionOf(span.source, span.start);
  const text = lineAt(span.source, line);
  const length = Math.max(1, Math.min(span.end - span.start, text.length - column + 1));
  const indent = text.slice(0, column - 1).replace(/[^\t]/g, ' ');
  return `${span.source.file}:${line}:${column} ${code}: ${message}\n    ${text}\n    ${indent}${'^'.repeat(length)}\n    help: ${help}`;
}

export function renderDiagnostics(diagnostics: readonly Diagnostic[]): string {
  const perFile = new Map<string, number>();
  const shown = diagnostics.filter(({ span }) => {
    const count = (perFile.get(span.source.file) ?? 0) + 1;
    perFile.set(span.source.file, count);
    return count <= MOST_PER_FILE;
  });
  const rest = diagnostics.length - shown.length;
  return [...shown.map(renderDiagnostic), ...(rest > 0 ? [`and ${rest} more`] : [])].join('\n\n');
}

/** Help that names what was probably meant, or what there is. */
export function suggest(typed: string, names: Iterable<string>): string {
  const all = [...new Set(names)];
  const near = nearest(typed, all);
  if (near !== undefined) return `did you mean \`${near}\`?`;
  if (all.length === 0) return 'there is nothing to name here';
  const listed = all.slice(0, 12).map((name) => `\`${name}\``);
  return `known: ${listed.join(', ')}${all.length > 12 ? `, and ${all.length - 12} more` : ''}`;
}

export function nearest(typed: string, names: Iterable<string>): string | undefined {
  const most = Math.max(1, Math.floor(typed.length / 3));
  let best: { name: string; distance: number } | undefined;
  for (const name of names) {
    const distance = editDistance(typed.toLowerCase(), name.toLowerCase());
    if (distance <= most && (!best || distance < best.distance)) best = { name, distance };
  }
  return best?.name;
}

/** Letters changed, added, left out, or swapped with their neighbour (Damerau–Levenshtein, adjacent swaps). */
export function editDistance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const above = rows[i - 1] as number[];
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((above[j - 1] as number) + same, (above[j] as number) + 1, (row[j - 1] as number) + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, ((rows[i - 2] as number[])[j - 2] as number) + 1);
      row.push(least);
    }
    rows.push(row);
  }
  return (rows[a.length] as number[])[b.length] as number;
}
