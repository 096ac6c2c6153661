/** What to measure next, as people are told it: each reading with where and how it is taken, what it would settle, and all of them by position. */
import type { ValueNode } from '../engine/values.ts';
import { writtenForms } from '../vehicle/codes.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Measuring, MeasuringGroup, TakenReading, ToMeasure } from './answer.ts';
import { contestedSlots, disagreementOf, spoken, type Told } from './contradictions.ts';
import { joinWords, lowerFirst, nameSubjects } from './describe.ts';
import { type Grouped, groupId } from './findings.ts';
import { setsOf } from './measuring-sets.ts';
import { type Effect, type PlannedReading, planReadings, type ReadingPlan } from './reading-plan.ts';
import { LIKELY } from './reading-sets.ts';
import type { RuleSet } from './rule-set.ts';
import { prose, type System, show } from './show.ts';
import { takenReadings } from './taken-readings.ts';
import type { OpenFinding } from './trial-readings.ts';
import { valueId } from './values-out.ts';

export interface MeasurePlan {
  readonly measure: readonly ToMeasure[];
  readonly measuring: Measuring;
}

/** The few that decide: those first in order that bring this part of all that the list brings, and no more than so many. */
const DECIDES = 0.75;
const MOST_DECIDING = 6;

/** `most` readings are planned; of those given is told all, `fitted` where they moved the defaults. */
export interface MeasuringAsked {
  readonly system: System;
  readonly most?: number | undefined;
  readonly fitted?: boolean | undefined;
}

/** Of all findings; what the planned parts leave as it was asks for no reading. */
export function planMeasuring(all: readonly Grouped[], rules: RuleSet, world: VehicleWorld, asked: MeasuringAsked): MeasurePlan {
  const { system, most } = asked;
  const groups = all.filter(({ asBefore }) => !asBefore);
  // Where few readings are asked for, as in a table of builds, nobody reads what they did.
  const taken = most === undefined ? takenReadings(all, rules, world, asked) : [];
  const plan = planReadings(groups, rules, world, most);
  const few = decidingFew(plan.readings);
  const isConflict = all.some(({ verdict }) => verdict === 'conflict');
  const measure = plan.readings.map((reading, i) => describe(reading, i, { decides: few.includes(i), isConflict, world, system }));
  return { measure, measuring: byPosition(plan, few, taken, rules, world, system) };
}

const gainOf = ({ effects }: PlannedReading): number => effects.reduce((sum, { before, after }) => sum + Math.max(0, after - before), 0);

/** Their places in the list: those of the first few that overturn, tell or settle something, by themselves or with a later one of them. */
function decidingFew(readings: readonly PlannedReading[]): readonly number[] {
  const total = readings.reduce((sum, reading) => sum + gainOf(reading), 0);
  const most = Math.min(MOST_DECIDING, readings.length);
  const overturning = readings.filter(({ overturns }) => overturns.length > 0).length;
  let [sum, few] = [0, 0];
  while (few < most && (few < overturning || sum < DECIDES * total)) sum += gainOf(readings[few++] as PlannedReading);
  const first = readings.slice(0, few);
  const settled = (reading: PlannedReading): OpenFinding[] => turnedBy(reading).map(({ finding }) => finding);
  const does = (reading: PlannedReading, i: number): boolean => {
    if (reading.overturns.length > 0 || reading.isMissing || turnedBy(reading).length > 0) return true;
    const later = new Set(first.slice(i + 1).flatMap(settled));
    return reading.effects.some(({ finding }) => later.has(finding));
  };
  return first.flatMap((reading, i) => (does(reading, i) ? [i] : []));
}

/** What a reading tips from open to settled or told. */
const turnedBy = ({ effects }: PlannedReading): Effect[] => effects.filter(({ before, after }) => before < LIKELY && after >= LIKELY);

