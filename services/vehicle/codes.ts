/**
 * Codes of open standards that stand on a part in place of a quantity: read off it, they are sent as they stand. Each says
 * what it comes to as a quantity with its unit, so that its range and a tolerance behind it are read as of any other.
 *
 * Speed symbols and load indices: UN R30 and R54, the tables of the tyre model. ET and millimetres: a rim's offset, as
 * stamped (common practice; the offset itself is that of ISO 3911).
 */
import type { Code, Signature } from '../engine/tree.ts';
import { loadOfIndex, speedOfSymbol } from '../models/tyres/load.ts';

interface Reader {
  readonly title: string;
  readonly example: string;
  /** The quantity it stands for; undefined where the text is no such code. */
  read(text: string): string | undefined;
}

/** `Q`, or with the load index before it: `121/118Q`. */
const SYMBOL = /^(?:\d{2,3}(?:\/\d{2,3})?([A-Z])|([A-Za-z]))$/u;
/** `121`, with that of dual fitment and the speed symbol behind it: `121/118Q`. */
const INDEX = /^(\d{2,3})(?:\/\d{2,3})?[A-Z]?$/u;
const ET = /^ET\s*([+−-]?)\s*(\d+(?:\.\d+)?)\s*(?:mm)?\s*(±.*)?$/iu;

const READERS: Readonly<Record<Code, Reader>> = {
  speed_symbol: {
    title: 'speed symbol',
    example: 'Q',
    read(text) {
      const [, behind, alone] = SYMBOL.exec(text) ?? [];
      const speed = speedOfSymbol(behind ?? alone ?? '');
      return speed.ok ? `${speed.value} m/s` : undefined;
    },
  },
  load_index: {
    title: 'load index',
    example: '121',
    read(text) {
      const load = loadOfIndex(Number(INDEX.exec(text)?.[1] ?? Number.NaN));
      return load.ok ? `${load.value} kg` : undefined;
    },
  },
  wheel_offset: {
    title: 'stamp',
    example: 'ET30',
    read(text) {
      const [, sign = '', number, tolerance = ''] = ET.exec(text) ?? [];
      return number === undefined ? undefined : `${sign}${number} mm ${tolerance}`.trim();
    },
  },
};

/** The text as a quantity with its unit, if it is the code that may stand for one; else as it is. */
export const decoded = ({ code }: Signature, text: string): string => (code && READERS[code].read(text.trim())) ?? text;

/** What a value may be written as besides a number with its unit: its code, yes and no, or the texts there are. */
export function writtenForms({ code, type }: Signature): readonly string[] {
  if (code) return [READERS[code].example];
  if (type.is === 'truth') return ['true', 'false'];
  return type.is === 'text' ? (type.oneOf ?? []) : [];
}

/** `or its load index, such as `121``; nothing where there is no code. */
export const codeHelp = ({ code }: Signature): string =>
  code ? `, or the ${READERS[code].title} as it stands there, such as \`${READERS[code].example}\`` : '';
