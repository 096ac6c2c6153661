/** Texts that a spreadsheet would take for a formula, made harmless: a leading apostrophe says that it is text. */
const TAKEN_FOR_FORMULA = /^[=+\-@\t\r]/;

export const harmless = (text: string): string => (TAKEN_FOR_FORMULA.test(text) ? `'${text}` : text);

/** One cell of CSV (RFC 4180). */
export function csvCell(value: string | number | boolean | null): string {
  if (value === null) return '';
  const text = typeof value === 'string' ? harmless(value) : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export const csvOf = (rows: readonly (readonly (string | number | boolean | null)[])[]): string =>
  rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