function byPosition(
  { readings, findings }: ReadingPlan,
  few: readonly number[],
  taken: readonly TakenReading[],
  rules: RuleSet,
  world: VehicleWorld,
  system: System,
): Measuring {
  const stands = new Map<string, { readonly reading: PlannedReading; readonly orders: number[] }>();
  readings.forEach((reading, i) => {
    const key = groupIdOf(reading);
    const stand = stands.get(key) ?? { reading, orders: [] };
    stand.orders.push(i + 1);
    stands.set(key, stand);
  });
  const own = (orders: readonly number[]): number =>
    orders.reduce((sum, order) => sum + (readings[order - 1] as PlannedReading).minutes, 0);
  const groups = [...stands].map(([id, { reading, orders }]): MeasuringGroup => {
    const { position, end, later } = reading;
    const cautions = [
      ...new Set([...position.cautions, ...orders.flatMap((order) => readings[order - 1]?.signature.measure?.cautions ?? [])]),
    ];
    return {
      id,
      title: titleOf(position.title, end, later, orders.length),
      setup_minutes: position.minutes,
      minutes: whole(position.minutes + own(orders)),
      readings: orders,
      cautions: cautions.map((caution) => prose(world.library.cautions.get(caution) ?? caution, system)),
    };
  });
  const named = (which: (finding: OpenFinding) => boolean): string[] => findings.filter(which).map(({ group }) => groupId(group, world));
  const deciding = few.map((i) => readings[i] as PlannedReading);
  const setups = [...new Map(deciding.map((reading) => [groupIdOf(reading), reading.position.minutes])).values()];
  return {
    minutes: groups.reduce((sum, { minutes }) => sum + minutes, 0),
    decide: {
      readings: few.map((i) => i + 1),
      minutes: whole(deciding.reduce((sum, { minutes }) => sum + minutes, 0) + setups.reduce((sum, minutes) => sum + minutes, 0)),
    },
    groups,
    sets: setsOf(readings, rules, world),
    settles: named(({ chance, isUnknown }) => !isUnknown && chance >= LIKELY),
    tells: named(({ chance, isUnknown }) => isUnknown && chance >= LIKELY),
    leaves_open: named(({ chance }) => chance < LIKELY),
    taken,
  };
}

const groupIdOf = ({ position, end, later }: PlannedReading): string =>
  [position.id, end, later ? 'planned-parts-on' : ''].filter((part) => part !== '').join(':');

const whole = (minutes: number): number => Math.round(minutes);

function titleOf(title: string, end: string, later: boolean, count: number): string {
  const named = title.replace('{of}', end === '' ? 'The vehicle' : `The ${end} axle`);
  return `${named}${later ? ', with the planned parts on' : ''}: ${count === 1 ? 'this one' : `these ${count}`}`;
}

/** What is told of a reading besides itself. */
interface Telling {
  readonly decides: boolean;
  /** Something is in conflict already: no reading that only tells or settles the rest changes the verdict. */
  readonly isConflict: boolean;
  readonly world: VehicleWorld;
  readonly system: System;
}

function describe(reading: PlannedReading, i: number, telling: Telling): ToMeasure {
  const { slots, signature, effects, overturns, minutes, later, isMissing, accuracy: fine } = reading;
  const { decides, world, system } = telling;
  const { name } = world.values.node(slots[0] as number);
  const subjects = slots.flatMap((slot) => world.values.node(slot).subjects);
  const { measure } = signature;
  const shown = signature.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
  const accuracy = measure?.accuracy !== undefined ? shown?.amount(fine, 0, 'up') : undefined;
  // What is read again for its own sake tells which of two statements was wrong.
  const agrees = isMissing && effects.length === 0 ? slots.map((slot) => `statements-agree:${valueId(slot, world)}`) : [];
  const ending = overturns.map((group) => groupId(group, world));
  const ids = [...agrees, ...ending, ...effects.map(({ finding }) => groupId(finding.group, world))];
  const turned = turnedBy(reading);
  const [told, settled] = [true, false].map((unknown) => turned.filter(({ finding }) => finding.isUnknown === unknown)) as [
    Effect[],
    Effect[],
  ];
  const of = ofText(slots, world);
  const forms = writtenForms(signature);
  return {
    ids: slots.map((slot) => valueId(slot, world)),
    quantity: name,
    title: prose(signature.title, system),
    subject: nameSubjects(subjects, world) || 'the vehicle',
    order: i + 1,
    group: groupIdOf(reading),
    decides,
    state: later ? 'planned-parts-on' : isPlanned(subjects, world) ? 'planned-part' : 'as-it-stands',
    why: whyOf(reading, telling),
    findings: ids,
    could_overturn: ending,
    would_settle: settled.map(({ finding, after }) => ({
      finding: groupId(finding.group, world),
      title: finding.group.evaluations[0].rule.title,
      chance: Math.round(after * 100) / 100,
    })),
    would_tell: [...agrees, ...told.map(({ finding }) => groupId(finding.group, world))],
    would_narrow: effects.filter((effect) => !turned.includes(effect)).map(({ finding }) => groupId(finding.group, world)),
    how: prose(measure?.how ?? 'state it: from the plate, the stamping, the maker or the handbook', system),
    tool: measure?.tool ?? 'none',
    ...(measure?.where && { where: measure.where }),
    ...(measure?.suspension && { suspension: measure.suspension }),
    ...(measure?.steering && { steering: measure.steering }),
    ...(accuracy && { accuracy }),
    ...(measure?.minutes !== undefined && { minutes: measure.minutes }),
    minutes_there: Math.round(minutes * 10) / 10,
    write_down: {
      quantity: name,
      ...(of !== undefined && { of }),
      ...(shown && shown.unit.symbol !== '1' && { unit: shown.unit.symbol }),
      ...(forms.length > 0 && { such_as: forms }),
    },
    cautions: (measure?.cautions ?? []).map((caution) => prose(world.library.cautions.get(caution) ?? caution, system)),
  };
}

