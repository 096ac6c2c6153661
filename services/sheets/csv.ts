/**
 * Tables of comma-separated values (RFC 4180, and what spreadsheets make of it: semicolons, tabs, a byte order mark). A row comes back
 * with the bytes it came with, our cells behind it; only a row with a cell that could run as a formula is written anew.
 */
import { createReadStream } from 'node:fs';
import { CsvError, parse } from 'csv-parse';
import { harmlessInText, unquotedInText } from './harmless.ts';
import { type AddedCell, bounded, MOST_COLUMNS, SheetRefused, type TableReader, type TableRow } from './table.ts';

interface Dialect {
  readonly delimiter: string;
  readonly newline: string;
  readonly encoding: 'utf-8' | 'utf-16le';
  readonly mark: boolean;
}

const LONGEST_RECORD = 1 << 20;
const SNIFFED_BYTES = 64 << 10;

/** Reads the file as often as it is asked for rows; throws `SheetRefused` for what is no text. */
export async function openCsv(file: string): Promise<TableReader> {
  const dialect = dialectOf(await firstBytes(file));
  return {
    form: 'csv',
    rows: () => bounded(cellsOf(records(file, dialect))),
    answered: (width, added) => answered(records(file, dialect), dialect, width, added),
    close: async () => {},
  };
}

async function firstBytes(file: string): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of createReadStream(file, { end: SNIFFED_BYTES - 1 })) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}

function dialectOf(start: Buffer): Dialect {
  const wide = start[0] === 0xff && start[1] === 0xfe;
  const mark = wide || (start[0] === 0xef && start[1] === 0xbb && start[2] === 0xbf);
  const text = new TextDecoder(wide ? 'utf-16le' : 'utf-8').decode(start);
  const heading = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  const count = (delimiter: string): number => heading.split(delimiter).length;
  const [delimiter = ','] = [',', ';', '\t', '|'].sort((a, b) => count(b) - count(a));
  return { delimiter, newline: /\r\n|\n|\r/.exec(text)?.[0] ?? '\n', encoding: wide ? 'utf-16le' : 'utf-8', mark };
}

interface CsvRecord {
  readonly n: number;
  readonly cells: readonly string[];
  readonly raw: string;
}

type Parsed = { readonly record: string[]; readonly raw: string };

/**
 * What a piece of the text comes to is taken out whole before the next goes in. A stream that is read and filled at once is a list
 * without an end, of which the collector of young objects lets nothing go: a long file would be held until the heap is full.
 */
async function* records(file: string, { delimiter, encoding }: Dialect): AsyncGenerator<CsvRecord, void, undefined> {
  const parser = parse({
    delimiter,
    raw: true,
    relax_column_count: true,
    relax_quotes: true,
    skip_empty_lines: false,
    max_record_size: LONGEST_RECORD,
    record_delimiter: ['\r\n', '\n', '\r'],
  });
  // Told by whoever reads on.
  parser.on('error', () => {});
  let n = 0;
  const recordOf = ({ record, raw }: Parsed): CsvRecord => ({ n: ++n, cells: record, raw: raw.replace(/(?:\r\n|\n|\r)$/, '') });
  try {
    for await (const text of decoded(file, encoding)) {
      if (parser.destroyed) break;
      parser.write(text);
      for (let one = parser.read() as Parsed | null; one; one = parser.read() as Parsed | null) yield recordOf(one);
    }
    if (!parser.destroyed) parser.end();
    for await (const one of parser as AsyncIterable<Parsed>) yield recordOf(one);
  } catch (error) {
    throw refusalOf(error, n + 1);
  } finally {
    parser.destroy();
  }
}

/** Strictly: bytes that are no text would come back as other bytes. */
async function* decoded(file: string, encoding: Dialect['encoding']): AsyncGenerator<string, void, undefined> {
  const decoder = new TextDecoder(encoding, { fatal: true });
  const decode = (bytes?: Uint8Array): string => {
    try {
      return decoder.decode(bytes, { stream: bytes !== undefined });
    } catch {
      throw new SheetRefused('SHEET_NOT_TEXT', 'the text is not UTF-8', 'save it as CSV UTF-8, or as .xlsx');
    }
  };
  for await (const bytes of createReadStream(file)) {
    const text = decode(bytes as Buffer);
    if (text.includes('\0')) throw new SheetRefused('SHEET_NOT_TEXT', 'there are zero bytes in it', 'save it as CSV UTF-8, or as .xlsx');
    yield text;
  }
  yield decode();
}

function refusalOf(error: unknown, row: number): unknown {
  if (!(error instanceof CsvError)) return error;
  const { message } = error;
  return new SheetRefused(
    'CSV_MALFORMED',
    `row ${row}: ${message.charAt(0).toLowerCase()}${message.slice(1)}`,
    'mend the quotes there; a quote inside a quoted cell is written twice',
    row,
  );
}

async function* cellsOf(found: AsyncIterable<CsvRecord>): AsyncGenerator<TableRow, void, undefined> {
  for await (const { n, cells } of found) yield { n, cells: cells.map(unquotedInText) };
}

const PIECE = 64 << 10;

async function* answered(
  found: AsyncIterable<CsvRecord>,
  { delimiter, newline, encoding, mark }: Dialect,
  width: number,
  added: (n: number) => Promise<readonly AddedCell[] | undefined>,
): AsyncGenerator<Uint8Array, void, undefined> {
  const written = (cell: string): string => writeCell(cell, delimiter);
  let text = mark ? '\uFEFF' : '';
  for await (const { n, cells, raw } of found) {
    const ours = await added(n);
    const safe = cells.map(harmlessInText);
    const theirs = safe.some((cell, i) => cell !== cells[i]) ? safe.map(written).join(delimiter) : raw;
    const gap = ours && width > cells.length ? delimiter.repeat(Math.min(width, MOST_COLUMNS) - cells.length) : '';
    text += theirs + (ours ? gap + ours.map((cell) => delimiter + written(textOf(cell))).join('') : '') + newline;
    if (text.length > PIECE) {
      yield Buffer.from(text, encoding);
      text = '';
    }
  }
  yield Buffer.from(text, encoding);
}

const textOf = (cell: AddedCell): string => (typeof cell === 'string' ? harmlessInText(cell) : cell === null ? '' : String(cell));

const writeCell = (text: string, delimiter: string): string =>
  text.includes(delimiter) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
