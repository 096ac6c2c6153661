/**
 * Tables of parts and vehicles. The first row names the columns: those of the entry itself, then one for each attribute or quantity,
 * `mass` or `mass [kg]`. A unit in the heading is that of bare numbers below it; an empty cell says nothing.
 */
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
  columnOf(pointer: string): string;
}

interface Column {
  readonly heading: string;
  readonly name: string;
  readonly place?: string;
  readonly unit?: string;
  readonly own: boolean;
}

const HEADING = /^\s*([^[\]]+?)\s*(?:\[\s*([^[\]]+?)\s*\])?\s*$/;
const BARE = /^\s*([-+]?[\d.]+(?:e[-+]?\d+)?)\s*(?:(?:±|\+-|\+\/-)\s*([\d.]+))?\s*$/i;

/** Rows of the table as entries in the making; throws a problem for a heading or a text that cannot be read at all. */
export async function* readCsv(text: string, table: Table): AsyncGenerator<RawRow, void, undefined> {
  const options = { bom: true, delimiter: delimiterOf(text), relax_column_count: true, skip_empty_lines: true };
  const records = parse(text, options)[Symbol.asyncIterator]() as AsyncIterator<string[]>;
  const next = async (): Promise<string[] | undefined> => {
    const { done, value } = await records.next().catch(malformed);
    return done ? undefined : value;
  };
  const columns = columnsOf((await next()) ?? [], table);
  for (let record = await next(); record; record = await next()) yield rowOf(record, columns, table);
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
      ...(row > 0 && { row }),
    },
  ]);
}

function columnsOf(headings: readonly string[], table: Table): Column[] {
  const faults: Fault[] = [];
  const at = (column: string, code: string, message: string, help: string): void =>
    void faults.push({ pointer: '', code, message, help, column });
  const columns = headings.map((heading) => columnOf(heading, table));
  for (const { heading, name, own, place } of columns) {
    if (own) continue;
    if (!table.names.has(name) || (place !== undefined && !table.places))
      at(heading, 'COLUMN_UNKNOWN', `there is no column \`${heading}\``, suggest(name, [...table.own, ...table.names]));
  }
  const names = columns.map(({ name, place }) => `${name}.${place}`);
  for (const [i, { heading }] of columns.entries())
    if (names.indexOf(names[i] as string) < i)
      at(heading, 'COLUMN_TWICE', `the column \`${heading}\` is here twice`, 'keep one of the two');
  for (const needed of table.needed)
    if (!columns.some(({ name, own }) => own && name === needed))
      at(needed, 'COLUMN_MISSING', `the column \`${needed}\` is missing`, 'add it');
  if (faults.length > 0) throw new ApiError('IMPORT_INVALID', 'The heading of the table cannot be taken.', faults);
  return columns;
}

function columnOf(heading: string, { own, places }: Table): Column {
  const [, title = heading, unit] = HEADING.exec(heading) ?? [];
  if (own.includes(title)) return { heading, name: title, own: true };
  const point = places ? title.indexOf('.') : -1;
  const [name, place] = point < 0 ? [title] : [title.slice(0, point), title.slice(point + 1)];
  return { heading, name: name as string, own: false, ...(place !== undefined && { place }), ...(unit !== undefined && { unit }) };
}

function rowOf(record: readonly string[], columns: readonly Column[], { field }: Table): RawRow {
  const columnAt = (pointer: string): string => {
    const [, top, name, place] = pointer.split('/').map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
    const found = columns.find((column) =>
      column.own ? column.name === top : top === field && column.name === name && (column.place === undefined || column.place === place),
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
  for (const [i, { name, place, unit, own }] of columns.entries()) {
    const cell = (record[i] as string).trim();
    if (cell === '') continue;
    if (own) entry[name] = cell;
    else if (place === undefined) values[name] = withUnit(cell, unit);
    else values[name] = { ...(values[name] as object | undefined), [place]: withUnit(cell, unit) };
  }
  return { entry: { ...entry, [field]: values }, columnOf: columnAt };
}

/** A bare number takes the heading's unit, and so does a bare tolerance behind it. */
function withUnit(cell: string, unit: string | undefined): string {
  const [, value, plusMinus] = unit === undefined ? [] : (BARE.exec(cell) ?? []);
  if (value === undefined) return cell;
  return plusMinus === undefined ? `${value} ${unit}` : `${value} ${unit} ± ${plusMinus} ${unit}`;
}
