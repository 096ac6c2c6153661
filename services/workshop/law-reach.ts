/**
 * Findings that no rule makes: a limit of a law pack that was named, of which nothing that is held here is for this vehicle. What
 * the text has for it is not known, and that a place was asked about and nothing said must not read as if all were well.
 */
import { slotOf } from '../engine/bind.ts';
import type { Evaluation } from '../engine/evaluate.ts';
import { children } from '../engine/layout.ts';
import type { Num, Truth } from '../engine/tree.ts';
import type { Part } from '../vehicle/assembly.ts';
import { signatureOf, type VehicleWorld } from '../vehicle/world.ts';
import type { AnswerNumber, Finding } from './answer.ts';
import { describePart, joinWords, lowerFirst } from './describe.ts';
import { basisOf } from './findings.ts';
import { prose, type System, show } from './show.ts';
import { originOf, toleranceOf, valueId } from './values-out.ts';

export const LAW_REACHES = {
  rule: 'law-reaches',
  title: 'What the law of the place says of this vehicle is known',
  hazard: 'legal',
  verdict: 'unknown',
} as const;

/** The limits of one kind in one pack, such as those for each rated mass. */
type Limits = readonly [Part, ...Part[]];

/** Kinds of limit of the packs named of which none is among the subjects that rules applied to. */
export function unreachedLimits(reached: ReadonlySet<number>, world: VehicleWorld): Limits[] {
  const byKind = new Map<string, Part[]>();
  for (const part of world.assembly.parts) {
    if (part.state !== 'law') continue;
    const key = `${part.name}|${part.kind}`;
    byKind.set(key, [...(byKind.get(key) ?? []), part]);
  }
  return [...byKind.values()].filter((limits) => !limits.some(({ subject }) => reached.has(subject))) as unknown as Limits[];
}

export function unreachedFindings(evaluations: readonly Evaluation[], world: VehicleWorld, system: System): Finding[] {
  const reached = new Set(evaluations.filter(({ verdict }) => verdict !== 'not-applicable').flatMap(({ subjects }) => subjects));
  return unreachedLimits(reached, world).map((limits) => unreachedFinding(limits, evaluations, world, system));
}

function unreachedFinding(limits: Limits, evaluations: readonly Evaluation[], world: VehicleWorld, system: System): Finding {
  const [{ id, kind, name }] = limits;
  const what = lowerFirst(world.library.kinds.get(kind)?.title ?? kind);
  const own = new Set(limits.map(({ subject }) => subject));
  const slots = [...new Set(evaluations.filter(({ subjects }) => subjects.some((subject) => own.has(subject))).flatMap(guardSlots(world)))];
  const isOfLimit = (slot: number): boolean => world.values.node(slot).subjects.some((subject) => own.has(subject));
  const ofVehicle = slots.filter((slot) => !isOfLimit(slot)).map((slot) => numberOf(slot, world, system));
  const goesBy = joinWords(ofVehicle.map(({ title, value, unit }) => `${lowerFirst(title)}, ${value} ${unit ?? ''}`.trim()));
  const basis = basisOf(unique(limits.flatMap((limit) => limit.basis ?? [])), world.library, system);
  const texts = joinWords([...new Set(basis.map(({ title, clause }) => (clause ? `${title}, ${clause}` : title)))]);
  return {
    id: `${LAW_REACHES.rule}:${id}`,
    ...LAW_REACHES,
    as_before: false,
    margin: null,
    subject: `${name}: ${what}`,
    parts: limits.map(({ subject }) => describePart(subject, world)).filter((part) => part !== undefined),
    says: `Cannot be told yet. ${name}: each ${what} that is held here is for other vehicles${goesBy && `, going by the ${goesBy}`}. Find out what the text itself has for this one: read its current version (${texts}), or ask whoever registers vehicles there`,
    numbers: [...ofVehicle, ...slots.filter(isOfLimit).map((slot) => numberOf(slot, world, system))],
    doubt: [],
    missing: [],
    work: [],
    basis,
    cautions: [prose(world.library.cautions.get('road_law') ?? 'road_law', system)],
  };
}

const unique = <T extends { readonly source?: string; readonly clause?: string }>(basis: readonly T[]): T[] => [
  ...new Map(basis.map((one) => [`${one.source} ${one.clause}`, one])).values(),
];

/** What a rule's guard reads of numbers: by that it does not apply. */
const guardSlots =
  (world: VehicleWorld) =>
  ({ rule, subjects }: Evaluation): number[] => {
    const read: number[] = [];
    const visit = (node: Num | Truth): void => {
      if (node.op === 'leaf' && node.depth === 0) read.push(slotOf(rule.scope.leaves[node.leaf]!, subjects, world));
      for (const child of children(node)) visit(child);
    };
    if (rule.when) visit(rule.when);
    return read;
  };

function numberOf(slot: number, world: VehicleWorld, system: System): AnswerNumber {
  const { name } = world.values.node(slot);
  const signature = signatureOf(world.library, name);
  const dimension = signature?.type.is === 'number' ? signature.type.dimension : undefined;
  const common = { name, title: signature?.title ?? name, origin: originOf(world.values.node(slot)).kind, id: valueId(slot, world) };
  if (!dimension) return { ...common, value: null };
  return { ...common, ...show(signature?.unit, dimension, system).amount(world.values.read(slot), toleranceOf(slot, world)) };
}
