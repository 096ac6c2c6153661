/** The small change of SpreadsheetML: references of columns, texts in XML, numbers as people read them. */
import { SheetRefused } from './table.ts';

/** `AB12` is in column 28. */
export function columnNumber(reference: string): number {
  const letters = /^[A-Z]{1,3}/.exec(reference)?.[0];
  if (letters === undefined)
    throw new SheetRefused('XLSX_MALFORMED', `\`${reference.slice(0, 20)}\` is no place of a cell`, 'save the workbook again');
  return [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
}

export function columnLetters(column: number): string {
  let letters = '';
  for (let left = column; left > 0; left = Math.floor((left - 1) / 26)) letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters;
  return letters;
}

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
// biome-ignore lint/suspicious/noControlCharactersInRegex: characters that XML has no way to write
const UNWRITABLE = /[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

export const escapeXml = (text: string): string => text.replace(UNWRITABLE, '').replace(/[&<>"]/g, (found) => ESCAPES[found] as string);

/** Always a text, whatever it starts with. */
export const inlineText = (text: string): string => `<is><t xml:space="preserve">${escapeXml(text)}</t></is>`;

/** Binary fractions are written with the fifteen digits that a spreadsheet keeps. */
export const number = (value: number): string => String(Number(value.toPrecision(15)));
