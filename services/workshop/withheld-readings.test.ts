/**
 * Readings kept back, on simulated trucks whose truth is known: some are given and the defaults made to agree with them, the others predicted.
 * The printed tolerance is a bound: nothing within the tolerances of the class lies outside it. The band by root sum of squares claims nineteen in
 * twenty, where each input keeps to its own tolerance nineteen times in twenty; held to that from both sides, so that a band far too wide fails too.
 */
import { describe, expect, it } from 'vitest';
import { assemble } from '../vehicle/assembly.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import { fitToReadings } from './fit-readings.ts';
import { makeRuleSet } from './rule-set.ts';
import { checker, demoCatalogue } from './testing.ts';
import { toleranceOf } from './values-out.ts';

const TRUCKS = process.env['FETTLE_VERIFY'] === '1' ? 200 : 16;
const rules = makeRuleSet(checker.library);

/** Numbers from 0 to 1 that are the same in every run. */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
}
/** What nineteen in twenty keep within one, cut off where a tolerance ends. */
function spread(next: () => number): number {
  const normal = Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return Math.max(-1, Math.min(1, normal / 2));
}

function assembled(request: CheckRequest) {
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.assembly;
}
const worldOf = (assembly: ReturnType<typeof assembled>): VehicleWorld => createWorld(assembly, rules.library, rules.texts);

interface Read {
  readonly name: string;
  readonly of: string;
  readonly slot: number;
}

/** Gaps at the front left whose place the class knows, and both axles' loads. */
function readable(world: VehicleWorld): Read[] {
  const { values, assembly } = world;
  const known = (subject: number): boolean => values.node(values.slot('tyre_obstacle.gap_as_built', [subject])).candidates.length > 0;
  const gaps = assembly.parts.filter(({ place, id, subject }) => place === 'front-left' && id.includes('@') && known(subject));
  return [
    ...gaps.map(({ subject, group }) => ({ name: 'tyre_gap', of: `${group}@front-left`, slot: values.slot('tyre_gap', [subject]) })),
    ...['front', 'rear'].map((of, i) => ({ name: 'axle_load', of, slot: values.slot('axle_load', [i + 1]) })),
  ];
}

/** A true truck of the class: what each reading would be of it. */
function truthOf(world: VehicleWorld, reads: readonly Read[], next: () => number): number[] {
  const { values } = world;
  for (const { slot } of reads) values.read(slot);
  const open = values.givensOf(reads.map(({ slot }) => slot)).filter((slot) => values.toleranceOf(slot) > 0);
  const leans = new Map<number, number>();
  for (const slot of open) {
    const statement = values.statementOf(slot);
    if (!leans.has(statement)) leans.set(statement, spread(next));
    values.lean(slot, leans.get(statement) as number);
  }
  const truth = reads.map(({ slot }) => values.read(slot));
  for (const slot of open) values.lean(slot, 0);
  return truth;
}

const IN: Readonly<Record<string, readonly [factor: number, unit: string, accuracy: number]>> = {
  tyre_gap: [1000, 'mm', 5],
  axle_load: [1, 'kg', 20],
};

interface Withheld {
  readonly error: number;
  readonly printed: number;
  /** Half-width of the band by root sum of squares, to the side of the error. */
  readonly rss: number;
  readonly before: number;
}

/** Every other reading is given; the others are predicted. */
function predict(truck: number): Withheld[] {
  const next = random(truck + 1);
  const of = truck % 2 ? 'midsize_independent_front' : 'solid_axle_long';
  const request = (measured: NonNullable<CheckRequest['vehicle']['measured']>): CheckRequest => ({
    vehicle: { from: 'inline', class: of, measured },
    load: { occupants: 2 },
  });
  const world = worldOf(assembled(request([])));
  const reads = readable(world);
  const truth = truthOf(world, reads, next);
  const isGiven = (i: number): boolean => i % 2 === 1;
  const given = reads.flatMap(({ name, of: where }, i) => {
    const [factor, unit, accuracy] = IN[name] as NonNullable<(typeof IN)[string]>;
    const value = (truth[i] as number) * factor + spread(next) * accuracy;
    return isGiven(i) ? [{ quantity: name, of: where, value: `${value} ${unit} ± ${accuracy}`, with: [] }] : [];
  });
  const fitted = fitToReadings(assembled(request(given)), rules, 'metric');
  if (!fitted.ok) throw new Error(JSON.stringify(fitted.faults));
  const after = worldOf(fitted.assembly);
  return reads.flatMap(({ slot }, i) => {
    if (isGiven(i)) return [];
    const { name, subjects } = world.values.node(slot);
    const there = after.values.slot(name, subjects);
    const { nominal, rss } = after.bands.of(there);
    const error = (truth[i] as number) - nominal;
    const half = rss ? (error < 0 ? nominal - rss.low : rss.high - nominal) : Number.NaN;
    return [{ error, printed: toleranceOf(there, after), rss: half, before: toleranceOf(slot, world) }];
  });
}

/** How often a normal that nineteen in twenty keep within one lies there, by its root mean square: 1/1.96, less as tolerances are cut off. */
const RMS_OF_NINETEEN_IN_TWENTY = 0.5;

describe('withheld readings of simulated trucks', () => {
  const withheld = Array.from({ length: TRUCKS }, (_, truck) => predict(truck)).flat();
  const inside = withheld.filter(({ error, rss }) => Math.abs(error) <= rss).length;
  const rms = Math.sqrt(withheld.reduce((sum, { error, rss }) => sum + (error / rss) ** 2, 0) / withheld.length);

  it('lie within the printed tolerance, each of them', () => {
    expect(withheld.length).toBeGreaterThan(3 * TRUCKS);
    expect(withheld.filter(({ error, printed }) => !(Math.abs(error) <= printed * (1 + 1e-9)))).toEqual([]);
    expect(withheld.filter(({ printed, before }) => printed < 0.98 * before).length).toBeGreaterThan(0);
  });

  it('lie within the band by root sum of squares as often as it says, no less and not much oftener', () => {
    console.log(
      `withheld readings: ${inside} of ${withheld.length} within the band by root sum of squares, root mean square ${rms.toFixed(3)} of it`,
    );
    const sampling = 3 * Math.sqrt((0.95 * 0.05) / withheld.length);
    expect(inside / withheld.length).toBeGreaterThanOrEqual(0.95 - sampling);
    expect(rms).toBeLessThan(RMS_OF_NINETEEN_IN_TWENTY * (1 + 3 / Math.sqrt(2 * withheld.length)));
    expect(rms).toBeGreaterThan(RMS_OF_NINETEEN_IN_TWENTY / 2);
  });
});
