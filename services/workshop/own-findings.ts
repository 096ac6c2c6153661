/** Findings that no rule makes: a position nothing fills, and statements that contradict each other. */
import type { Bound } from '../engine/tree.ts';
import type { Candidate, ValueNode } from '../engine/values.ts';
import { SLOT } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Finding } from './answer.ts';
import { joinWords, nameSubjects } from './describe.ts';
import { type System, show } from './show.ts';
import { originOf, valueId } from './values-out.ts';

const PLAIN = { as_before: false, margin: null, numbers: [], doubt: [], missing: [], work: [], cautions: [] } as const;

export function unfilledFindings(world: VehicleWorld): Finding[] {
  return world.assembly.unfilled.map(({ kind, place }) => {
    const title = world.library.kinds.get(kind)?.title ?? kind;
    const at = place === 'vehicle' ? '' : ` at ${place.replace('-', ' ')}`;
    return {
      ...PLAIN,
      id: `position-filled:${kind}:${place}`,
      rule: 'position-filled',
      title: 'Every position of the class is filled',
      hazard: 'safety',
      verdict: 'unknown',
      subject: `${title}${at}`,
      parts: [],
      says: `Nothing is said about the ${title.toLowerCase()}${at}: name the one that is fitted, or the one that will be`,
      basis: [{ kind: 'common-practice', title: 'what is not known about is not fine' }],
    };
  });
}

/** Statements about one value that cannot all be true, among the values that rules read and those they rest on. */
export function disagreementFindings(slots: Iterable<number>, world: VehicleWorld, system: System): Finding[] {
  return [...world.values.below(slots)].flatMap((slot) => {
    const node = world.values.node(slot);
    const pair = slot > SLOT.yes ? contradiction(node, world) : undefined;
    if (!pair || node.signature?.type.is !== 'number') return [];
    const shown = show(node.signature.unit, node.signature.type.dimension, system);
    const told = pair.map(({ candidate, from }) => `${shown.text(candidate.value)} (${from}, ± ${shown.text(candidate.plusMinus)})`);
    const subject = nameSubjects(node.subjects, world) || 'the vehicle';
    return [
      {
        ...PLAIN,
        id: `statements-agree:${valueId(slot, world)}`,
        rule: 'statements-agree',
        title: 'What is said about a value agrees within its tolerances',
        hazard: 'damage' as const,
        verdict: 'close' as const,
        subject,
        parts: [],
        says: `${node.signature.title} of ${subject}: ${told.join(' against ')}; one of the two is wrong, or is of another part. The one named first here is used`,
        numbers: [
          {
            name: node.name,
            title: node.signature.title,
            ...shown.amount(pair[0].candidate.value, pair[0].candidate.plusMinus),
            origin: originOf(node).kind,
            id: valueId(slot, world),
          },
        ],
        basis: [{ kind: 'common-practice' as const, title: 'common practice, no source' }],
      },
    ];
  });
}

/** Two statements of which one cannot pass the other, such as the least gap over all travel and the gap standing. */
export function boundFindings(world: VehicleWorld, system: System): Finding[] {
  return [...world.assembly.said.keys()].flatMap((key) => {
    const [name = '', subjects = ''] = key.split('|');
    const bounds = world.library.quantities.get(name)?.never ?? [];
    if (bounds.length === 0) return [];
    const slot = world.values.slot(name, subjects === '' ? [] : subjects.split(',').map(Number));
    return bounds.flatMap((bound) => boundSlots(slot, bound, world).flatMap((others) => passed(slot, bound, others, world, system)));
  });
}

/** What is compared: the same quantity's own subjects, or the axles one by one or together. */
function boundSlots(slot: number, { name, sum }: Bound, { values, library }: VehicleWorld): (readonly number[])[] {
  const { subjects } = values.node(slot);
  const ofAxles = subjects.length === 0 && library.quantities.get(name)?.per[0]?.is === 'axle';
  if (!ofAxles) return [[values.slot(name, subjects)]];
  const axles = AXLES.map((axle) => values.slot(name, [axle]));
  return sum ? [axles] : axles.map((axle) => [axle]);
}

