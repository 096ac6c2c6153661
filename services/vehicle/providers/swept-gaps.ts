/** What gaps by geometry have in common, of a steered front tyre and of one on a beam axle. */
import { formula } from '../../engine/formula.ts';
import type { Ask, Folded, Provider } from '../../engine/values.ts';
import { found, type Outcome } from '../../models/result.ts';
import { leanArm, MOUNTS_ABOVE_FRAME } from '../../models/suspension/body-lean.ts';
import { add, addScaled, type Vec3 } from '../../models/suspension/vector.ts';
import { parseDesignation } from '../../models/tyres/designation.ts';
import { largestEnvelope } from '../../models/tyres/dimensions.ts';
import type { HalfWidths } from '../../units/index.ts';
import { type Part, saidKey } from '../assembly.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';
import { settled } from './tyres.ts';

export type Placed = NonNullable<Part['shape']>;

/** A shape whose points were measured from somewhere, as from the origin of the drawing. */
export function placedFrom(shape: Placed, origin: Vec3): Placed {
  const moved = (run: Placed['lines'][number]) => run.map((point) => add(point, origin));
  return { ...shape, lines: shape.lines.map(moved), patches: shape.patches.map(moved) };
}

/** The place of a contact is told as it is with nothing moved: a tolerance does not move it to first order. */
export const atRest = (ask: Ask): Ask => ({ ...ask, value: (name, ...subjects) => ask.folded(name, ...subjects).value });

/** A body lift of unknown height leaves the gap to what stands on the frame, or moves with the wheel, where it is. */
export const liftFor = (frame: string, lift: number): number => (Number.isNaN(lift) && frame !== 'body' ? 0 : lift);

const TREAD = (3 * Math.PI) / 180;
const WALL = (75 * Math.PI) / 180;

export const isOnTread = (outOfPlane: number): boolean => Math.abs(outOfPlane) < TREAD;

/** Where on the tyre a contact is, by the way it looks: straight out of the tread, straight out of a wall, or between. */
export function partOfTyre(outOfPlane: number): string {
  if (isOnTread(outOfPlane)) return 'tread';
  return `${outOfPlane > 0 ? 'outer' : 'inner'} ${Math.abs(outOfPlane) > WALL ? 'sidewall' : 'shoulder'}`;
}

/** A tyre for clearance, by its outside; its shoulders are no rounder than it is wide. Metres. */
export const tyreShape = (diameter: number, width: number, shoulder: number) => ({
  freeRadius: diameter / 2,
  loadedRadius: diameter / 2,
  sectionWidth: width,
  shoulderRadius: Math.min(shoulder, width / 2),
});

/** The planned tyre at the most its standard allows, on the planned rim; undefined with the reason recorded. */
export function largestTyreIn(world: VehicleWorld) {
  const { planned } = structureOf(world);
  return (ask: Ask, corner: number) => {
    const [tyre, wheel] = [planned('tyre', corner)[0], planned('wheel', corner)[0]];
    const typed = tyre && ask.text('tyre.designation', tyre.subject);
    if (typed === undefined) return void ask.unknown('the designation of the tyre is not known');
    const size = settled(parseDesignation(typed), ask);
    const rim = wheel ? ask.value('wheel.rim_width', wheel.subject) : Number.NaN;
    return size && settled(largestEnvelope(size, Number.isNaN(rim) ? undefined : rim), ask);
  };
}

/** Travel either side of ride height that a search there is given, metres. */
export const HARDLY = 1e-4;

interface Standing {
  readonly isDrawn: (obstacle: number) => boolean;
  /** Gauged at full bump: it goes before all else. NaN where it was not. */
  readonly gauged?: (ask: Ask, obstacle: number) => number;
  /** What does without a drawing; it may ask for the gap at ride height, which hangs on the drawn one alone. */
  readonly undrawn: (ask: Ask, obstacle: number) => number;
  /** By the drawing, and what the class has as built. */
  readonly drawn: (ask: Ask, obstacle: number) => number;
  /** By how much the gap over the whole travel is less than where it stands, with what the drawing leaves open of it. */
  readonly takenByTravel: (ask: Ask, obstacle: number) => number;
}

