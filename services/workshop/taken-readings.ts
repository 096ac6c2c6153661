/**
 * What was read so far, all of it: of each reading, which findings would be open without it, and which that rest on it are open all the same.
 * Without it there is what was said of the value besides, or what is computed of it; where there is neither, nothing would be known.
 * Of a reading on which nothing rests that was asked is told why (`unused-readings.ts`).
 */
import type { Evaluation } from '../engine/evaluate.ts';
import type { Candidate } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { TakenReading } from './answer.ts';
import { standsByTwo } from './contradictions.ts';
import { nameSubjects } from './describe.ts';
import { type Grouped, groupId } from './findings.ts';
import type { RuleSet } from './rule-set.ts';
import { Trial } from './trial-readings.ts';
import { type UnusedAsked, unusedReading, whyUnused } from './unused-readings.ts';
import { valueId } from './values-out.ts';
import { isSettled } from './verdicts.ts';

interface Read {
  readonly slots: Set<number>;
  /** Findings that rest on it, with the side that does. */
  readonly resting: Map<Grouped, Evaluation>;
}

/** In the order they were given. */
export function takenReadings(all: readonly Grouped[], rules: RuleSet, world: VehicleWorld, told: UnusedAsked): TakenReading[] {
  const groups = all.filter(({ asBefore }) => !asBefore);
  const byStatement = new Map<number, Read>();
  const rests = groups.flatMap((group) => group.evaluations.map((evaluation) => ({ group, evaluation })));
  for (const { group, evaluation } of rests)
    for (const slot of readBelow(evaluation, world)) {
      const statement = world.values.statementOf(slot);
      const read = byStatement.get(statement) ?? { slots: new Set(), resting: new Map() };
      read.slots.add(slot);
      if (!read.resting.has(group)) read.resting.set(group, evaluation);
      byStatement.set(statement, read);
    }
  const trial = new Trial(rules, world);
  const given = [...new Map(world.assembly.readings.map((reading) => [reading.statement, reading])).values()];
  const why = given.some(({ statement }) => !byStatement.has(statement)) ? whyUnused(all, world, told) : undefined;
  return given.map((reading) => {
    const read = byStatement.get(reading.statement);
    return read ? takenOf(read, trial, world) : unusedReading(reading, why?.(reading) ?? '', world);
  });
}

/** The readings that it rests on. */
function readBelow({ reads }: Evaluation, { values }: VehicleWorld): number[] {
  return values.givensOf(reads).filter((slot) => {
    const { chosen } = values.node(slot);
    return chosen !== undefined && chosen !== 'computed' && chosen.rank === 'measured';
  });
}

function takenOf({ slots, resting }: Read, trial: Trial, world: VehicleWorld): TakenReading {
  const ordered = [...slots].sort((a, b) => a - b);
  const { name, signature } = world.values.node(ordered[0] as number);
  const without = new Map(ordered.map((slot) => [slot, besides(slot, world)] as const));
  const all = [...resting];
  const ids = (which: typeof all): string[] => which.map(([group]) => groupId(group, world));
  const subjects = ordered.flatMap((slot) => world.values.node(slot).subjects);
  return {
    ids: ordered.map((slot) => valueId(slot, world)),
    quantity: name,
    title: signature?.title ?? name,
    subject: nameSubjects(subjects, world) || 'the vehicle',
    settled: ids(all.filter(([{ verdict }, evaluation]) => isSettled(verdict) && wouldBeOpen(evaluation, without, trial, world))),
    open: ids(all.filter(([{ verdict }]) => !isSettled(verdict))),
    ...(ordered.some((slot) => standsByTwo(slot, world)) && { remark: STANDS_BY_TWO }),
  };
}

const STANDS_BY_TWO = 'no vehicle of its class is taken to have that; it counts, since another reading agrees with it';

/** What there is of a value besides its reading: NaN where there is nothing. */
export function besides(slot: number, world: VehicleWorld): Candidate {
  const { values, bands } = world;
  const { candidates, provider } = values.node(slot);
  const other = candidates.find(({ rank }) => rank !== 'measured');
  if (other) return other;
  const { low, high } = provider ? bands.of(values.twin(slot)) : { low: Number.NaN, high: Number.NaN };
  return { value: (low + high) / 2, plusMinus: (high - low) / 2, rank: 'typical' };
}

function wouldBeOpen(evaluation: Evaluation, without: ReadonlyMap<number, Candidate>, trial: Trial, world: VehicleWorld): boolean {
  if ([...without].some(([slot, { value }]) => evaluation.reads.includes(slot) && Number.isNaN(value))) return true;
  if (!mayTurn(evaluation, without, world)) return false;
  return !isSettled(trial.verdictIf(without, evaluation));
}

/** Past this many times what it moves at most in a straight line a margin is not asked again. */
const BENT = 1.5;

/** Whether the margin is near enough for it to be open, going by what the reading causes of its doubt. */
function mayTurn({ controlling }: Evaluation, without: ReadonlyMap<number, Candidate>, { values }: VehicleWorld): boolean {
  if (controlling?.atom.op !== 'compare') return true;
  const { low, high, doubt } = controlling;
  const away = Math.max(low, -high);
  let moves = 0;
  for (const [slot, { value, plusMinus }] of without) {
    const tolerance = values.toleranceOf(slot);
    if (!(tolerance > 0) || !Number.isFinite(value)) return true;
    const share = doubt.find((each) => each.slot === slot)?.share ?? 0;
    const slope = (share * (high - low)) / 2 / tolerance;
    moves += slope * (Math.max(0, plusMinus - tolerance) + Math.abs(value - values.read(slot)));
  }
  return away <= BENT * moves;
}
