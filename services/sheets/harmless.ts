/**
 * Cells that a spreadsheet would take for a formula. A file of comma-separated values has no types: a program that opens it decides
 * by the first character, so a text that somebody typed into a build can run on the machine of whoever opens the answer.
 */

/** Also behind spaces, which some programs strip, and in the wide forms that some fold. */
const STARTS_FORMULA = /^[\s\p{Cf}]*[=+\-@\t\r\n＝＋－＠]|^[\t\r]/u;
const PLAIN_NUMBER = /^\s*[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?\s*$/i;
/** Ours, or that of a spreadsheet: the cell is a text. */
const QUOTED = /^'(?=[\s\p{Cf}]*[=+\-@\t\r\n＝＋－＠])/u;

export const isHarmful = (text: string): boolean => STARTS_FORMULA.test(text) && !PLAIN_NUMBER.test(text);

/** The text with an apostrophe before it where it could run; a plain number, such as an offset of -10, stays one. */
export const harmless = (text: string): string => (isHarmful(text) ? `'${text}` : text);

/** What was meant by a cell that came back harmless, or that a spreadsheet marked as text. */
export const unquoted = (text: string): string => text.replace(QUOTED, '');

/** Where another program may part a line of this file into cells: it need not take the separator that the file was written with. */
const INSIDE = /(?<=^|[;,\t|\r\n])((?:(?![\t\r\n])[\s"])*)(?=[=+\-@＝＋－＠]([^;,\t|\r\n]*))/gu;
const INSIDE_QUOTED = /'(?<=(?:^|[;,\t|\r\n])[\s"]*')(?=[=+\-@＝＋－＠])/gu;

/** A cell of a file of separated values, harmless whatever separator it is opened with; `-10` stays a number. */
export const harmlessInText = (text: string): string =>
  harmless(text).replace(INSIDE, (space: string, _all: string, rest: string, at: number, whole: string) =>
    PLAIN_NUMBER.test(`${whole[at + space.length]}${rest}`.replace(/"+$/, '')) ? space : `${space}'`,
  );

/** What was meant by a cell of such a file that came back harmless. */
export const unquotedInText = (text: string): string => unquoted(text).replace(INSIDE_QUOTED, '');