/**
 * The gap that is there to what is drawn: as drawn, or as gauged at ride height less what the drawing has travel take of that, where all it takes and
 * the reading's tolerance are less than the class leaves open. What turns and rises with the wheel is settled by such a reading; what is above the tyre is not.
 */
export function gaugedGaps({ assembly }: VehicleWorld, { isDrawn, gauged, undrawn, drawn, takenByTravel }: Standing): Provider[] {
  const isGauged = (obstacle: number): boolean => assembly.said.has(saidKey('tyre_gap_at_ride', [obstacle]));
  const taken: Provider['compute'] = (ask, obstacle) => (isDrawn(obstacle as number) ? takenByTravel(ask, obstacle as number) : Number.NaN);
  return [
    {
      provides: 'tyre_gap_drawn',
      model: 'tyre swept over its travel, from what the class has as built',
      compute: (ask, obstacle) => (isDrawn(obstacle as number) ? drawn(ask, obstacle as number) : Number.NaN),
    },
    { provides: 'gap_taken_by_travel', model: 'tyre swept over its travel, against where it stands', compute: taken },
    {
      provides: 'tyre_gap_at_ride',
      model: 'the least gap, and what the way there from ride height takes',
      ...formula((ask, obstacle) =>
        isDrawn(obstacle as number)
          ? ask.sum([ask.value('tyre_gap_drawn', obstacle), ask.value('gap_taken_by_travel', obstacle)])
          : ask.unknown('nothing given'),
      ),
    },
    {
      provides: 'tyre_gap',
      model: 'as drawn, or as gauged at ride height less what travel takes',
      compute: (ask, obstacle) => {
        const atBump = gauged?.(ask, obstacle as number) ?? Number.NaN;
        if (!Number.isNaN(atBump)) return atBump;
        if (!isDrawn(obstacle as number)) return undrawn(ask, obstacle as number);
        if (!isGauged(obstacle)) return ask.value('tyre_gap_drawn', obstacle);
        const [built, taken] = ['tyre_obstacle.gap_as_built', 'gap_taken_by_travel'].map((name) => ask.folded(name, obstacle)) as [
          Folded,
          Folded,
        ];
        const isBetter = !Number.isNaN(built.value) && ask.halfWidths('tyre_gap_at_ride', obstacle).worst + taken.value >= built.off.worst;
        if (isBetter) return ask.value('tyre_gap_drawn', obstacle);
        return ask.value('tyre_gap_at_ride', obstacle) - ask.value('gap_taken_by_travel', obstacle);
      },
    },
  ];
}

export const BULGE_MODEL = 'bulge of the wall, all of it at the ground and nothing from the hub up';

/** How far below the hub something is that nobody has drawn, as a share of the radius: by the direction of its contact. */
export const riseBelowHub = (ask: Ask, obstacle: number): number => Math.max(0, -Math.sin(ask.value('contact_rise', obstacle)));

const WAYS = [
  ['forward', 'rearward'],
  ['outward', 'inward'],
  ['up', 'down'],
] as const;

/** A direction beside a left wheel in words, by its shares along the vehicle, across it and upright; those under a thousandth are left out. */
export function wayOf(direction: Vec3): string {
  const shares = direction.flatMap((share, i) => {
    const percent = Math.round(1000 * Math.abs(share)) / 10;
    return percent === 0 ? [] : [`${percent} % ${WAYS[i]![share > 0 ? 0 : 1]}`];
  });
  return shares.length < 2 ? shares.join('') : `${shares.slice(0, -1).join(', ')} and ${shares.at(-1)}`;
}

interface Cut {
  readonly normal: Vec3;
}

