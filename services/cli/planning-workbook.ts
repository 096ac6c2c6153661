/**
 * `npm run -s workbook -- FILE [--url URL] [--token TOKEN]`: makes a sample workbook that plans the (invented) rescue unit's next truck.
 * Its formulas fetch their values from a running service; the address and the key of cells stand on its second sheet.
 */
import { createWriteStream } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { parseArgs } from 'node:util';
import { makeWorkbook, type NewCell, type NewSheet } from '../sheets/xlsx-write.ts';
import { runCommand } from './command.ts';

const PLANS: readonly (readonly string[])[] = [
  ['As it is', 'merrowdale-ghyll', 'none', 'none', 'none', '2'],
  ['Trail tyres and lights', 'merrowdale-ghyll', 'orrisbeck-trail-255', 'none', 'fairmere-lights', '3'],
  ['Winch and bumper', 'merrowdale-ghyll', 'orrisbeck-trail-265', 'hallrigg-winch-36', 'thwaitesgill-prow', '3'],
  ['Not decided', 'merrowdale-ghyll', '', 'none', 'none', '2'],
  ['Ordered by a wrong name', 'merrowdale-gill', 'none', 'none', 'none', '2'],
];
const GIVEN = ['plan', 'vehicle', 'tyre', 'winch', 'parts', 'people'] as const;
export const FETCHED = [
  'verdict',
  'item',
  'margin',
  'margin-unit',
  'hours',
  'mass-front',
  'mass-rear',
  'amps',
  'conflicts',
  'measure',
] as const;

const letter = (index: number): string => String.fromCharCode(65 + index);

/** The address of a cell, put together from the row; not every program encodes an empty text. */
function fetching(what: string, row: number): NewCell {
  const build = GIVEN.slice(1).map((name, i) => `"&${name}="&IF($${letter(i + 1)}${row}="","",_xlfn.ENCODEURL($${letter(i + 1)}${row}))`);
  return { formula: `_xlfn.WEBSERVICE(Service!$B$1&"/v1/cells/${what}?token="&_xlfn.ENCODEURL(Service!$B$2)&${build.join('&')})` };
}

export function planningSheets(url: string, token: string): NewSheet[] {
  const [front, rear] = [letter(GIVEN.length + FETCHED.indexOf('mass-front')), letter(GIVEN.length + FETCHED.indexOf('mass-rear'))];
  const total = letter(GIVEN.length + FETCHED.length);
  const last = PLANS.length + 1;
  return [
    {
      name: 'Plan',
      widths: [26, 20, 22, 20, 20, 8, 34, 44, 10, 12, 10, 12, 12, 10, 10, 44, 14],
      rows: [
        [...GIVEN, ...FETCHED, 'mass in all'],
        ...PLANS.map((plan, i) => [
          ...plan,
          ...FETCHED.map((what) => fetching(what, i + 2)),
          { formula: `IFERROR(VALUE(${front}${i + 2})+VALUE(${rear}${i + 2}),"not known")` },
        ]),
        [
          'most that a plan adds',
          ...Array.from({ length: GIVEN.length + FETCHED.length - 1 }, () => null),
          { formula: `MAX(${total}2:${total}${last})` },
        ],
      ],
    },
    {
      name: 'Service',
      widths: [14, 60],
      rows: [
        ['address', url],
        ['token', token],
      ],
    },
  ];
}

const USAGE = 'usage: npm run -s workbook -- FILE [--url URL] [--token TOKEN]';

function read(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options: { url: { type: 'string' }, token: { type: 'string' } }, allowPositionals: true });
  } catch {
    return undefined;
  }
}

async function main(args: readonly string[]): Promise<number> {
  const asked = read(args);
  const file = asked?.positionals[0];
  if (!asked || file === undefined) {
    console.error(USAGE);
    return 2;
  }
  const { values } = asked;
  await pipeline(
    Readable.from(makeWorkbook(planningSheets(values.url ?? 'http://127.0.0.1:4750', values.token ?? ''))),
    createWriteStream(file),
  );
  console.error(`${file}: ${PLANS.length} plans`);
  return 0;
}

if (process.argv[1]?.endsWith('planning-workbook.ts')) await runCommand(USAGE, main);
