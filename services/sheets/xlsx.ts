/**
 * One sheet of a workbook, read row by row and written again with our cells behind each row. What comes back is that sheet with its
 * values, their formats and the widths of its columns; formulas come back as the values they had, and everything that could run,
 * fetch or point elsewhere stays behind.
 */
import type { Readable } from 'node:stream';
import { type AddedCell, bounded, SheetRefused, type TableReader, type TableRow } from './table.ts';
import { columnLetters, columnNumber, escapeXml, inlineText, number } from './xlsx-cells.ts';
import { openPackage, type Package, readXml, relationshipsOf, scanXml } from './xlsx-package.ts';
import { packWorkbook } from './xlsx-write.ts';

interface Found {
  readonly name: string;
  readonly part: string;
  readonly date1904: boolean;
  readonly strings: readonly string[];
  /** Parts by what they are, where the workbook has them. */
  readonly parts: ReadonlyMap<string, string>;
}

/** Opens the sheet of that name, or the first that is not hidden. Throws `SheetRefused` with the reason for what is not taken. */
export async function openXlsx(file: string, sheet?: string): Promise<TableReader> {
  const from = await openPackage(file);
  try {
    const found = await findSheet(from, sheet);
    return {
      form: 'xlsx',
      rows: () => bounded(tableRows(from, found)),
      answered: (width, added) => answered(from, found, width, added),
      close: async () => from.close(),
    };
  } catch (error) {
    from.close();
    throw error;
  }
}

async function findSheet(from: Package, wanted: string | undefined): Promise<Found> {
  if (from.has('mimetype') && from.has('content.xml'))
    throw new SheetRefused('XLSX_MALFORMED', 'this is an OpenDocument file', 'save it as .xlsx or CSV');
  await refuseRisks(from);
  const workbook = resolve(
    '',
    (await relationshipsOf(from, '_rels/.rels')).find(({ type }) => type === 'officeDocument')?.target ?? 'xl/workbook.xml',
  );
  const folder = workbook.slice(0, workbook.lastIndexOf('/') + 1);
  const sheets: { name: string; id: string; hidden: boolean }[] = [];
  let date1904 = false;
  await scanXml(from, workbook, {
    open: (tag, attributes) => {
      if (tag === 'workbookPr') date1904 = /^(1|true)$/.test(attributes['date1904'] ?? '');
      if (tag !== 'sheet') return;
      const id = Object.entries(attributes).find(([name]) => name.endsWith(':id'))?.[1] ?? '';
      sheets.push({ name: attributes['name'] ?? '', id, hidden: (attributes['state'] ?? 'visible') !== 'visible' });
    },
  });
  const relationships = await relationshipsOf(from, `${folder}_rels/${workbook.slice(folder.length)}.rels`);
  const chosen = wanted === undefined ? (sheets.find(({ hidden }) => !hidden) ?? sheets[0]) : sheets.find(({ name }) => name === wanted);
  const target = relationships.find(({ id }) => id === chosen?.id);
  if (!chosen || !target || target.type !== 'worksheet')
    throw new SheetRefused(
      'SHEET_MISSING',
      wanted === undefined ? 'the workbook has no sheet' : `the workbook has no sheet \`${wanted}\``,
      sheets.length > 0 ? `it has ${sheets.map(({ name }) => `\`${name}\``).join(', ')}` : 'send one with a table in it',
    );
  const parts = new Map(relationships.map(({ type, target: to }) => [type, resolve(folder, to)]));
  for (const type of ['styles', 'theme']) {
    const part = parts.get(type);
    if (part !== undefined && from.has(part)) await scanXml(from, part);
  }
  const shared = parts.get('sharedStrings');
  const strings = shared !== undefined && from.has(shared) ? await sharedStrings(from, shared) : [];
  return { name: chosen.name, part: resolve(folder, target.target), date1904, strings, parts };
}

const resolve = (folder: string, target: string): string => (target.startsWith('/') ? target.slice(1) : `${folder}${target}`);

/** A link in a cell to a page is left behind; any other relation to something outside is refused. */
async function refuseRisks(from: Package): Promise<void> {
  await scanXml(from, '[Content_Types].xml', {
    open: (_tag, { ContentType = '' }) => {
      if (/macroEnabled/i.test(ContentType))
        throw new SheetRefused('XLSX_MACROS', 'the workbook is refused: it is meant for macros', 'save it as .xlsx');
    },
  });
  for (const part of from.parts.filter((name) => name.endsWith('.rels')))
    for (const { type, target, external } of await relationshipsOf(from, part))
      if (external && type !== 'hyperlink')
        throw new SheetRefused(
          'XLSX_EXTERNAL',
          `the workbook is refused: it has a ${type} outside it (\`${target.slice(0, 80)}\`)`,
          'save it without, as .xlsx or CSV',
        );
}