/**
 * What of a cut gains no gap: what was taken off moves the whole of a drawn thing straight back from the tyre where they are nearest,
 * and then another place of it may be. Nothing where nothing is drawn or searched: the cut is made where the gap was gauged.
 */
export const trimLost = (
  isDrawn: (obstacle: number) => boolean,
  gained: (ask: Ask, obstacle: number, cut: number) => number,
): Provider => ({
  provides: 'trim_lost',
  model: 'the thing moved back, and its gap searched again',
  compute: (ask, obstacle) => {
    const cut = ask.value('obstacle_trimmed', obstacle);
    if (!(cut > 0) || !isDrawn(obstacle)) return Number.isNaN(cut) ? cut : 0;
    const gap = gained(ask, obstacle, cut);
    return Number.isNaN(gap) ? 0 : cut - gap;
  },
  range: (ask, obstacle) => (isDrawn(obstacle) ? ask.unknown('searched') : ask.of(0)),
});

/** Moved straight back from the tyre by so much. */
export function cutBack<T extends { readonly lines: Placed['lines']; readonly patches: Placed['patches'] }>(
  of: T,
  { normal }: Cut,
  cut: number,
): T {
  const back = (run: Placed['lines'][number]) => run.map((point) => addScaled(point, normal, cut));
  return { ...of, lines: of.lines.map(back), patches: of.patches.map(back) };
}

interface LookedAt {
  readonly at: Vec3;
  readonly normal: Vec3;
}

/** How far a contact is from what the body leans about; undefined where nothing is drawn. */
export const bodyLeanArm = (contactOf: (ask: Ask, obstacle: number) => LookedAt | undefined): Provider => ({
  provides: 'body_lean_arm',
  model: 'a body that turns about its mounts; not drawn, as for something straight above the tyre',
  compute: (ask, obstacle) => {
    const contact = contactOf(atRest(ask), obstacle);
    return contact
      ? leanArm(contact.at, contact.normal, ask.folded('frame_height').value + MOUNTS_ABOVE_FRAME)
      : ask.folded('wheel_track').value / 2;
  },
});

/** With chains on, the planned tyre is so much larger that it is searched for itself; at ride height there is no travel. */
export type Near = 'before' | 'after' | 'chained' | 'at ride';

/**
 * Gaps near those inputs: of the searches made for that corner the first that is near, or a search of its own. What is wide of
 * one search is searched a few times over, not at every step of a band; equal inputs have the same search each time.
 */
export function gapsNear<I, G extends { readonly inputs: I }>(isNear: (a: I, b: I) => boolean) {
  const searched = new Map<string, G[]>();
  return (near: Near, corner: number, inputs: I, search: () => Outcome<G>): Outcome<G> => {
    const key = `${near} ${corner}`;
    const bases = searched.get(key) ?? [];
    const base = bases.find((one) => isNear(one.inputs, inputs));
    if (base) return found(base);
    const made = search();
    if (made.ok) searched.set(key, [...bases, made.value]);
    return made;
  };
}

/** Numbers objects as they come, so that they can stand in a key. */
export function numbering<G extends object>() {
  const numbers = new Map<G, number>();
  return (one: G): number => {
    const number = numbers.get(one) ?? numbers.size;
    numbers.set(one, number);
    return number;
  };
}

/**
 * The drawing's spread is taken once for the searches it is of, all of them, not at every step of a band. It is kept for one
 * vehicle: searches are remembered from others, which may leave more open of their points.
 */
export function spreadsOfDrawing<G extends object>() {
  const numberOf = numbering<G>();
  const spreads = new Map<string, HalfWidths>();
  return (searched: readonly G[], id: string, compute: () => HalfWidths): HalfWidths => {
    const key = `${searched.map(numberOf)} ${id}`;
    const spread = spreads.get(key) ?? compute();
    spreads.set(key, spread);
    return spread;
  };
}
