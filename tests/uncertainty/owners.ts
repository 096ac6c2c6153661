/**
 * Owners whose truck is hidden: a true vehicle is drawn within the tolerances of its class, and each time only what is asked for is
 * read off it, with the error of the tool. One seed gives one owner.
 */
import { bindRule } from '../../services/engine/bind.ts';
import { QUICK } from '../../services/engine/compile.ts';
import { verdictsOf } from '../../services/engine/evaluate.ts';
import { toUnit, toUnitDelta } from '../../services/units/index.ts';
import { type Assembly, assemble, type CheckRequest, createWorld, type VehicleReading } from '../../services/vehicle/index.ts';
import { boundPairs } from '../../services/workshop/contradictions.ts';
import { decidingOf } from '../../services/workshop/deciding.ts';
import { drawnPoints, redrawn as drawnSo } from '../../services/workshop/drawn-points.ts';
import { evaluationId } from '../../services/workshop/evaluation-id.ts';
import { type Grouped, groupEvaluations } from '../../services/workshop/findings.ts';
import { ofText } from '../../services/workshop/measure.ts';
import { candidateReadings, type PlannedReading, planReadings } from '../../services/workshop/reading-plan.ts';
import { standOf } from '../../services/workshop/reading-sets.ts';
import { evaluateAll, makeRuleSet } from '../../services/workshop/rule-set.ts';
import { show } from '../../services/workshop/show.ts';
import { Standing } from '../../services/workshop/standing.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { random } from '../faults/random.ts';

const rules = makeRuleSet(checker.library);

/** The place of a value of the front axle. */
const FRONT = 1;

export type Order = 'as asked' | 'at random';
type ToRead = Omit<PlannedReading, 'isMissing' | 'effects' | 'overturns'>;

export interface Owner {
  readonly readings: number;
  readonly minutes: number;
  /** Ids of findings that are still open. */
  readonly open: readonly string[];
  /** Of those open at first: how many are open after each reading. */
  readonly course: readonly { readonly minutes: number; readonly open: number }[];
  /** Settled findings, and those whose verdict was not that of the true vehicle at any time, from before the first reading on. */
  readonly settled: number;
  readonly wrong: readonly string[];
  /** Findings that were left open and that all else there is to read would have settled. */
  readonly unasked: readonly string[];
  /** Findings still open with all read that are told to hang on a reading that can be taken before the parts are on. */
  readonly untold: readonly string[];
}

/** The build asked about: a class, larger tyres, one person. */
export const asked = (of: string, measured: readonly VehicleReading[] = []): CheckRequest => ({
  vehicle: { from: 'inline', class: of, measured },
  parts: [
    {
      from: 'inline',
      kind: 'tyre',
      id: 'tall',
      at: 'all',
      replaces: 'fitted',
      attributes: { designation: 'LT255/80R17 121/118Q E', mass: '22 kg ± 1' },
    },
  ],
  load: { occupants: 1 },
});

function assembled(request: CheckRequest): Assembly {
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.assembly;
}

/** The vehicle with each number of its drawing somewhere within its tolerance, as nineteen in twenty do, and exact. */
function redrawn(assembly: Assembly, next: () => number): Assembly {
  const world = createWorld(assembly, checker.library, rules.texts);
  const points = drawnPoints(assembly, world, [...new Set(evaluateAll(rules, world).flatMap(({ reads }) => reads))]);
  const normal = (): number => Math.max(-1, Math.min(1, 0.5 * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())));
  const at = points.map(normal);
  return drawnSo(assembly, points, at);
}

/** A true vehicle: every statement that leaves something open lies somewhere within it. */
function hidden(of: string, seed: number) {
  const next = random(seed).next;
  const world = createWorld(redrawn(assembled(asked(of)), next), checker.library, rules.texts);
  const { values } = world;
  const leans = new Map<number, number>();
  /** Parts of one input are alike, and are read as one; and it has the axle ratio it left the factory with. */
  const alike = (given: number): number => {
    const { name, subjects } = values.node(given);
    if (name === 'factory_axle_ratio') {
      const ratio = values.slot('axle_ratio', [FRONT]);
      values.read(ratio);
      return ratio;
    }
    const group = subjects.length === 1 ? world.partOf(subjects[0] as number)?.group : undefined;
    const first = group === undefined ? undefined : world.assembly.parts.find((part) => part.group === group);
    return first ? values.slot(name, [first.subject]) : given;
  };
  const lean = (slots: readonly number[]): void => {
    for (const slot of slots) values.read(slot);
    for (const given of values.givensOf(slots)) {
      if (values.toleranceOf(given) === 0) continue;
      const statement = values.statementOf(alike(given));
      if (!leans.has(statement)) leans.set(statement, 2 * next() - 1);
      values.lean(given, leans.get(statement) as number);
    }
  };
  const evaluations = evaluateAll(rules, world);
  const reads = [...new Set(evaluations.flatMap((evaluation) => evaluation.reads))];
  const bounds = boundPairs(world);
  /** No vehicle's wheel hangs higher than it stands, nor is it certified for more than its axles: such a draw is none of a vehicle. */
  const isPossible = (): boolean =>
    bounds.every(({ slot, bound: { is }, others }) => {
      const past = values.read(slot) - others.reduce((sum, other) => sum + values.read(other), 0);
      return Number.isNaN(past) || (is === 'above' ? past <= 0 : past >= 0);
    });
  do {
    leans.clear();
    lean([...reads, ...bounds.flatMap(({ slot, others }) => [slot, ...others])]);
  } while (!isPossible());
  for (const slot of reads) values.read(slot);
  const verdicts = new Map<string, 'clear' | 'conflict' | 'other'>();
  let n = 0;
  for (const compiled of rules.compiled) {
    const bound = bindRule(compiled, world);
    const out = new Uint8Array(bound.tuples.length);
    if (out.length > 0 && !bound.tooMany) verdictsOf(bound, values.values, out);
    for (const verdict of out) {
      const evaluation = evaluations[n++];
      if (evaluation)
        verdicts.set(
          evaluationId(evaluation, world),
          verdict === QUICK.clear ? 'clear' : verdict === QUICK.conflict ? 'conflict' : 'other',
        );
    }
  }
  const truth = (name: string, subjects: readonly number[]): number => {
    const slot = values.slot(name, subjects);
    lean([slot]);
    return values.read(slot);
  };
  return { truth, verdicts };
}

