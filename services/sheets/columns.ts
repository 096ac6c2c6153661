/** Which row of a table names its columns, what each says, and whether a row is a build or a part of one. */
import { type Headings, type Meaning, OURS, type RowsAre, wordsFor } from './headings.ts';
import { SheetRefused, type TableRow } from './table.ts';

export interface Column extends Partial<Meaning> {
  readonly index: number;
  readonly heading: string;
  /** A known heading that one which is not known is spelt much like. */
  readonly near?: string;
  /** A known heading that has a word in common with one which is not known. */
  readonly like?: string;
}

export interface Columns {
  /** The row they stand in. */
  readonly row: number;
  readonly rows: RowsAre;
  readonly all: readonly Column[];
  /** Of rows that are builds, those that have the name of one before, with the first that has it. */
  readonly repeats?: Readonly<Record<number, number>>;
}

/** What was recognised, for whoever sent the table. */
export interface ColumnReport {
  readonly heading: string;
  /** In words; null for a column that is not read. */
  readonly read_as: string | null;
  readonly unit?: string;
  readonly did_you_mean?: string;
}

/** Titles and notes may stand above the headings. */
const ROWS_SEARCHED = 10;
const LONGEST_HEADING = 200;

/** Finds the headings in the first rows; throws `SheetRefused` when nothing in them says anything of a build. */
export function findColumns(first: readonly TableRow[], headings: Headings, asked: RowsAre | undefined): Columns {
  const candidates = first.slice(0, ROWS_SEARCHED).map((row) => columnsOf(row, headings, asked));
  const best = candidates.reduce<Columns | undefined>((most, found) => (!most || readIn(found) > readIn(most) ? found : most), undefined);
  if (!best || readIn(best) === 0) throw nothingRead(first.find(({ cells }) => cells.some((cell) => cell.trim() !== '')));
  if (best.rows === 'part' && !best.all.some(({ target }) => target?.is === 'build'))
    throw new SheetRefused(
      'COLUMN_MISSING',
      'each row is a part, and no column says of which build',
      'add a column `build`, or send `rows=build`',
      best.row,
    );
  return best;
}

const readIn = ({ all }: Columns): number => all.filter(({ target }) => target && target.is !== 'ours').length;

const nothingRead = (row: TableRow | undefined): SheetRefused =>
  row
    ? new SheetRefused(
        'HEADINGS_UNKNOWN',
        `no heading is known among ${row.cells
          .filter(Boolean)
          .slice(0, 8)
          .map((cell) => `\`${cell.slice(0, 40)}\``)
          .join(', ')}`,
        'name the columns in a first row, such as `build`, `vehicle`, `tyre`, `front lift [mm]`; /v1/sheets/headings lists what is known',
        row.n,
      )
    : new SheetRefused('SHEET_EMPTY', 'there is nothing in the sheet', 'send a table whose first row names the columns');

function columnsOf({ n, cells }: TableRow, headings: Headings, asked: RowsAre | undefined): Columns {
  const meaningOf = (heading: string, as: RowsAre): Partial<Column> => {
    // A text as long as that is none, and is not looked through for one.
    if (heading.length > LONGEST_HEADING) return {};
    const found = heading.trim() === '' ? undefined : headings.mean(heading, as);
    return found ?? (heading.trim() === '' ? {} : unknownHeading(heading, headings));
  };
  const under = (rows: RowsAre): Column[] => cells.map((heading, index) => ({ index, heading, ...meaningOf(heading, rows) }));
  const parts = under('part');
  const perPart =
    parts.some(({ target }) => target?.is === 'kind' || target?.is === 'item') && parts.some(({ target }) => target?.is === 'build');
  const rows = asked ?? (perPart ? 'part' : 'build');
  return { row: n, rows, all: once(rows === 'part' ? parts : under('build')) };
}

/** What a heading that is not known may have been meant for, and the unit it has. */
export function unknownHeading(heading: string, headings: Headings): Pick<Column, 'near' | 'like' | 'unit'> {
  const [near, like, unit] = [headings.near(heading), headings.like(heading), headings.unitIn(heading)];
  return { ...(near !== undefined && { near }), ...(like !== undefined && { like }), ...(unit !== undefined && { unit }) };
}

/** Of two columns that say which build, kind, part or place it is, the first is read; of others both are, and what they say otherwise is told. */
function once(columns: readonly Column[]): Column[] {
  const seen = new Set<string>();
  return columns.map((column) => {
    const key = JSON.stringify(column.target);
    if (!column.target || !ONCE.has(column.target.is) || !seen.has(key)) {
      seen.add(key);
      return column;
    }
    return { index: column.index, heading: column.heading };
  });
}

const ONCE: ReadonlySet<string> = new Set(['build', 'kind', 'item', 'place', 'replaces']);

export const reportOf = ({ all }: Columns): ColumnReport[] =>
  all.map(({ heading, target, unit, near, like }) => ({
    heading,
    read_as: target === undefined || target.is === 'ours' ? null : wordsFor(target),
    ...(unit !== undefined && { unit }),
    ...((near ?? like) !== undefined && { did_you_mean: near ?? like }),
  }));

/** Names of the columns we add, with their units; those that the table has already get a number. */
export function addedHeadings({ all }: Columns, units: 'metric' | 'us'): string[] {
  const mass = units === 'us' ? 'lb' : 'kg';
  const unit: Readonly<Record<string, string>> = {
    'hours low': 'h',
    'hours likely': 'h',
    'hours high': 'h',
    'added mass front': mass,
    'added mass rear': mass,
    'current added': 'A',
  };
  const there = new Set(all.map(({ heading }) => heading.trim().toLowerCase()));
  const free = (name: string, again = 1): string => {
    const tried = again === 1 ? name : `${name} (${again})`;
    return there.has(tried.toLowerCase()) ? free(name, again + 1) : tried;
  };
  return OURS.map((name) => free(unit[name] === undefined ? name : `${name} [${unit[name]}]`));
}
