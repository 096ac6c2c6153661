/** The graph of values behind an answer: each once, with its origin and what it was computed from. */
import type { Type } from '../engine/tree.ts';
import type { Candidate, ValueNode } from '../engine/values.ts';
import { SLOT } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { AnswerValue, Origin, OriginKind } from './answer.ts';
import { prose, type System, show } from './show.ts';

export function valueId(slot: number, world: VehicleWorld): string {
  const { name, subjects } = world.values.node(slot);
  const plain = subjects.map((subject) => world.idOf(subject));
  return plain.length > 0 ? `${name}(${plain.join(',')})` : name;
}

const ORIGINS: Readonly<Record<Candidate['rank'], OriginKind>> = {
  work: 'work',
  measured: 'measured',
  catalogue: 'catalogue',
  stated: 'stated',
  'class-default': 'class-default',
  typical: 'typical',
  rule: 'rule',
};

export function originOf(node: ValueNode): Origin {
  const { chosen, provider, reason } = node;
  if (chosen === undefined) return { kind: 'unknown', note: reason ?? 'nothing given' };
  if (chosen === 'computed')
    return { kind: 'computed', ...(provider && { note: provider.model }), ...(provider?.source && { source: provider.source }) };
  const { rank, note, source, date, tool, by } = chosen;
  return {
    kind: ORIGINS[rank],
    ...(note && { note }),
    ...(source && { source }),
    ...(date && { date }),
    ...(tool && { tool }),
    ...(by && { by }),
  };
}

/** What a value is for people: unknown is null. */
export function plainValue(value: number, type: Type | undefined, world: VehicleWorld): number | boolean | string | null {
  if (Number.isNaN(value)) return null;
  if (type?.is === 'truth') return value === 1;
  return type?.is === 'text' ? (world.values.textOf(value) ?? null) : value;
}

/** Half-width of a value's band: what was stated, or what its inputs leave of it. */
export function toleranceOf(slot: number, world: VehicleWorld): number {
  const { values } = world;
  if (values.node(slot).chosen !== 'computed') return values.toleranceOf(slot) + Math.abs(values.sharedBy(slot)?.plusMinus ?? 0);
  const { nominal, low, high } = world.bands.of(slot);
  return Math.max(high - nominal, nominal - low);
}

export function answerValue(slot: number, world: VehicleWorld, system: System): AnswerValue {
  const { values } = world;
  const value = values.read(slot);
  const node = values.node(slot);
  const { signature } = node;
  const common = {
    name: node.name,
    title: signature ? prose(signature.title, system) : node.name,
    subject: node.subjects.map((subject) => world.idOf(subject)).join(', ') || 'vehicle',
    origin: originOf(node),
    from: [...node.inputs]
      .filter((input) => input > SLOT.yes)
      .map((input) => valueId(input, world))
      .sort(),
  };
  const plain = plainValue(value, signature?.type, world);
  if (typeof plain !== 'number' || signature?.type.is !== 'number') {
    const unit = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system).unit.symbol : undefined;
    return { ...common, value: plain, ...(unit !== undefined && { unit }) };
  }
  const tolerance = toleranceOf(slot, world);
  return { ...common, ...show(signature.unit, signature.type.dimension, system).amount(plain, Number.isFinite(tolerance) ? tolerance : 0) };
}

/** All of what the slots rest on, themselves included, in an order that does not depend on how they were found. */
export function valueGraph(slots: Iterable<number>, world: VehicleWorld, system: System): Record<string, AnswerValue> {
  const named = [...world.values.below(slots)]
    .filter((slot) => world.values.node(slot).signature)
    .map((slot) => [valueId(slot, world), answerValue(slot, world, system)] as const);
  return Object.fromEntries(named.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)));
}