/** The texts that cells share, without the readings that East Asian texts carry. */
async function sharedStrings(from: Package, part: string): Promise<string[]> {
  const strings: string[] = [];
  let [text, taking, aside] = ['', false, 0];
  await scanXml(from, part, {
    open: (tag) => {
      if (tag === 'si') text = '';
      if (tag === 'rPh') aside++;
      taking = tag === 't' && aside === 0;
    },
    text: (piece) => {
      if (taking) text += piece;
    },
    close: (tag) => {
      taking = false;
      if (tag === 'rPh') aside--;
      if (tag === 'si') strings.push(text);
    },
  });
  return strings;
}

interface SheetCell {
  readonly column: number;
  readonly style: string | undefined;
  readonly type: string;
  readonly value: string;
}

interface SheetRow {
  readonly n: number;
  readonly attributes: Readonly<Record<string, string>>;
  readonly cells: readonly SheetCell[];
}

type Piece = { readonly is: 'row'; readonly row: SheetRow } | { readonly is: 'before' | 'after'; readonly xml: string };

/** Of what stands round the rows; the rest holds formulas, links or drawings. */
const KEPT = new Set(['sheetFormatPr', 'cols', 'sheetViews', 'mergeCells', 'pageMargins']);
/** The last row that a sheet of the format can have (ECMA-376, as spreadsheets keep it; from memory). */
const MOST_ROW_NUMBER = 1_048_576;
const ROW_KEPT = ['s', 'customFormat', 'ht', 'hidden', 'customHeight', 'outlineLevel', 'collapsed'];

/** The sheet in pieces: rows, and what is kept from before and after them. */
async function* pieces(from: Package, part: string): AsyncGenerator<Piece, void, undefined> {
  const ready: Piece[] = [];
  const path: string[] = [];
  let kept: { xml: string; readonly root: string } | undefined;
  let past = false;
  let row: { n: number; attributes: Record<string, string>; cells: SheetCell[] } | undefined;
  let cell: { column: number; style: string | undefined; type: string; value: string } | undefined;
  let taking = false;
  let last = 0;
  const reading = readXml(from, part, {
    open: (tag, attributes) => {
      path.push(tag);
      if (path.length === 2 && KEPT.has(tag)) kept = { xml: '', root: tag };
      if (kept) kept.xml += `<${tag}${written(attributes)}>`;
      if (tag === 'row') {
        const n = Number(attributes['r'] ?? last + 1);
        if (!(Number.isInteger(n) && n > last && n <= MOST_ROW_NUMBER))
          throw new SheetRefused(
            'XLSX_MALFORMED',
            Number.isInteger(n) && n <= MOST_ROW_NUMBER
              ? `row ${n} comes after row ${last}`
              : `there can be no row \`${String(attributes['r']).slice(0, 40)}\``,
            'open the workbook in a spreadsheet and save it again',
          );
        last = n;
        row = { n, attributes, cells: [] };
      } else if (tag === 'c' && row) {
        const column = attributes['r'] === undefined ? (row.cells.at(-1)?.column ?? 0) + 1 : columnNumber(attributes['r']);
        cell = { column, style: attributes['s'], type: attributes['t'] ?? 'n', value: '' };
      }
      taking = cell !== undefined && (tag === 'v' || (tag === 't' && !path.includes('rPh')));
    },
    text: (text) => {
      if (taking && cell) cell.value += text;
    },
    close: (tag) => {
      path.pop();
      taking = false;
      if (kept) {
        kept.xml += `</${tag}>`;
        if (path.length === 1) {
          ready.push({ is: past ? 'after' : 'before', xml: kept.xml });
          kept = undefined;
        }
      }
      if (tag === 'c' && row && cell) {
        row.cells.push(cell);
        cell = undefined;
      } else if (tag === 'row' && row) {
        ready.push({ is: 'row', row });
        row = undefined;
      } else if (tag === 'sheetData') past = true;
    },
  });
  for await (const _ of reading) yield* ready.splice(0);
}

