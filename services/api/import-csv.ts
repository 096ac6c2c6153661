/**
 * Tables of parts and vehicles. The first row names the columns: those of the entry itself, then one for each attribute or quantity,
 * `mass`, `mass [kg]` or `mass (kg)`, in capitals or not. A unit in the heading is that of bare numbers below it; an empty cell says nothing.
 */
import { isUtf8 } from 'node:buffer';
import { type CsvError, parse } from 'csv-parse';
import { suggest } from '../engine/diagnostics.ts';
import { ApiError, type Fault } from './errors.ts';

export interface Table {
  /** Columns of the entry itself. */
  readonly own: readonly string[];
  readonly needed: readonly string[];
  /** Field of the entry that the other columns go into, with what they may be called. */
  readonly field: 'attributes' | 'values';
  readonly names: ReadonlySet<string>;
  /** Whether a name may have a place behind a point, as in `axle_rating.front`. */
  readonly places: boolean;
}

export interface RawRow {
  readonly entry: unknown;
  /** Of a row that cannot be read as an entry at all. */
  readonly fault?: Omit<Fault, 'row' | 'pointer'>;
  /** The row of the table as a spreadsheet counts, its heading being 1; none for a list in JSON. */
  readonly sheetRow?: number;
  columnOf(pointer: string): string;
}

export interface Rows {
  readonly rows: AsyncIterable<RawRow>;
  /** Columns that nobody knows. Rows are read without them, so that all faults are told at once; nothing is taken. */
  readonly faults: readonly Fault[];
}

interface Column {
  readonly heading: string;
  readonly name: string;
  readonly place?: string;
  readonly unit?: string;
  readonly is: 'own' | 'value' | 'left out';
}

const HEADING = /^\s*([^[\]()]+?)\s*(?:[[(]\s*([^[\]()]+?)\s*[\])])?\s*$/;
const BARE = /^\s*([-+]?[\d.]+(?:e[-+]?\d+)?)\s*(?:(?:±|\+-|\+\/-)\s*([\d.]+))?\s*$/i;

/** The text of a table in UTF-8; one in another charset is refused with the row where it is seen. */
export function tableText(body: Buffer): string {
  if (isUtf8(body)) return body.toString('utf8');
  const rows = body.toString('latin1').split('\n');
  const sheetRow = 1 + rows.findIndex((row) => !isUtf8(Buffer.from(row, 'latin1')));
  throw new ApiError('IMPORT_INVALID', 'The table is not written in UTF-8.', [
    {
      pointer: '',
      code: 'TEXT_WRONG',
      message: 'this row has letters that are not written in UTF-8',
      help: 'save the table as `CSV UTF-8`',
      sheet_row: sheetRow,
      ...(sheetRow > 1 && { row: sheetRow - 1 }),
    },
  ]);
}

/**
 * Rows of the table as entries in the making, without the columns that are to be left out (by their headings); throws a problem for a
 * text or a heading that cannot be read at all.
 */
export async function readCsv(text: string, table: Table, ignored: readonly string[] = []): Promise<Rows> {
  const options = { bom: true, delimiter: delimiterOf(text), relax_column_count: true };
  const records = parse(text, options)[Symbol.asyncIterator]() as AsyncIterator<string[]>;
  const next = async (): Promise<string[] | undefined> => {
    const { done, value } = await records.next().catch(malformed);
    return done ? undefined : value;
  };
  const { columns, faults } = columnsOf((await next()) ?? [], table, ignored);
  const rows = async function* (): AsyncGenerator<RawRow, void, undefined> {
    let sheetRow = 1;
    for (let record = await next(); record; record = await next()) {
      sheetRow++;
      const empty = record.length === 1 && record[0]?.trim() === '';
      if (!empty) yield { ...rowOf(record, columns, table), sheetRow };
    }
  };
  return { rows: rows(), faults };
}

/** The first of comma, semicolon and tab that the heading has. */
function delimiterOf(text: string): string {
  const heading = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  return [',', ';', '\t'].find((delimiter) => heading.includes(delimiter)) ?? ',';
}

function malformed(error: CsvError): never {
  // The heading is a record too.
  const row = Number(error['records']);
  throw new ApiError('IMPORT_INVALID', 'The text cannot be read as CSV.', [
    {
      pointer: '',
      code: 'CSV_MALFORMED',
      message: error.message.charAt(0).toLowerCase() + error.message.slice(1),
      help: 'mend the quotes there; a quote inside a quoted cell is written twice',
      ...(row > 0 && { row, sheet_row: row + 1 }),
    },
  ]);
}

