/**
 * Readings kept back, on simulated trucks of every class whose truth is known (`trucks.ts`): half of what there is to read is given and the
 * defaults made to agree with it, the other half predicted. What is claimed of which:
 *
 * - The band by root sum of squares claims nineteen in twenty, of every kind of reading: held from both sides, so that a band far too wide fails too.
 * - The printed tolerance of what rests on statements alone (scale weights, ways of hoses, gaps round an axle that nobody has drawn, gaps that a class has as
 *   built) is their worst case, and a fit leaves of each all that the readings allow: none lies beyond it, held of trucks too whose statements and readings
 *   lie at the ends of their tolerances.
 * - Where a drawing is all that says it (hub to arch, camber, caster), the printed tolerance is a root sum of squares itself, and no bound: nineteen in
 *   twenty lie within it, and no more beyond than sampling leaves.
 * - Readings narrow what was not read: nothing is printed wider than before, but for a hair, or for what a drawing's slopes are elsewhere; and of every
 *   kind that hangs on what was given some are narrower.
 *
 * Few trucks of a drawn front in `npm test`, since each is a hundred vehicles; many of every class in `npm run verify`.
 */
import { describe, expect, it } from 'vitest';
import { KINDS, type Kind, simulate, type Withheld } from '../../tests/uncertainty/trucks.ts';

const thorough = process.env['FETTLE_VERIFY'] === '1';
const DRAWN = ['midsize_independent_front', 'fullsize_independent_front'];
const TRUCKS: Readonly<Record<string, number>> = {
  ...Object.fromEntries(DRAWN.map((of) => [of, thorough ? 20 : 2])),
  ...Object.fromEntries(['solid_axle_short', 'solid_axle_long', 'van', 'light_truck_solid_axles'].map((of) => [of, thorough ? 30 : 3])),
};

/** Trucks of each class that lie at the ends of what their class leaves open. */
const AT_THE_ENDS = thorough ? 10 : 1;
/** So many at least of each truck are given, and so many kept; of the others one to every other truck. */
const PER_TRUCK: Partial<Record<Kind, number>> = { 'gap at the front': 5, 'gap at the rear': 2 };

/** Kinds that a drawing is all that says of. */
const BY_DRAWING = ['hub to arch', 'camber', 'camber lower down', 'caster', 'caster lower down'] as const;
/** What a reading of the same kind or its like says most of: some of it is narrowed to that part of what was printed, or less. */
const NARROWED: Partial<Record<Kind, number>> = {
  'gap at the front': 0.9,
  'gap at the rear': 0.95,
  'hub to arch': 0.85,
  camber: 0.85,
  'camber lower down': 1,
  caster: 0.6,
  'caster lower down': 0.6,
};
/** By how much what is printed may widen: by rounding, and by what the slopes of a drawing are where the readings have brought it. */
const HAIR = 1.002;
const ELSEWHERE = 1.15;

/** How often a normal that nineteen in twenty keep within one lies there, by its root mean square: 1/1.96, less as tolerances are cut off. */
const RMS_OF_NINETEEN_IN_TWENTY = 0.5;

const isByDrawing = ({ kind }: Withheld): boolean => BY_DRAWING.some((of) => of === kind);
const rmsOf = (some: readonly Withheld[]): number =>
  Math.sqrt(some.reduce((sum, { error, rss }) => sum + (error / rss) ** 2, 0) / some.length);
const insideOf = (some: readonly Withheld[]): number => some.filter(({ error, rss }) => Math.abs(error) <= rss).length;

describe('withheld readings of simulated trucks', { timeout: 3_600_000 }, () => {
  const trucks = Object.entries(TRUCKS).flatMap(([of, count]) => Array.from({ length: count }, (_, nth) => simulate(of, nth)));
  const withheld = trucks.flatMap((truck) => truck.withheld);
  const atTheEnds = Object.keys(TRUCKS).flatMap((of) =>
    Array.from({ length: AT_THE_ENDS }, (_, nth) => simulate(of, 1000 + nth, 'at the ends').withheld).flat(),
  );
  const groups: readonly (readonly [string, readonly Withheld[]])[] = [
    ['scale weights, hoses and gaps', withheld.filter((one) => !isByDrawing(one))],
    ['what a drawing says', withheld.filter(isByDrawing)],
  ];

  it('are of every kind, given to some and kept from others of every class that has them', () => {
    for (const of of Object.keys(TRUCKS)) {
      const these = trucks.filter((truck) => truck.of === of);
      const kinds = (Object.keys(KINDS) as Kind[]).filter((kind) => DRAWN.includes(of) || !BY_DRAWING.some((drawn) => drawn === kind));
      for (const kind of kinds) {
        const count = [these.flatMap(({ given }) => given), these.flatMap((truck) => truck.withheld.map((one) => one.kind))].map(
          (all) => all.filter((one) => one === kind).length,
        );
        const floor = (PER_TRUCK[kind] ?? 0.5) * (these.length - (these.length % 2));
        expect([of, kind, count.every((n) => n >= floor)]).toEqual([of, kind, true]);
      }
    }
  });

  it('lie within the printed tolerance, each of them that no drawing alone says', () => {
    const isBeyond = ({ error, printed }: Withheld): boolean => !(Math.abs(error) <= printed * (1 + 1e-9));
    const beyond = withheld.filter(isBeyond);
    expect([...beyond, ...atTheEnds.filter(isBeyond)].filter((one) => !isByDrawing(one))).toEqual([]);
    expect(atTheEnds.length).toBeGreaterThan(AT_THE_ENDS * 50);
    const [, drawn] = groups[1] as (typeof groups)[number];
    console.log(
      `withheld readings that a drawing says: ${beyond.filter(isByDrawing).length} of ${drawn.length} beyond the printed tolerance`,
    );
    expect(beyond.filter(isByDrawing).length / drawn.length).toBeLessThan(0.05 + 3 * Math.sqrt((0.95 * 0.05) / drawn.length));
  });

  it.each(groups)('%s lie within the band by root sum of squares as often as it says, no less and not much oftener', (name, some) => {
    const [inside, rms] = [insideOf(some), rmsOf(some)];
    console.log(
      `withheld readings, ${name}: ${inside} of ${some.length} within the band by root sum of squares, root mean square ${rms.toFixed(3)} of it`,
    );
    const sampling = 3 * Math.sqrt((0.95 * 0.05) / some.length);
    expect(inside / some.length).toBeGreaterThanOrEqual(0.95 - sampling);
    expect(rms).toBeLessThan(RMS_OF_NINETEEN_IN_TWENTY * (1 + 3 / Math.sqrt(2 * some.length)));
    expect(rms).toBeGreaterThan(RMS_OF_NINETEEN_IN_TWENTY / 2);
  });

  it('are printed no wider than before anything was read, and some of each kind far narrower', () => {
    const wider = withheld.filter((one) => one.printed > one.before * (one.drawn ? ELSEWHERE : HAIR));
    expect(wider).toEqual([]);
    for (const [kind, part] of Object.entries(NARROWED))
      expect([kind, Math.min(...withheld.filter((one) => one.kind === kind).map(({ printed, before }) => printed / before))]).toEqual([
        kind,
        expect.toSatisfy((ratio: number) => ratio < part),
      ]);
  });
});