/** What is known of a vehicle with those readings. */
function look(of: string, measured: readonly VehicleReading[]) {
  const assembly = assembled(asked(of, measured));
  const world = createWorld(assembly, checker.library, rules.texts);
  const groups = groupEvaluations(evaluateAll(rules, world), world, new Standing(rules, assembly));
  return { world, groups: groups.filter(({ asBefore }) => !asBefore) };
}

const isOpen = ({ verdict }: Grouped): boolean => verdict === 'close' || verdict === 'unknown';
const idOf = (group: Grouped, world: ReturnType<typeof look>['world']): string => evaluationId(group.evaluations[0], world);

/** Whether its text names a reading as one that decides, and that is read as the vehicle stands. */
function hangsOnMore({ evaluations: [first] }: Grouped, world: ReturnType<typeof look>['world']): boolean {
  const asItStands = decidingOf(first, world).readings.filter(({ id }) => !id.startsWith('tyre_gap_after'));
  return asItStands.length > 0;
}

/** Reads as long as there is something to read; at random until no more than `until` is open. */
export function ask(of: string, seed: number, order: Order, until = 0): Owner {
  const { truth, verdicts } = hidden(of, seed);
  const next = random(seed + 5000).next;
  const measured: VehicleReading[] = [];
  const done = new Set<string>();
  const stands = new Set<string>();
  const course: Owner['course'][number][] = [];
  let minutes = 0;
  let now = look(of, measured);
  const wrong = new Set<string>();
  /** Of what is settled now, though the true vehicle has it otherwise. */
  const judgeNow = (): void => {
    for (const group of now.groups) {
      const real = verdicts.get(idOf(group, now.world));
      if (!isOpen(group) && real !== undefined && real !== 'other' && real !== group.verdict) wrong.add(idOf(group, now.world));
    }
  };
  judgeNow();
  const openNow = (): number => now.groups.filter(isOpen).length;
  course.push({ minutes, open: openNow() });
  const nameOf = ({ slots }: ToRead): string => {
    const { name } = now.world.values.node(slots[0] as number);
    return `${name}|${ofText(slots, now.world) ?? ''}`;
  };
  const canBeRead = (one: ToRead): boolean => !one.later && one.signature.type.is === 'number' && !done.has(nameOf(one));
  const listed = (): readonly ToRead[] =>
    order === 'as asked' ? planReadings(now.groups, rules, now.world).readings : candidateReadings(now.groups, now.world);
  const read = (one: ToRead): void => {
    done.add(nameOf(one));
    const { name, subjects } = now.world.values.node(one.slots[0] as number);
    const under = ofText(one.slots, now.world);
    const real = truth(name, subjects);
    if (Number.isNaN(real) || one.signature.type.is !== 'number') return;
    const { unit } = show(one.signature.unit, one.signature.type.dimension, 'metric');
    const symbol = unit.symbol === '1' ? '' : ` ${unit.symbol}`;
    // A gauge held to what cannot be less than nothing shows no less.
    const { atLeast = -Infinity, atMost = Infinity } = one.signature.range ?? {};
    const value = toUnit(Math.min(atMost, Math.max(atLeast, real + (2 * next() - 1) * one.accuracy)), unit);
    measured.push({ quantity: name, ...(under && { of: under }), value: `${value}${symbol} ± ${toUnitDelta(one.accuracy, unit)}` });
    now = look(of, measured);
    judgeNow();
  };
  while (openNow() > until) {
    const list = listed().filter(canBeRead);
    const pick = order === 'as asked' ? list[0] : list[Math.floor(next() * list.length)];
    if (!pick) break;
    const stand = standOf(pick);
    minutes += pick.minutes + (stands.has(stand) ? 0 : pick.position.minutes);
    stands.add(stand);
    read(pick);
    course.push({ minutes, open: openNow() });
  }
  const settled = now.groups.filter(({ verdict }) => verdict === 'clear' || verdict === 'conflict');
  const [readings, left] = [done.size, now.groups.filter(isOpen).map((group) => idOf(group, now.world))];
  for (;;) {
    const [one] = order === 'as asked' ? candidateReadings(now.groups, now.world).filter(canBeRead) : [];
    if (!one) break;
    read(one);
  }
  const openStill = now.groups.filter(isOpen);
  const still = new Set(openStill.map((group) => idOf(group, now.world)));
  return {
    readings,
    minutes,
    open: left,
    course,
    settled: settled.length,
    wrong: [...wrong],
    unasked: left.filter((id) => !still.has(id)),
    untold: order === 'as asked' ? openStill.filter((group) => hangsOnMore(group, now.world)).map((group) => idOf(group, now.world)) : [],
  };
}
