/** Packs a workbook of one or more sheets, piece by piece; the same sheets give the same bytes. */
import { Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import { columnLetters, escapeXml, inlineText } from './xlsx-cells.ts';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';
const SHEETML = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
/** The least that programs ask for. */
const PLAIN_STYLES = `${XML}<styleSheet xmlns="${MAIN}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="1"><xf xfId="0"/></cellXfs></styleSheet>`;
/** Of no moment in particular, so that the bytes are the same whenever they are made. */
const MOMENT = new Date(Date.UTC(2000, 0, 1));

export interface Packed {
  readonly name: string;
  readonly date1904?: boolean;
  /** What stands inside `worksheet`. */
  readonly sheet: AsyncIterable<string>;
  readonly styles?: () => Promise<Readable>;
  readonly sharedStrings?: () => Promise<Readable>;
  readonly theme?: () => Promise<Readable>;
}

export const packWorkbook = ({ name, sheet, date1904 = false, ...parts }: Packed): AsyncIterable<Uint8Array> =>
  pack([{ name, sheet }], { date1904, ...parts });

type Shared = Pick<Packed, 'styles' | 'sharedStrings' | 'theme' | 'date1904'>;

async function* pack(sheets: readonly Pick<Packed, 'name' | 'sheet'>[], shared: Shared): AsyncGenerator<Uint8Array, void, undefined> {
  const zip = new ZipFile();
  const options = { mtime: MOMENT, forceDosTimestamp: true };
  const text = (part: string, xml: string): void => zip.addBuffer(Buffer.from(XML + xml), part, options);
  const others = (
    [
      ['styles', 'styles'],
      ['sharedStrings', 'sharedStrings'],
      ['theme', 'theme/theme1'],
    ] as const
  ).filter(([type]) => type === 'styles' || shared[type] !== undefined);
  const ids = sheets.map((_, i) => `rId${i + 1}`);
  text(
    '[Content_Types].xml',
    `<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${SHEETML}.sheet.main+xml"/>${sheets
      .map((_, i) => `<Override PartName="/xl/worksheets/sheet${i + 1}.xml" ContentType="${SHEETML}.worksheet+xml"/>`)
      .join('')}${others
      .map(
        ([type, part]) =>
          `<Override PartName="/xl/${part}.xml" ContentType="${type === 'theme' ? 'application/vnd.openxmlformats-officedocument.theme+xml' : `${SHEETML}.${type}+xml`}"/>`,
      )
      .join('')}</Types>`,
  );
  text(
    '_rels/.rels',
    `<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
  );
  text(
    'xl/workbook.xml',
    `<workbook xmlns="${MAIN}" xmlns:r="${RELATIONS}"><workbookPr${shared.date1904 ? ' date1904="1"' : ''}/><sheets>${sheets
      .map(({ name }, i) => `<sheet name="${escapeXml(name)}" sheetId="${i + 1}" r:id="${ids[i]}"/>`)
      .join('')}</sheets><calcPr fullCalcOnLoad="1"/></workbook>`,
  );
  text(
    'xl/_rels/workbook.xml.rels',
    `<Relationships xmlns="${PACKAGE}/relationships">${sheets
      .map((_, i) => `<Relationship Id="${ids[i]}" Type="${RELATIONS}/worksheet" Target="worksheets/sheet${i + 1}.xml"/>`)
      .join('')}${others
      .map(([type, part], i) => `<Relationship Id="rId${sheets.length + i + 1}" Type="${RELATIONS}/${type}" Target="${part}.xml"/>`)
      .join('')}</Relationships>`,
  );
  for (const [type, part] of others) {
    const bytes = shared[type];
    if (bytes)
      zip.addReadStreamLazy(
        `xl/${part}.xml`,
        options,
        (done) =>
          void bytes().then(
            (stream) => done(null, stream),
            (error) => done(error, null as never),
          ),
      );
    else zip.addBuffer(Buffer.from(PLAIN_STYLES), `xl/${part}.xml`, options);
  }
  for (const [i, { sheet }] of sheets.entries())
    zip.addReadStreamLazy(`xl/worksheets/sheet${i + 1}.xml`, options, (done) =>
      done(null, Readable.from(inWorksheet(sheet), { objectMode: false })),
    );
  zip.end();
  // What goes wrong in a part is told by the zip, not by the stream it gives.
  const output = zip.outputStream as Readable;
  (zip as unknown as NodeJS.EventEmitter).on('error', (error) => output.destroy(error as Error));
  yield* output as AsyncIterable<Uint8Array>;
}

async function* inWorksheet(xml: AsyncIterable<string>): AsyncGenerator<Buffer, void, undefined> {
  yield Buffer.from(`${XML}<worksheet xmlns="${MAIN}">`);
  for await (const piece of xml) yield Buffer.from(piece);
  yield Buffer.from('</worksheet>');
}

/** A cell of a workbook made here: a text, a number, or a formula with the value it shows until it is computed. */
export type NewCell = string | number | null | { readonly formula: string; readonly shown?: string };

export interface NewSheet {
  readonly name: string;
  readonly rows: Iterable<readonly NewCell[]>;
  /** Of columns, in characters. */
  readonly widths?: readonly number[];
}

/** A workbook of our own, such as a sample. */
export const makeWorkbook = (sheets: readonly NewSheet[]): AsyncIterable<Uint8Array> =>
  pack(
    sheets.map(({ name, rows, widths = [] }) => ({ name, sheet: newSheet(rows, widths) })),
    {},
  );

async function* newSheet(rows: Iterable<readonly NewCell[]>, widths: readonly number[]): AsyncGenerator<string, void, undefined> {
  const cols = widths.map((width, i) => `<col min="${i + 1}" max="${i + 1}" width="${width}" customWidth="1"/>`).join('');
  yield `${cols ? `<cols>${cols}</cols>` : ''}<sheetData>`;
  let n = 0;
  for (const cells of rows) {
    n++;
    yield `<row r="${n}">${cells.map((cell, i) => newCell(cell, `${columnLetters(i + 1)}${n}`)).join('')}</row>`;
  }
  yield '</sheetData>';
}

function newCell(cell: NewCell, at: string): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return `<c r="${at}"><v>${cell}</v></c>`;
  if (typeof cell === 'string') return `<c r="${at}" t="inlineStr">${inlineText(cell)}</c>`;
  return `<c r="${at}" t="str"><f>${escapeXml(cell.formula)}</f><v>${escapeXml(cell.shown ?? '')}</v></c>`;
}
