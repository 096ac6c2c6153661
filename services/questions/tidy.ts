/**
 * What was typed, made plain to read and harmless to say again: no control, joining or direction-turning characters, and in
 * what is echoed no mention, link or markup.
 */

const FRACTIONS: Readonly<Record<string, string>> = { '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8' };

/** One line of lower-case text with one way of writing quotes, dashes, fractions and crosses. */
export const plainText = (typed: string): string =>
  typed
    .replace(/[½¼¾⅛⅜⅝⅞]/gu, (fraction) => ` ${FRACTIONS[fraction]} `)
    .normalize('NFKC')
    .replace(/[\t\n\v\f\r\u0085\u2028\u2029]+/gu, ' ; ')
    // Formats (joiners, direction marks), private and unassigned characters say nothing; controls part words.
    .replace(/\p{Cc}/gu, ' ')
    .replace(/[\p{Cf}\p{Co}\p{Cs}\p{Cn}\p{M}]/gu, '')
    .replace(/[“”„″〃]/gu, '"')
    .replace(/[‘’‚′`´]/gu, "'")
    .replace(/''/gu, '"')
    .replace(/[‐‑‒–—―−]/gu, '-')
    .replace(/[×✕✖]/gu, 'x')
    .replace(/[-=]>|[→⇒➜]/gu, ' to ')
    // `ET: 0` and `lift = 3"` say what `ET 0` does; `2 in. of lift` ends no sentence.
    .replace(/(?<=^|[\s,;(/])(\p{L}{1,20}) ?[:=] ?(?=[-+]?\d)/gu, '$1 ')
    .replace(/(\d ?(?:in|ft|lbs?|mm|kg))\.(?=\s)/giu, '$1')
    .replace(/\s+/gu, ' ')
    .trim()
    .toLowerCase();

/** As within a sentence: `Mid-size pickup` but not `ABS`. */
export const lowerFirst = (text: string): string => text.replace(/^\p{Lu}(?!\p{Lu})/u, (letter) => letter.toLowerCase());

const LONGEST_ECHO = 40;

/** Words of the asker's that are said again: letters, digits and the signs of sizes, with no name to ping and no address to follow. */
export function echoOf(words: string): string {
  const kept = unlinked(words.normalize('NFKC').replace(/[^\p{L}\p{N} .,'"+%/-]/gu, ' '))
    .replace(/\s+/gu, ' ')
    .replace(/^[ .,/-]+(?=\p{L})/u, '')
    .trim();
  const letters = [...kept];
  return letters.length > LONGEST_ECHO ? `${letters.slice(0, LONGEST_ECHO - 1).join('')}…` : kept;
}

/** Chat programs make links of `name.tld` and of `//`: dots and strokes between letters are opened. */
const unlinked = (text: string): string =>
  text
    .replace(/\b(?:https?|ftp|mailto|www)\b/giu, ' ')
    .replace(/\/{2,}/gu, ' ')
    .replace(/(?<=[\p{L}\p{N}])[./](?=\p{L})/gu, ' ')
    .replace(/(?<=\p{L})[./](?=\p{N})/gu, ' ');

/** Text of rules and of the catalogue, in which somebody with a key may have put anything. */
export const harmless = (text: string): string =>
  text
    .replace(/\p{Cc}+/gu, ' ')
    .replace(/[\p{Cf}\p{Co}\p{Cs}\p{Cn}]/gu, '')
    .replace(/[@<>[\]`*_~|\\#]/gu, ' ')
    .replace(/:\/\//gu, ' ')
    .replace(/(?<=[\p{L}\p{N}]{2})\.(?=\p{L}{2})/gu, '. ')
    .replace(/ {2,}/gu, ' ')
    .trim();

/** The text as markdown shows it: every sign that could be markup is escaped. */
export const escapeMarkdown = (text: string): string => text.replace(/[\\`*_{}[\]()#+!|<>~-]/gu, (sign) => `\\${sign}`);