/** Attributes of the main namespace; the others belong to extensions that are left behind. */
const written = (attributes: Readonly<Record<string, string>>): string =>
  Object.entries(attributes)
    .filter(([name]) => !name.includes(':') && name !== 'xmlns')
    .map(([name, value]) => ` ${name}="${escapeXml(value)}"`)
    .join('');

async function* tableRows(from: Package, { part, strings }: Found): AsyncGenerator<TableRow, void, undefined> {
  for await (const piece of pieces(from, part)) {
    if (piece.is !== 'row') continue;
    const { n, cells } = piece.row;
    const texts: string[] = [];
    for (const cell of cells) texts[cell.column - 1] = textOf(cell, strings);
    yield { n, cells: Array.from(texts, (text) => text ?? '') };
  }
}

function textOf({ type, value }: SheetCell, strings: readonly string[]): string {
  switch (type) {
    case 's':
      return strings[Number(value)] ?? '';
    case 'b':
      return value === '1' ? 'yes' : 'no';
    case 'n':
      return value.trim() === '' || Number.isNaN(Number(value)) ? value.trim() : number(Number(value));
    default:
      return value;
  }
}

async function* answered(
  from: Package,
  found: Found,
  width: number,
  added: (n: number) => Promise<readonly AddedCell[] | undefined>,
): AsyncGenerator<Uint8Array, void, undefined> {
  const copied = (type: string): (() => Promise<Readable>) | undefined => {
    const part = found.parts.get(type);
    return part !== undefined && from.has(part) ? () => from.bytes(part) : undefined;
  };
  const theme = found.parts.get('theme');
  const [styles, shared] = [copied('styles'), copied('sharedStrings')];
  const look = theme !== undefined && !from.has(theme.replace(/([^/]*)$/, '_rels/$1.rels')) ? copied('theme') : undefined;
  yield* packWorkbook({
    name: found.name,
    date1904: found.date1904,
    sheet: sheetXml(from, found, width, added),
    ...(styles && { styles }),
    ...(shared && { sharedStrings: shared }),
    ...(look && { theme: look }),
  });
}

async function* sheetXml(
  from: Package,
  { part }: Found,
  width: number,
  added: (n: number) => Promise<readonly AddedCell[] | undefined>,
): AsyncGenerator<string, void, undefined> {
  let began = false;
  const after: string[] = [];
  const before: string[] = [];
  let text = '';
  for await (const piece of pieces(from, part)) {
    if (piece.is !== 'row') {
      (piece.is === 'before' ? before : after).push(piece.xml);
      continue;
    }
    if (!began) text += `${before.join('')}<sheetData>`;
    began = true;
    text += rowXml(piece.row, width, await added(piece.row.n));
    if (text.length > PIECE) {
      yield text;
      text = '';
    }
  }
  if (!began) text += `${before.join('')}<sheetData>`;
  yield `${text}</sheetData>${after.join('')}`;
}

const PIECE = 64 << 10;

function rowXml({ n, attributes, cells }: SheetRow, width: number, ours: readonly AddedCell[] | undefined): string {
  const kept = ROW_KEPT.map((name) => (attributes[name] === undefined ? '' : ` ${name}="${escapeXml(attributes[name])}"`)).join('');
  const theirs = cells.map((cell) => cellXml(cell, n)).join('');
  const added = (ours ?? []).map((cell, i) => addedXml(cell, `${columnLetters(width + i + 1)}${n}`)).join('');
  return `<row r="${n}"${kept}>${theirs}${added}</row>`;
}

/** A formula's cell has the value it had; nothing is computed when the answer is opened. */
function cellXml({ column, style, type, value }: SheetCell, n: number): string {
  const at = `<c r="${columnLetters(column)}${n}"${style === undefined ? '' : ` s="${escapeXml(style)}"`}`;
  if (value === '') return `${at}/>`;
  if (type === 'inlineStr' || type === 'str') return `${at} t="inlineStr">${inlineText(value)}</c>`;
  return `${at}${type === 'n' ? '' : ` t="${escapeXml(type)}"`}><v>${escapeXml(value)}</v></c>`;
}

const addedXml = (cell: AddedCell, at: string): string =>
  cell === null ? '' : typeof cell === 'number' ? `<c r="${at}"><v>${cell}</v></c>` : `<c r="${at}" t="inlineStr">${inlineText(cell)}</c>`;
