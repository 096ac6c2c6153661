/**
 * The package of a workbook (ECMA-376: a zip of XML parts), opened with nothing believed. Its directory is read and judged before
 * anything is inflated, each part is inflated only as far as it claimed, and what could run or fetch something is refused with the reason.
 */
import type { Readable } from 'node:stream';
import { promisify } from 'node:util';
import { type SaxesAttributePlain, SaxesParser } from 'saxes';
import { type Entry, type Options, open, type ZipFile } from 'yauzl';
import { SheetRefused } from './table.ts';

export const MOST_PARTS = 1000;
export const MOST_INFLATED = 512 << 20;
/** Of parts that are held in memory: the texts of cells, and the parts that say where things are. */
export const MOST_HELD = 64 << 20;
/** What sheets of a hundred thousand rows that are all alike come to is about 60. */
export const MOST_RATIO = 200;
const RATIO_FROM = 4 << 20;
/** Between two tags: a cell holds less. */
const LONGEST_TEXT = 1 << 20;

export interface Package {
  readonly parts: readonly string[];
  has(part: string): boolean;
  /** The part's bytes, as they are inflated. */
  bytes(part: string): Promise<Readable>;
  close(): void;
}

const openFile = promisify<string, Options, ZipFile>(open);

export async function openPackage(file: string): Promise<Package> {
  const zip = await openFile(file, { autoClose: false, lazyEntries: true, strictFileNames: true, validateEntrySizes: true }).catch(noZip);
  try {
    const entries = await directory(zip);
    judge([...entries.values()]);
    return {
      parts: [...entries.keys()],
      has: (part) => entries.has(part),
      bytes: (part) => bytesOf(zip, entries.get(part), part),
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw error;
  }
}

const WORKBOOKS = 'send a workbook saved as .xlsx, or a CSV';

function noZip(error: Error): never {
  throw new SheetRefused('XLSX_MALFORMED', `the file cannot be read as a workbook: ${error.message}`, WORKBOOKS);
}

function directory(zip: ZipFile): Promise<Map<string, Entry>> {
  if (zip.entryCount > MOST_PARTS)
    throw new SheetRefused('XLSX_BOMB', `the workbook claims ${zip.entryCount} parts; at most ${MOST_PARTS} are taken`, WORKBOOKS);
  return new Promise((done, failed) => {
    const entries = new Map<string, Entry>();
    zip.on('error', (error: Error) => failed(refusal(error)));
    zip.on('end', () => done(entries));
    zip.on('entry', (entry: Entry) => {
      if (entries.has(entry.fileName)) failed(new SheetRefused('XLSX_BOMB', `the part \`${entry.fileName}\` is there twice`, WORKBOOKS));
      entries.set(entry.fileName, entry);
      zip.readEntry();
    });
    zip.readEntry();
  });
}

const refusal = (error: Error): SheetRefused =>
  error instanceof SheetRefused ? error : new SheetRefused('XLSX_MALFORMED', `the workbook cannot be read: ${error.message}`, WORKBOOKS);

/** What no table of builds needs, by the part that holds it. */
const REFUSED: readonly (readonly [RegExp, string, string])[] = [
  [/vbaProject|vbaData|^xl\/(macrosheets|dialogsheets|intlmacrosheets)\//i, 'XLSX_MACROS', 'it has macros'],
  [/^xl\/externalLinks\//i, 'XLSX_EXTERNAL', 'it has links to other files'],
  [/^xl\/(connections\.xml|queryTables\/|model\/|customData\/)/i, 'XLSX_EXTERNAL', 'it fetches data from elsewhere'],
  [/^xl\/(embeddings|activeX|ctrlProps)\//i, 'XLSX_EMBEDDED', 'it has other documents or controls in it'],
  [/\.(zip|xls[xmb]?|docx?|docm|pptx?|7z|gz|rar|bin\.zip|exe|dll|js|vbs)$/i, 'XLSX_NESTED', 'it has other files packed in it'],
];

function judge(entries: readonly Entry[]): void {
  for (const { fileName } of entries)
    for (const [form, code, what] of REFUSED)
      if (form.test(fileName))
        throw new SheetRefused(code, `the workbook is refused: ${what} (\`${fileName}\`)`, 'save it without, as .xlsx or CSV');
  for (const { fileName, generalPurposeBitFlag } of entries)
    if (generalPurposeBitFlag & 1) throw new SheetRefused('XLSX_LOCKED', `\`${fileName}\` is encrypted`, 'save it without a password');
  const inflated = entries.reduce((sum, entry) => sum + entry.uncompressedSize, 0);
  const packed = entries.reduce((sum, entry) => sum + entry.compressedSize, 0);
  if (inflated > MOST_INFLATED)
    throw new SheetRefused(
      'XLSX_BOMB',
      `the workbook would unpack to ${megabytes(inflated)} MB; at most ${megabytes(MOST_INFLATED)} MB are taken`,
      'send it in parts, or as CSV',
    );
  if (inflated > RATIO_FROM && inflated / Math.max(packed, 1) > MOST_RATIO)
    throw new SheetRefused(
      'XLSX_BOMB',
      `the workbook would unpack to ${Math.round(inflated / Math.max(packed, 1))} times its size; at most ${MOST_RATIO} times is taken`,
      'send it as CSV',
    );
  // Parts that lie over one another inflate the same bytes again and again.
  const places = [...entries].sort((a, b) => a.relativeOffsetOfLocalHeader - b.relativeOffsetOfLocalHeader);
  for (const [i, entry] of places.entries()) {
    const next = places[i + 1];
    if (next && entry.relativeOffsetOfLocalHeader + entry.compressedSize + LOCAL_HEADER > next.relativeOffsetOfLocalHeader)
      throw new SheetRefused('XLSX_BOMB', `the parts \`${entry.fileName}\` and \`${next.fileName}\` lie over one another`, WORKBOOKS);
  }
}

const LOCAL_HEADER = 30;
const megabytes = (bytes: number): number => Math.round(bytes / 1e6);

function bytesOf(zip: ZipFile, entry: Entry | undefined, part: string): Promise<Readable> {
  if (!entry) throw new SheetRefused('XLSX_MALFORMED', `the workbook has no part \`${part}\``, WORKBOOKS);
  return new Promise((done, failed) =>
    zip.openReadStream(entry, (error, stream) => (error ? failed(refusal(error)) : done(stream as Readable))),
  );
}

export interface XmlListener {
  open?(name: string, attributes: Readonly<Record<string, string>>): void;
  text?(text: string): void;
  close?(name: string): void;
}

/** Names without their prefix: some programs write `x:row`. */
const local = (name: string): string => name.slice(name.indexOf(':') + 1);

/** Reads a part as XML, piece by piece; gives control back after each, so that what was found can be taken. */
export async function* readXml(
  from: Package,
  part: string,
  listener: XmlListener,
  most = MOST_INFLATED,
): AsyncGenerator<void, void, undefined> {
  const parser = new SaxesParser({ xmlns: false, fragment: false, position: false });
  const stop = (error: Error): never => {
    throw error instanceof SheetRefused
      ? error
      : new SheetRefused('XLSX_MALFORMED', `\`${part}\` is no good XML: ${error.message}`, WORKBOOKS);
  };
  parser.on('error', stop);
  // No part of a workbook has a document type; with one come entities that unfold without end or name files.
  parser.on('doctype', () =>
    stop(new SheetRefused('XLSX_DTD', `\`${part}\` declares a document type, which no workbook needs`, WORKBOOKS)),
  );
  let sinceTag = 0;
  parser.on('opentag', (tag) => {
    sinceTag = 0;
    listener.open?.(local(tag.name), tag.attributes as Record<string, string & SaxesAttributePlain>);
  });
  if (listener.text) {
    parser.on('text', (text) => listener.text?.(text));
    parser.on('cdata', (text) => listener.text?.(text));
  }
  parser.on('closetag', (tag) => {
    sinceTag = 0;
    listener.close?.(local(tag.name));
  });
  const decoder = new TextDecoder('utf-8', { fatal: true });
  const stream = await from.bytes(part);
  let read = 0;
  try {
    for await (const bytes of stream) {
      read += (bytes as Buffer).length;
      if (read > most)
        throw new SheetRefused('XLSX_BOMB', `\`${part}\` is larger than ${megabytes(most)} MB`, 'send it in parts, or as CSV');
      sinceTag += (bytes as Buffer).length;
      parser.write(decoder.decode(bytes as Buffer, { stream: true }));
      if (sinceTag > LONGEST_TEXT) throw new SheetRefused('XLSX_BOMB', `\`${part}\` has a text longer than any cell holds`, WORKBOOKS);
      yield;
    }
    parser.write(decoder.decode()).close();
    yield;
  } catch (error) {
    stop(error as Error);
  } finally {
    stream.destroy();
  }
}

/** The whole of a small part. */
export async function scanXml(from: Package, part: string, listener: XmlListener = {}, most = MOST_HELD): Promise<void> {
  for await (const _ of readXml(from, part, listener, most));
}

export interface Relationship {
  readonly id: string;
  readonly type: string;
  readonly target: string;
  readonly external: boolean;
}

export async function relationshipsOf(from: Package, part: string): Promise<Relationship[]> {
  if (!from.has(part)) return [];
  const found: Relationship[] = [];
  await scanXml(from, part, {
    open: (name, { Id = '', Type = '', Target = '', TargetMode = '' }) => {
      if (name === 'Relationship')
        found.push({ id: Id, type: Type.split('/').at(-1) ?? '', target: Target, external: TargetMode === 'External' });
    },
  });
  return found;
}