const isPlanned = (subjects: readonly number[], world: VehicleWorld): boolean =>
  subjects.some((subject) => world.partOf(subject)?.state === 'planned');

/** What a reading of those is sent under: the part's name where it is one of each side, else the place or part. */
export function ofText(slots: readonly number[], world: VehicleWorld): string | undefined {
  const subjects = [...new Set(slots.flatMap((slot) => world.values.node(slot).subjects))];
  const [only] = subjects;
  if (only === undefined) return undefined;
  return subjects.length > 1 ? (world.partOf(only)?.group ?? world.idOf(only)) : world.idOf(only);
}

function whyOf(reading: PlannedReading, telling: Telling): string {
  const { world } = telling;
  const { outdated } = world.assembly;
  const said = reading.slots
    .map((slot) => world.values.node(slot))
    .map(({ name, subjects }) => outdated.get(`${name}|${subjects.join(',')}`));
  const dropped = said.find((why) => why !== undefined);
  return joinWords([reasonOf(reading, telling), ...(dropped === undefined ? [] : [dropped])]);
}

function reasonOf(reading: PlannedReading, { isConflict, world, system }: Telling): string {
  const { slots, isMissing, overturns, effects } = reading;
  const [first] = overturns;
  if (first) {
    const more = overturns.length > 1 ? ` and ${overturns.length - 1} more` : '';
    return `the conflict "${lowerFirst(first.evaluations[0].rule.title)}"${more} rests on what its class has for it: read otherwise, it could overturn that`;
  }
  const isKnown = slots.some((slot) => !Number.isNaN(world.values.read(slot)));
  if (isMissing && isKnown) return contradictionOf(slots, world, system);
  const open = [...new Set(effects.map(({ finding }) => finding))];
  const counted = (n: number): string => `${n} finding${n === 1 ? '' : 's'}`;
  if (isMissing && !isConflict) return 'it is not known, and the verdict hangs on it';
  const told = turnedBy(reading).length;
  if (isMissing && told === 0)
    return `it is not known: ${counted(open.length)} cannot be told without it, nor with it alone; the verdict stays conflict`;
  if (isMissing) return `it is not known: read, it lets ${counted(told)} be told; the verdict stays conflict`;
  const wanting = open.filter(({ isUnknown }) => isUnknown).length;
  if (wanting === open.length && wanting > 0) return `${counted(wanting)} that cannot be told yet will hang on it too`;
  return isConflict
    ? `its tolerance leaves ${counted(open.length)} open; the verdict stays conflict`
    : 'its tolerance leaves the verdict open';
}

/** The values that contradict each other, and where each is from: two of one thing, or of things that bound each other. */
function contradictionOf(slots: readonly number[], world: VehicleWorld, system: System): string {
  const told = ({ signature }: ValueNode, { value, plusMinus }: Told['candidate'], from: string): string => {
    const shown = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
    return `${shown?.text(value)} (${from}, ± ${shown?.text(plusMinus)})`;
  };
  const [found] = slots.flatMap((slot) => disagreementOf(slot, world) ?? []);
  const all = found
    ? found.pair.map(({ candidate, from }) => told(world.values.node(found.slot), candidate, from))
    : slots
        .flatMap((slot) => contestedSlots(world).get(slot) ?? [])
        .map((slot) => world.values.node(slot))
        .flatMap((node) => {
          const candidate = spoken(node);
          return candidate ? [`${lowerFirst(node.signature?.title ?? node.name)} ${told(node, candidate, candidate.rank)}`] : [];
        });
  return all.length < 2 ? 'what was said of it contradicts something else that was said' : `${all.join(' against ')}: both cannot be true`;
}
