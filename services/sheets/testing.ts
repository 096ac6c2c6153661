/** Workbooks and tables for tests, the hostile ones among them. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ZipFile } from 'yazl';
import { HEADINGS_FILE, RULES_FOLDER } from '../paths.ts';
import { loadRules } from '../workshop/index.ts';
import { readHeadings } from './headings.ts';
import { openSheet } from './open-sheet.ts';
import type { AddedCell, TableRow } from './table.ts';
import { makeWorkbook, type NewSheet } from './xlsx-write.ts';

export const library = loadRules(RULES_FOLDER);
export const headings = readHeadings(HEADINGS_FILE, library);

export function fileOf(bytes: Uint8Array | string, name = 'sheet'): string {
  const path = join(mkdtempSync(join(tmpdir(), 'fettle-sheet-test-')), name);
  writeFileSync(path, bytes);
  return path;
}

export async function bytesOf(pieces: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(piece);
  return Buffer.concat(all);
}

export const workbookOf = (sheets: readonly NewSheet[]): Promise<Buffer> => bytesOf(makeWorkbook(sheets));

/** A zip with these parts, deflated. */
export function zipOf(parts: Readonly<Record<string, string | Buffer>>): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, content] of Object.entries(parts)) zip.addBuffer(Buffer.from(content), name, { mtime: new Date(0) });
  zip.end();
  return bytesOf(zip.outputStream as unknown as AsyncIterable<Uint8Array>);
}

export async function rowsOf(bytes: Uint8Array | string, sheet?: string): Promise<TableRow[]> {
  const table = await openSheet(fileOf(bytes), sheet);
  try {
    const rows: TableRow[] = [];
    for await (const row of table.rows()) rows.push(row);
    return rows;
  } finally {
    await table.close();
  }
}

/** The table with the same cells added to every row from one on. */
export async function withAdded(
  bytes: Uint8Array | string,
  width: number,
  added: (n: number) => readonly AddedCell[] | undefined,
): Promise<Buffer> {
  const table = await openSheet(fileOf(bytes));
  try {
    return await bytesOf(table.answered(width, async (n) => added(n)));
  } finally {
    await table.close();
  }
}

/** The least that makes a workbook, with any of its parts replaced or added. */
export const workbookParts = (more: Readonly<Record<string, string | Buffer>> = {}): Record<string, string | Buffer> => ({
  '[Content_Types].xml':
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
  '_rels/.rels':
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>',
  'xl/workbook.xml':
    '<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Builds" sheetId="1" r:id="rId1"/></sheets></workbook>',
  'xl/_rels/workbook.xml.rels':
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
  'xl/worksheets/sheet1.xml': sheetXml('<row r="1"><c r="A1" t="inlineStr"><is><t>build</t></is></c></row>'),
  ...more,
});

export const sheetXml = (rows: string): string =>
  `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${rows}</sheetData></worksheet>`;
