/**
 * Which parts each rule ranges over, on one vehicle: every rule's tuples, and the block of slots of each. Binding
 * looks at kinds and places only; filters on values are asked when the rule is evaluated, since values may change.
 */

import type { Bands } from './band.ts';
import type { CompiledRule } from './compile.ts';
import { type Layout, type Places, resolve } from './layout.ts';
import type { Ranges } from './proof.ts';
import type { Leaf, Selector, SubjectRef } from './tree.ts';
import { type Column, SLOT, type Values } from './values.ts';

export interface World extends Places {
  /** Parts of a kind or of the kinds below it, in the order of the vehicle. */
  parts(kind: string): readonly number[];
  /** Those of them at a place, or at a corner of that axle. */
  partsAt(kind: string, place: number): readonly number[];
  /** Where a part is; -1 if nowhere in particular. */
  placeOf(part: number): number;
  readonly values: Values;
  readonly bands: Bands;
  readonly ranges: Ranges;
}

export interface BoundRule {
  readonly compiled: CompiledRule;
  /** Subjects of the binders, tuple by tuple. */
  readonly tuples: readonly (readonly number[])[];
  readonly slots: Int32Array;
  /** Where each tuple's block starts. */
  readonly starts: Int32Array;
  /** There are more tuples than are taken; then there are none here, and the rule is not answered. */
  readonly tooMany: boolean;
}

/** What a stranger's rule may range over on one vehicle. */
export const MOST_TUPLES = 20_000;

export function bindRule(compiled: CompiledRule, world: World): BoundRule {
  const found = tuplesOf(compiled, world);
  const tooMany = found.length > MOST_TUPLES;
  const tuples = tooMany ? [] : found;
  const slots: number[] = [];
  const starts = Int32Array.from(tuples, (tuple) => writeBlock(compiled.layout, tuple, world, slots, compiled.rule.id));
  return { compiled, tuples, slots: Int32Array.from(slots), starts, tooMany };
}

function tuplesOf({ rule }: CompiledRule, world: World): readonly (readonly number[])[] {
  const [first, ...more] = rule.binders;
  if (!first) return [[]];
  let tuples: number[][] = candidates(first.selector, [], world).map((part) => [part]);
  more.forEach(({ selector }, i) => {
    const twin = rule.binders.findIndex((other, j) => j <= i && sameText(other.selector, selector));
    const longer: number[][] = [];
    for (const tuple of tuples) {
      for (const part of candidates(selector, tuple, world)) {
        if (!tuple.includes(part) && (twin < 0 || part > (tuple[twin] as number))) longer.push([...tuple, part]);
      }
      if (longer.length > MOST_TUPLES) break;
    }
    tuples = longer;
  });
  return tuples;
}

/** Two selectors written alike range over unordered pairs. */
const sameText = (a: Selector, b: Selector): boolean => textOf(a) === textOf(b);
const textOf = ({ span }: Selector): string => span.source.text.slice(span.start, span.end).trim();

export function candidates(selector: Selector, binders: readonly number[], world: World): readonly number[] {
  if (!selector.at) return world.parts(selector.kind);
  const subject = resolve(selector.at, binders, world);
  const place = subject < 0 ? -1 : world.placeOf(subject);
  return place < 0 ? [] : world.partsAt(selector.kind, place);
}

/** Appends a block, inner blocks after it, and gives its start. */
function writeBlock(layout: Layout, binders: readonly number[], world: World, out: number[], owner: string): number {
  const start = out.length;
  const { leaves, folds } = layout.scope;
  const of = columns(layout, world);
  for (let i = 0; i < leaves.length; i++) out.push(leafSlot(leaves[i] as Leaf, of[i] as Column, binders, world));
  for (let i = 0; i < folds.length; i++) out.push(0, 0);
  for (const constant of layout.constants) {
    const name = `${owner}:${constant.span.source.file}:${constant.span.start}`;
    out.push(world.values.constant(name, constant.value, constant.plusMinus));
  }
  for (const { a, b } of layout.comparisons) out.push(resolve(a, binders, world) === resolve(b, binders, world) ? SLOT.yes : SLOT.no);
  folds.forEach((fold, i) => {
    const members = candidates(fold.over, binders, world);
    const first = writeMembers(layout.folds[i] as Layout, fold.binder, members, binders, world, out, owner);
    out[start + layout.foldsAt + 2 * i] = first;
    out[start + layout.foldsAt + 2 * i + 1] = members.length;
  });
  return start;
}

/** Members' blocks stand one behind another, so that a loop can step through them; what they hold in turn comes after. */
function writeMembers(
  layout: Layout,
  binder: number,
  members: readonly number[],
  binders: readonly number[],
  world: World,
  out: number[],
  owner: string,
): number {
  const blocks = members.map((member) => {
    const inner: number[] = [];
    const bound = [...binders];
    bound[binder] = member;
    writeBlock(layout, bound, world, inner, owner);
    return inner;
  });
  const first = out.length;
  let rest = first + layout.size * members.length;
  for (const block of blocks) {
    relocate(layout, block, 0, rest - layout.size);
    out.push(...block.slice(0, layout.size));
    rest += block.length - layout.size;
  }
  for (const block of blocks) out.push(...block.slice(layout.size));
  return first;
}

/** Shifts the pointers of a block, and of the blocks it points at, when it moves. */
function relocate(layout: Layout, block: number[], at: number, by: number): void {
  layout.folds.forEach((inner, i) => {
    const header = at + layout.foldsAt + 2 * i;
    const first = block[header] as number;
    for (let k = 0; k < (block[header + 1] as number); k++) relocate(inner, block, first + k * inner.size, by);
    block[header] = first + by;
  });
}

/** The columns of a scope's leaves in one vehicle's values, looked up once for all tuples. */
function columns(layout: Layout, { values }: World): readonly Column[] {
  const known = columnsKnown.get(values) ?? new Map<Layout, readonly Column[]>();
  columnsKnown.set(values, known);
  const found = known.get(layout) ?? layout.scope.leaves.map(({ name }) => values.column(name));
  known.set(layout, found);
  return found;
}

const columnsKnown = new WeakMap<Values, Map<Layout, readonly Column[]>>();

function leafSlot(leaf: Leaf, column: Column, binders: readonly number[], world: World): number {
  const { subjects } = leaf;
  if (subjects.length > 1) return slotOf(leaf, binders, world);
  if (subjects.length === 0) return world.values.slotIn(column, -1);
  const subject = resolve(subjects[0] as SubjectRef, binders, world);
  return subject < 0 ? SLOT.unknown : world.values.slotIn(column, subject);
}

export function slotOf(leaf: Leaf, binders: readonly number[], world: World): number {
  const subjects = leaf.subjects.map((ref) => resolve(ref, binders, world));
  return subjects.some((subject) => subject < 0) ? SLOT.unknown : world.values.slot(leaf.name, subjects);
}