function passed(slot: number, { is, sum }: Bound, others: readonly number[], world: VehicleWorld, system: System): Finding[] {
  const [one, ...rest] = [slot, ...others].map((at) => spoken(world.values.node(at)));
  if (!one || rest.some((each) => each === undefined)) return [];
  const way = is === 'above' ? 1 : -1;
  const limit = rest.reduce((total, each) => total + (each?.value ?? 0) + way * (each?.plusMinus ?? 0), 0);
  if (way * (one.value - way * one.plusMinus - limit) <= 1e-9 * Math.abs(limit)) return [];
  const told = (at: number): string => {
    const { signature, subjects } = world.values.node(at);
    const shown = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
    const { value, plusMinus, rank } = spoken(world.values.node(at)) as Candidate;
    const of = nameSubjects(subjects, world);
    return `${lower(signature?.title ?? '')}${of === '' ? '' : ` of ${of}`}, ${shown?.text(value)} (${rank}, ± ${shown?.text(plusMinus)})`;
  };
  const against = joinWords(others.map(told));
  const named = told(slot);
  return [
    {
      ...PLAIN,
      id: `statements-agree:${[slot, ...others].map((at) => valueId(at, world)).join(':')}`,
      rule: 'statements-agree',
      title: 'What is said of one vehicle can all be true',
      hazard: 'damage',
      verdict: 'close',
      subject: nameSubjects(world.values.node(slot).subjects, world) || 'the vehicle',
      parts: [],
      says: `${named.replace(/^./, (c) => c.toUpperCase())} is never ${is} ${sum ? 'the sum of ' : ''}${against}: one of them is wrong. What rests on it is not to be relied on until they are read again`,
      basis: [{ kind: 'common-practice', title: 'what they mean: no vehicle can have both' }],
    },
  ];
}

const AXLES = [1, 2];
const lower = (title: string): string => title.replace(/^./, (c) => c.toLowerCase());

/** What counts of what was said of a value, unless only a default or work has. */
function spoken({ candidates, chosen }: ValueNode): Candidate | undefined {
  const [first] = candidates.filter(({ rank }) => SPEAKS.has(rank));
  return chosen !== 'computed' && chosen?.rank === 'work' ? undefined : first;
}

interface Told {
  readonly candidate: { readonly value: number; readonly plusMinus: number };
  readonly from: string;
}

/** Defaults are no statements, and what work made of a value is not held against what was said before. */
const SPEAKS: ReadonlySet<Candidate['rank']> = new Set(['measured', 'catalogue', 'stated']);

function contradiction(node: ValueNode, world: VehicleWorld): readonly [Told, Told] | undefined {
  if (node.signature?.type.is !== 'number' || (node.chosen !== 'computed' && node.chosen?.rank === 'work')) return undefined;
  const told: Told[] = node.candidates.filter(({ rank }) => SPEAKS.has(rank)).map((candidate) => ({ candidate, from: candidate.rank }));
  const computed = told.length > 0 ? computedOf(node, world) : undefined;
  if (computed) told.push(computed);
  const [first, ...others] = told;
  const other = others.find(
    ({ candidate }) =>
      first && Math.abs(candidate.value - first.candidate.value) > (candidate.plusMinus + first.candidate.plusMinus) * (1 + 1e-9),
  );
  return first && other ? [first, other] : undefined;
}

/** What the model says of a value that was also stated, with all its tolerances. */
function computedOf(node: ValueNode, world: VehicleWorld): Told | undefined {
  const { values } = world;
  const twin = node.provider && values.twin(node.slot);
  if (twin === undefined || isOfClass(twin, world)) return undefined;
  const { nominal, low, high } = world.bands.of(twin);
  const plusMinus = Math.max(high - nominal, nominal - low);
  return Number.isFinite(nominal) && Number.isFinite(plusMinus)
    ? { candidate: { value: nominal, plusMinus }, from: 'computed' }
    : undefined;
}

/** What is computed from the drawing or masses of a class is as little a statement as its defaults: the vehicle itself may differ. */
const isOfClass = (twin: number, { values }: VehicleWorld): boolean => {
  values.read(twin);
  return values.givensOf([twin], { folded: true }).some((slot) => {
    const { name, chosen } = values.node(slot);
    return chosen !== undefined && chosen !== 'computed' && chosen.rank === 'class-default' && chosen.plusMinus > 0 && !name.includes('.');
  });
};
