/** Where the vehicle stood while a measurement was taken, held against where its quantity is read: a gap hanging is not the gap at full bump. */
import type { Library } from '../engine/index.ts';
import type { Fault } from './errors.ts';

interface Stood {
  readonly quantity: string;
  readonly suspension?: string;
  readonly steering?: string;
}

/** Ways to stand that exclude each other, by the words for them. */
const STANDS = {
  suspension: [/ride|standing/i, /bump/i, /droop|hanging/i, /off the vehicle|bench/i],
  steering: [/straight/i, /left/i, /right/i],
} as const;
const EACH_LOCK = /lock/i;

type Of = keyof typeof STANDS;

export function positionFaults(taken: Stood, library: Library): Fault[] {
  return (['suspension', 'steering'] as const).flatMap((of): Fault[] => {
    const [said, asked] = [taken[of], library.quantities.get(taken.quantity)?.measure?.[of]];
    if (said === undefined || asked === undefined || !isElsewhere(of, said, asked)) return [];
    const other = otherOf(taken.quantity, of, said, library);
    return [
      {
        pointer: `/${of}`,
        code: 'POSITION_WRONG',
        message: `\`${taken.quantity}\` is not read with the ${of} \`${said}\``,
        help: `read it with the ${of}: ${asked}${other === undefined ? '' : `; what was read so is \`${other}\``}`,
      },
    ];
  });
}

/** What comes after a semicolon is read besides. */
const chiefly = (text: string): string => text.split(';')[0] as string;

function isElsewhere(of: Of, said: string, asked: string): boolean {
  const named = (text: string): number[] => STANDS[of].flatMap((words, i) => (words.test(text) ? [i] : []));
  const [is, wanted] = [named(said), named(chiefly(asked))];
  // At each lock is at either one, and not straight ahead.
  if (of === 'steering' && wanted.length === 0) return EACH_LOCK.test(asked) && STANDS.steering[0].test(said) && !EACH_LOCK.test(said);
  return is.length > 0 && wanted.length > 0 && !is.some((one) => wanted.includes(one));
}

/** What bounds it, where that is read as the vehicle stood. */
function otherOf(quantity: string, of: Of, said: string, { quantities }: Library): string | undefined {
  if (of !== 'suspension') return undefined;
  const bounds = quantities.get(quantity)?.never ?? [];
  return bounds
    .map(({ name }) => name)
    .find((name) => {
      const asked = quantities.get(name)?.measure?.suspension;
      return asked !== undefined && !isElsewhere(of, said, asked);
    });
}
