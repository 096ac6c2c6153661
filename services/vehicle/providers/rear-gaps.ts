/**
 * Gaps round the tyres of a drawn beam axle at the rear, under the names that gaps of a front tyre have: swept over all places that stops and
 * dampers leave it, level and crossed up. What the class states as built is carried along by the difference that the drawing gives.
 */
import { LRUCache } from 'lru-cache';
import type { Ask, Provider } from '../../engine/values.ts';
import type { Outcome } from '../../models/result.ts';
import { type AxleGaps, type AxleInputs, areNear, searchAxleGaps } from '../../models/suspension/axle-gaps.ts';
import type { AxleContact, AxleObstacle } from '../../models/suspension/axle-sweep.ts';
import { type AxleFrame, type BeamAxle, mostTilt } from '../../models/suspension/beam-axle.ts';
import type { Vec3 } from '../../models/suspension/vector.ts';
import { bothWays, type HalfWidths, stacked } from '../../units/index.ts';
import { type Part, saidKey } from '../assembly.ts';
import { PLACES, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { chainedGap, grownBy } from './chains.ts';
import { gapsByDirection, undrawnGaps } from './gap-readings.ts';
import { structureOf, sum } from './structure.ts';
import {
  atRest,
  BULGE_MODEL,
  bodyLeanArm,
  cutBack,
  gapsNear,
  gaugedGaps,
  HARDLY,
  largestTyreIn,
  liftFor,
  type Near,
  type Placed,
  partOfTyre,
  placedFrom,
  riseBelowHub,
  spreadsOfDrawing,
  trimLost,
  tyreShape,
  wayOf,
} from './swept-gaps.ts';
import { settled } from './tyres.ts';

const REAR = subjectOf('rear');
/** The kind whose gap at full bump is gauged, one side at a time too. */
const ARCH = 'rear_arch';
const SWEPT = 'tyre of a beam axle swept over heave and tilt, up to its stops and dampers';
const searches = new LRUCache<string, Outcome<AxleGaps>>({ max: 256 });

/** Nobody answers for them one by one: each is folded in with its tolerance. */
const DRAWING: Readonly<Record<Exclude<keyof BeamAxle, 'block'>, string>> = {
  halfTrack: 'axle_half_track',
  wheelHeight: 'axle_centre_height',
  rollHeight: 'axle_roll_height',
  stopAt: 'axle_stop_at',
  damperAt: 'axle_damper_at',
  springAt: 'axle_spring_at',
  swingRadius: 'axle_swing_radius',
  swingDrop: 'axle_swing_drop',
};

interface Drawn {
  readonly axle: BeamAxle;
  /** With one number moved by what it may be off, up and down, for each, and by how much further it may be at the worst. */
  readonly moved: readonly { readonly axles: readonly BeamAxle[]; readonly worst: number }[];
}

interface State {
  readonly gaps: AxleGaps;
  readonly inputs: AxleInputs;
}
type When = 'before' | 'after';

/** What the drawing leaves open of a gap, or of how it changes. */
function looseness({ gaps, from, id }: { gaps: AxleGaps; from?: AxleGaps; id: string }, { axle, moved }: Drawn): HalfWidths {
  const at = (one: BeamAxle): number => gaps.follow(id, gaps.inputs, one) - (from ? from.follow(id, from.inputs, one) : 0);
  const rest = at(axle);
  return stacked(
    moved.map((one) => {
      const rss = Math.max(...one.axles.map((axle) => Math.abs(at(axle) - rest)));
      return { worst: rss * one.worst, rss };
    }),
  );
}

/** Searched once for an axle, what is round it and inputs. */
function searched(axle: BeamAxle, obstacles: readonly AxleObstacle[], inputs: AxleInputs): Outcome<AxleGaps> {
  const key = JSON.stringify([obstacles, axle, inputs]);
  const made = searches.get(key) ?? searchAxleGaps(axle, obstacles, inputs);
  searches.set(key, made);
  return made;
}

/** Drawn once for a vehicle: nothing that is folded moves. */
function draw(ask: Ask): Drawn | undefined {
  const entries = Object.entries(DRAWING).map(([key, name]) => ({ key, name, ...ask.folded(name, REAR) }));
  const missing = entries.find(({ value }) => Number.isNaN(value));
  if (missing) return void ask.unknown(`\`${missing.name}\` of the rear axle is not known`);
  const axle = Object.fromEntries(entries.map(({ key, value }) => [key, value])) as unknown as BeamAxle;
  const uncertain = entries.filter(({ off }) => off.rss > 0);
  const moved = uncertain.map(({ key, value, off }) => ({
    axles: [off.rss, -off.rss].map((by) => ({ ...axle, [key]: value + by })),
    worst: off.worst / off.rss,
  }));
  return { axle, moved };
}

export function rearGapProviders(world: VehicleWorld): Provider[] {
  const spreadOf = spreadsOfDrawing<AxleGaps>();
  const { library, assembly } = world;
  const { fitted, planned } = structureOf(world);
  const undrawn = undrawnGaps(world);
  const byDirection = gapsByDirection(world);
  const partOf = (obstacle: number): Part => world.partOf(obstacle) as Part;
  const frameOf = (part: Part): AxleFrame =>
    ((part.on === 'knuckle' ? 'rear_axle' : part.on) ?? library.kinds.get(part.kind)?.frame ?? 'chassis') as AxleFrame;
  const isSaid = (name: string, rank: string): boolean => assembly.said.get(saidKey(name, []))?.some((said) => said.rank === rank) ?? false;
  const drawnAt = (ask: Ask, corner: number, axle: BeamAxle, ride: number): readonly AxleObstacle[] =>
    planned('tyre_obstacle', corner).flatMap((part) => {
      if (!part.shape) return [];
      const frame = frameOf(part);
      const { radius, lines, patches } = part.shape.from === 'hub' ? fromHub(ask, part.shape, frame, axle, ride) : part.shape;
      return [{ id: part.group, frame, radius, lines, patches }];
    });
  /** Points measured from the hub's face where it stands, as the drawing has them: what is not on the axle stands lower against it by what it has risen. */
  const fromHub = (ask: Ask, shape: Placed, frame: AxleFrame, axle: BeamAxle, ride: number): Placed => {
    const face = axle.halfTrack + ask.folded('design_wheel_offset', REAR).value;
    const risen = frame === 'rear_axle' ? 0 : ride;
    const origin: Vec3 = [0, face, axle.wheelHeight + risen - (frame === 'body' ? ask.folded('body_lift_fitted').value : 0)];
    return placedFrom(shape, origin);
  };

  let made: Drawn | undefined;
  const drawing = (ask: Ask): Drawn | undefined => (ask.value('rear_geometry', REAR) === 1 ? made : undefined);
  const isDrawn = (): boolean => assembly.said.has(saidKey(DRAWING.halfTrack, [REAR]));

  /** Travel at which it stands now, from design height. */
  const standsAt = (ask: Ask): number => -ask.folded('raised_before', REAR).value;

  const inputsAt = (ask: Ask, corner: number, when: When, frame: AxleFrame): AxleInputs | undefined => {
    const after = when === 'after';
    const [tyre, wheel] = [(after ? planned : fitted)('tyre', corner)[0], fitted('wheel', corner)[0]];
    if (!tyre || !wheel) return void ask.unknown('no tyre and wheel are known there');
    const diameter = ask.value('tyre.overall_diameter', tyre.subject);
    const width = ask.value('tyre.section_width', tyre.subject);
    const spacers = sum(fitted('wheel_spacer', corner).map(({ subject }) => ask.value('wheel_spacer.thickness', subject)));
    const standsOut = ask.folded('design_wheel_offset', REAR).value - ask.value('wheel.offset', wheel.subject) + spacers;
    const springs = (after ? planned : fitted)('rear_spring', REAR);
    const block = sum(springs.map(({ subject }) => ask.value('rear_spring.block_height', subject)));
    const suffix = after ? '' : '_fitted';
    const [bump, droop] = [ask.value(`full_bump${suffix}`, REAR), ask.value(`full_droop${suffix}`, REAR)];
    const inputs: AxleInputs = {
      tyre: tyreShape(diameter, width, ask.folded('tyre_shoulder_radius', REAR).value),
      outwardShift: after ? standsOut + ask.value('wheel_outward_shift', corner) : standsOut,
      offCentre: ask.value('axle_off_centre', REAR) * (PLACES[corner] === 'rear-left' ? 1 : -1),
      bodyLift: liftFor(frame, ask.value(after ? 'body_lift_total' : 'body_lift_fitted')),
      bump,
      droop,
      ride: Math.min(bump, Math.max(droop, standsAt(ask) - (after ? ask.folded('ride_height_change', REAR).value : 0))),
      block,
    };
    const numbers = [
      diameter,
      width,
      inputs.tyre.shoulderRadius,
      inputs.outwardShift,
      inputs.offCentre,
      inputs.bodyLift,
      bump,
      droop,
      inputs.ride,
      block,
    ];
    return numbers.some(Number.isNaN) ? undefined : inputs;
  };

  const near = gapsNear<AxleInputs, AxleGaps>(areNear);
  const gapsAt = (ask: Ask, corner: number, when: When, axle: BeamAxle, inputs: AxleInputs, of: Near = when): Outcome<AxleGaps> =>
    near(of, corner, inputs, () => searched(axle, drawnAt(ask, corner, axle, standsAt(ask)), inputs));
  const stateAt = (ask: Ask, corner: number, when: When, axle: BeamAxle, frame: AxleFrame): State | undefined => {
    const inputs = inputsAt(ask, corner, when, frame);
    const gaps = inputs && settled(gapsAt(ask, corner, when, axle, inputs), ask);
    return inputs && gaps && { gaps, inputs };
  };
  /** The obstacle by geometry, before and after; undefined with the reason recorded. */
  const swept = (ask: Ask, obstacle: number) => {
    const part = partOf(obstacle);
    if (!part.shape) return void ask.unknown('its place is not known; gauge the gap');
    const corner = world.placeOf(obstacle);
    const drawn = drawing(ask);
    const before = drawn && stateAt(ask, corner, 'before', drawn.axle, frameOf(part));
    const after = before && stateAt(ask, corner, 'after', drawn.axle, frameOf(part));
    const contact = after?.gaps.contacts.get(part.group);
    return drawn && before && after && contact && { drawn, before, after, contact, id: part.group, corner };
  };
  /** With the tyre and wheel it was built with, on the axle as it stands. */
  const asBuiltAt = (ask: Ask, { inputs }: State): AxleInputs | undefined => {
    const [diameter, width] = ['design_tyre_diameter', 'design_tyre_width'].map((name) => ask.folded(name, REAR).value) as [number, number];
    if (Number.isNaN(diameter + width)) return void ask.unknown('the tyre it was built with is not known');
    return {
      ...inputs,
      tyre: tyreShape(diameter, width, inputs.tyre.shoulderRadius),
      outwardShift: 0,
      offCentre: 0,
      bodyLift: 0,
      block: 0,
    };
  };

  const gaugedAtBump = (ask: Ask, obstacle: number): number =>
    partOf(obstacle).kind === ARCH ? ask.value(`${ARCH}.gap_at_bump`, obstacle) : Number.NaN;
  const drawnGap = (ask: Ask, obstacle: number): number => {
    const at = standsThere(ask, obstacle);
    if (!at) return Number.NaN;
    const { drawn, before, id, shape, corner } = at;
    const { gaps, inputs } = before;
    const now = gaps.follow(id, inputs);
    const built = ask.value('tyre_obstacle.gap_as_built', obstacle);
    // What the class has as built is of the place the class has it at.
    if (Number.isNaN(built) || shape.stated) {
      const spread = spreadOf([gaps], id, () => looseness({ gaps, id }, drawn));
      ask.folds(stacked([bothWays(shape.plusMinus), spread]));
      return now;
    }
    const inputsBuilt = asBuiltAt(ask, before);
    const gapsBuilt = inputsBuilt && settled(gapsAt(ask, corner, 'before', drawn.axle, inputsBuilt), ask);
    return gapsBuilt ? built + now - gapsBuilt.follow(id, inputsBuilt) : Number.NaN;
  };
  /** The obstacle as it stands, by geometry; undefined with the reason recorded. */
  const standsThere = (ask: Ask, obstacle: number) => {
    const part = partOf(obstacle);
    const { shape, group: id } = part;
    const corner = world.placeOf(obstacle);
    const drawn = shape && drawing(ask);
    const before = drawn && stateAt(ask, corner, 'before', drawn.axle, frameOf(part));
    return before && { drawn, before, shape, corner, id };
  };
  /** By how much the gap over all places is less than where it stands; a drawing gives that more surely than either. */
  const takenByTravel = (ask: Ask, obstacle: number): number => {
    const at = standsThere(ask, obstacle);
    if (!at) return Number.NaN;
    const { drawn, before, id, corner } = at;
    const { ride } = before.inputs;
    const inputs = { ...before.inputs, droop: ride - HARDLY, bump: ride + HARDLY };
    const gaps = settled(gapsAt(ask, corner, 'before', drawn.axle, inputs, 'at ride'), ask);
    if (!gaps) return Number.NaN;
    ask.folds(spreadOf([gaps, before.gaps], id, () => looseness({ gaps, from: before.gaps, id }, drawn)));
    return Math.max(0, gaps.follow(id, inputs) - before.gaps.follow(id, before.inputs));
  };

  const change = (ask: Ask, obstacle: number): number => {
    if (!partOf(obstacle).shape || !isDrawn()) return byDirection(ask, obstacle, world.placeOf(obstacle));
    const at = swept(ask, obstacle);
    if (!at) return Number.NaN;
    const { before, after, id, drawn } = at;
    ask.folds(spreadOf([after.gaps, before.gaps], id, () => looseness({ gaps: after.gaps, from: before.gaps, id }, drawn)));
    return after.gaps.follow(id, after.inputs) - before.gaps.follow(id, before.inputs);
  };

  const largestAt = largestTyreIn(world);
  const largest = (ask: Ask, obstacle: number): number => {
    const resting = atRest(ask);
    const at = swept(resting, obstacle);
    const tyre = at && largestAt(resting, at.corner);
    if (!tyre) return Number.NaN;
    const { after, id, corner, drawn } = at;
    const inputs = { ...after.inputs, tyre: tyreShape(tyre.diameter, tyre.width, after.inputs.tyre.shoulderRadius) };
    const gaps = settled(gapsAt(ask, corner, 'after', drawn.axle, inputs), ask);
    return gaps ? ask.value('tyre_gap_after', obstacle) + gaps.follow(id, inputs) - after.gaps.follow(id, after.inputs) : Number.NaN;
  };
  /** Told as it is with nothing moved. */
  const told = (provides: string, give: (at: NonNullable<ReturnType<typeof swept>>, ask: Ask, obstacle: number) => number): Provider => ({
    provides,
    model: SWEPT,
    compute: (ask, obstacle) => {
      const resting = atRest(ask);
      const at = swept(resting, obstacle);
      return at ? give(at, resting, obstacle) : Number.NaN;
    },
  });
  const contact = (provides: string, give: (contact: AxleContact) => number): Provider => told(provides, (at) => give(at.contact));
  /** What is left in another posture: the gap there is, and what geometry makes of the posture. */
  const inPosture = (provides: string, of: 'level' | 'oneWheel'): Provider =>
    told(
      provides,
      ({ after, contact: { gap }, id }, ask, obstacle) => ask.value('tyre_gap_after', obstacle) + after.gaps.level(id)[of] - gap,
    );
  /** What of the gap one metre of a change gains, to first order. */
  const gain = (provides: string, by: (inputs: AxleInputs) => AxleInputs): Provider =>
    told(provides, ({ after, id }) => (after.gaps.follow(id, by(after.inputs)) - after.gaps.follow(id, after.inputs)) / STEP);
  const intern = (text: string): number => world.values.intern(text);

  return [
    {
      provides: 'rear_geometry',
      model: 'wheels, stops, dampers and springs of a beam axle',
      compute: (ask) => {
        made = draw(ask);
        return made ? 1 : Number.NaN;
      },
    },
    ...gaugedGaps(world, {
      isDrawn: (obstacle) => partOf(obstacle).shape !== undefined && isDrawn(),
      gauged: gaugedAtBump,
      undrawn: (ask, obstacle) => undrawn(ask, obstacle, world.placeOf(obstacle)),
      drawn: drawnGap,
      takenByTravel,
    }),
    { provides: 'tyre_gap_change', model: SWEPT, compute: change },
    {
      provides: 'tyre_gap_largest',
      model: 'the same with the largest tyre of that size that its standard allows',
      source: 'un-r30',
      compute: largest,
    },
    chainedGap(world, (ask, obstacle, tread, side) => {
      if (!partOf(obstacle).shape || !isDrawn()) return undefined;
      const at = swept(ask, obstacle);
      if (!at) return Number.NaN;
      const { after, id, corner, drawn } = at;
      const inputs = { ...after.inputs, tyre: grownBy(after.inputs.tyre, tread, side) };
      const gaps = settled(gapsAt(ask, corner, 'after', drawn.axle, inputs, 'chained'), ask);
      return gaps ? after.gaps.follow(id, after.inputs) - gaps.follow(id, inputs) : Number.NaN;
    }),
    {
      provides: 'aired_down_loss',
      model: BULGE_MODEL,
      compute: (ask, obstacle) => {
        const bulge = ask.value('aired_down_bulge', world.placeOf(obstacle));
        if (!partOf(obstacle).shape || !isDrawn()) return bulge * riseBelowHub(ask, obstacle);
        const at = swept(atRest(ask), obstacle);
        return at ? at.after.gaps.bulged(at.id, bulge) : Number.NaN;
      },
    },
    contact('contact_travel', ({ travel }) => travel),
    // Rear wheels are not steered; what a tilt turns them by is in the sweep.
    contact('contact_steer', () => 0),
    contact('contact_tilt', ({ place }) => Math.asin(place.tilt)),
    told('contact_posture', ({ contact: { frame, place }, after, drawn }) =>
      intern(postureOf(frame, place.tilt / mostTilt(drawn.axle, after.inputs))),
    ),
    contact('contact_on', ({ outOfPlane }) => intern(partOfTyre(outOfPlane))),
    bodyLeanArm((ask, obstacle) => (partOf(obstacle).shape && isDrawn() ? swept(ask, obstacle)?.contact : undefined)),
    trimLost(
      (obstacle) => partOf(obstacle).shape !== undefined && isDrawn(),
      (ask, obstacle, cut) => {
        const at = swept(ask, obstacle);
        if (!at) return Number.NaN;
        const { after, contact, id, corner, drawn } = at;
        const own = drawnAt(ask, corner, drawn.axle, standsAt(ask)).filter((one) => one.id === id);
        const made = searched(
          drawn.axle,
          own.map((one) => cutBack(one, contact, cut)),
          after.gaps.inputs,
        );
        const gaps = settled(made, ask);
        return gaps ? gaps.follow(id, after.inputs) - after.gaps.follow(id, after.inputs) : Number.NaN;
      },
    ),
    told('contact_way', ({ contact: { normal } }) => intern(wayOf(normal))),
    contact('contact_behind', ({ at }) => -at[0]),
    contact('contact_height', ({ at }) => at[2]),
    inPosture('tyre_gap_level', 'level'),
    inPosture('tyre_gap_one_wheel', 'oneWheel'),
    gain('gap_gained_by_stop', (inputs) => ({ ...inputs, bump: inputs.bump - STEP })),
    gain('gap_gained_by_wheel_out', (inputs) => ({ ...inputs, outwardShift: inputs.outwardShift + STEP })),
    ...travelProviders(isSaid),
  ];
}

/** A millimetre. */
const STEP = 1e-3;

/** Less than that of the most tilt is none. */
const LEVEL = 0.02;

function postureOf(frame: AxleFrame, share: number): string {
  if (frame === 'rear_axle') return 'in every posture alike';
  if (Math.abs(share) < LEVEL) return 'with both wheels alike';
  return share > 0 ? 'crossed up, this wheel up and the other down' : 'crossed up, this wheel down and the other up';
}

/** Where both wheels alike are hard up and where they hang, from design height. A class's own readings are of the height it was built with. */
function travelProviders(isSaid: (name: string, rank: string) => boolean): Provider[] {
  const raised = (ask: Ask, name: string): number =>
    ['measured', 'catalogue', 'stated'].some((rank) => isSaid(name, rank)) ? ask.value('raised_before', REAR) : 0;
  const bump: Provider['compute'] = (ask) => ask.value('bump_travel_left', REAR) - raised(ask, 'rear_stop_gap');
  const droop: Provider['compute'] = (ask) => -ask.value('droop_travel_left', REAR) - raised(ask, 'rear_damper_droop_left');
  return [
    { provides: 'full_bump_fitted', model: 'gap to the stop and the part of its rubber that can be pressed', compute: bump },
    {
      provides: 'full_bump',
      model: 'as it stands, less what work has the stop reach further',
      compute: (ask) => ask.value('full_bump_fitted', REAR) - ask.value('rear_stop_extended'),
    },
    { provides: 'full_droop_fitted', model: 'the dampers fully out', compute: droop },
    {
      provides: 'full_droop',
      model: 'as it stands, and what springs and dampers let it hang lower',
      compute: (ask) => ask.value('full_droop_fitted', REAR) - ask.value('droop_added', REAR),
    },
  ];
}