/** Columns by the heading, or the problem with one that is missing or here twice; those that nobody knows are told and left out. */
function columnsOf(headings: readonly string[], table: Table, ignored: readonly string[]): { columns: Column[]; faults: Fault[] } {
  const fault = (column: string, code: string, message: string, help: string): Fault => ({ pointer: '', code, message, help, column });
  const leave = new Set(ignored.map(plain));
  const columns = headings.map((heading) => columnOf(heading, table, leave));
  const unknown = columns.flatMap(({ heading, is }) =>
    is === 'left out' && !leave.has(plain(heading))
      ? fault(heading, 'COLUMN_UNKNOWN', `there is no column \`${heading}\``, unknownHelp(heading, table))
      : [],
  );
  const named = columns.filter(({ is }) => is !== 'left out').map(({ heading, name, place }) => ({ heading, key: `${name}.${place}` }));
  const keys = named.map(({ key }) => key);
  const twice = named
    .filter(({ key }, i) => keys.indexOf(key) < i)
    .map(({ heading }) => fault(heading, 'COLUMN_TWICE', `the column \`${heading}\` is here twice`, 'keep one of the two'));
  const missing = table.needed
    .filter((needed) => !columns.some(({ name, is }) => is === 'own' && name === needed))
    .map((needed) => fault(needed, 'COLUMN_MISSING', `the column \`${needed}\` is missing`, 'add it'));
  if (twice.length + missing.length > 0)
    throw new ApiError('IMPORT_INVALID', 'The heading of the table cannot be taken.', [...unknown, ...twice, ...missing]);
  return { columns, faults: unknown };
}

const unknownHelp = (heading: string, { own, names }: Table): string =>
  `${suggest(nameIn(heading), [...own, ...names])} To leave the column out, send \`ignore=${encodeURIComponent(heading.trim())}\``;

/** A heading's name as names are written here: `Overall Diameter (mm)` is `overall_diameter`. */
const nameIn = (heading: string): string => plain(HEADING.exec(heading)?.[1] ?? heading);
const plain = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, '_');

function columnOf(heading: string, { own, names, places }: Table, leave: ReadonlySet<string>): Column {
  const title = nameIn(heading);
  const unit = HEADING.exec(heading)?.[2];
  if (leave.has(plain(heading)) || leave.has(title)) return { heading, name: title, is: 'left out' };
  if (own.includes(title)) return { heading, name: title, is: 'own' };
  const point = places ? title.indexOf('.') : -1;
  const [name, at] = point < 0 ? [title] : [title.slice(0, point), title.slice(point + 1)];
  // Places are written with a dash.
  const place = at?.replaceAll('_', '-');
  if (!names.has(name as string)) return { heading, name: title, is: 'left out' };
  return { heading, name: name as string, is: 'value', ...(place !== undefined && { place }), ...(unit !== undefined && { unit }) };
}

function rowOf(record: readonly string[], columns: readonly Column[], { field }: Table): RawRow {
  const columnAt = (pointer: string): string => {
    const [, top, name, place] = pointer.split('/').map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
    const found = columns.find((column) =>
      column.is === 'own'
        ? column.name === top
        : top === field && column.name === name && (column.place === undefined || column.place === place),
    );
    return found?.heading ?? name ?? top ?? '';
  };
  if (record.length !== columns.length)
    return {
      entry: undefined,
      fault: {
        code: 'ROW_LENGTH',
        message: `this row has ${record.length} cells and the heading ${columns.length}`,
        help: 'put a cell that holds the delimiter in quotes',
      },
      columnOf: columnAt,
    };
  const entry: Record<string, unknown> = {};
  const values: Record<string, unknown> = Object.create(null);
  for (const [i, { name, place, unit, heading, is }] of columns.entries()) {
    const cell = (record[i] as string).trim();
    if (cell === '' || is === 'left out') continue;
    if (cell.includes('\0')) return { entry: undefined, fault: zeroByte(heading), columnOf: columnAt };
    if (is === 'own') entry[name] = cell;
    else if (place === undefined) values[name] = withUnit(cell, unit);
    else values[name] = { ...(values[name] as object | undefined), [place]: withUnit(cell, unit) };
  }
  return { entry: { ...entry, [field]: values }, columnOf: columnAt };
}

const zeroByte = (column: string): Omit<Fault, 'row' | 'pointer'> => ({
  code: 'TEXT_WRONG',
  message: 'there is a zero byte in this cell',
  help: 'leave it out',
  column,
});

/** A bare number takes the heading's unit, and so does a bare tolerance behind it. */
function withUnit(cell: string, unit: string | undefined): string {
  const [, value, plusMinus] = unit === undefined ? [] : (BARE.exec(cell) ?? []);
  if (value === undefined) return cell;
  return plusMinus === undefined ? `${value} ${unit}` : `${value} ${unit} ± ${plusMinus} ${unit}`;
}
