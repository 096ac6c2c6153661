import { LRUCache } from 'lru-cache';
import { formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import type { Outcome } from '../../models/result.ts';
import { solvePose } from '../../models/suspension/double-wishbone.ts';
import type { When } from '../../models/suspension/front-study.ts';
import type { FrameName, Obstacle } from '../../models/suspension/geometry.ts';
import { standsLower } from '../../models/suspension/ride-height.ts';
import { steeringLock } from '../../models/suspension/steering-lock.ts';
import type { Contact } from '../../models/suspension/swept-tyre.ts';
import { type GapInputs, isNear, searchGaps, type TyreGaps } from '../../models/suspension/tyre-gaps.ts';
import { add, addScaled, type Vec3 } from '../../models/suspension/vector.ts';
import { bothWays, stacked } from '../../units/index.ts';
import type { Part } from '../assembly.ts';
import { type AskFront, type FrontCase, obstacleOf } from '../front-corner.ts';
import { attributesOf } from '../library-view.ts';
import { MovedByParts } from '../moved-by-parts.ts';
import { subjectOf } from '../places.ts';
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
  isOnTread,
  largestTyreIn,
  liftFor,
  type Near,
  numbering,
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

const searches = new LRUCache<string, Outcome<TyreGaps>>({ max: 256 });

const MOVED = 'the bumper is another one, and the place of its corner is not known; gauge the gap';

const SWEPT = 'tyre swept over travel and lock; double wishbone in closed form';

/** Searched once for a front, what is round it and inputs. */
function searched({ linkage, corner, bench }: FrontCase[When], obstacles: readonly Obstacle[], inputs: GapInputs): Outcome<TyreGaps> {
  const key = [bench.id, JSON.stringify([obstacles, inputs])].join(' ');
  const made = searches.get(key) ?? searchGaps(linkage, corner, obstacles, inputs);
  searches.set(key, made);
  return made;
}

/** Points measured from the hub's face where it stands unladen, as the drawing has them. */
function placedAt(shape: Placed, frame: FrameName, { before: { linkage }, sinceRead: { ride } }: FrontCase, ask: Ask): Placed {
  if (shape.from !== 'hub') return shape;
  const { wheelCentre, wheelAxis } = linkage.hardpoints;
  // What turns with the wheel has moved with it since the design; what is on the chassis has not.
  const pose = frame === 'knuckle' ? undefined : solvePose(linkage, ride.before.travel);
  const [centre, axis] = pose?.ok ? [pose.value.wheelCentre, pose.value.wheelAxis] : [wheelCentre, wheelAxis];
  const face = addScaled(centre, axis, ask.folded('design_wheel_offset', subjectOf('front')).value);
  const origin: Vec3 = frame === 'body' ? add(face, [0, 0, -ask.folded('body_lift_fitted').value]) : face;
  return placedFrom(shape, origin);
}

/** Gaps round a front tyre: by geometry where the drawing is known, and always from what is there now. */
export function gapProviders(world: VehicleWorld, front: AskFront): Provider[] {
  const spreadOf = spreadsOfDrawing<TyreGaps>();
  const parts = new MovedByParts();
  const numbered = numbering<TyreGaps>();
  const { library } = world;
  const { fitted, planned } = structureOf(world);
  const frameOf = (part: Part): FrameName => part.on ?? ((library.kinds.get(part.kind)?.frame ?? 'chassis') as FrameName);
  const obstaclesAt = (corner: number, known: FrontCase, ask: Ask): readonly Obstacle[] =>
    planned('tyre_obstacle', corner).flatMap((part) =>
      part.shape ? [obstacleOf(part.group, placedAt(part.shape, frameOf(part), known, ask), frameOf(part))] : [],
    );
  const undrawn = undrawnGaps(world);
  const byDirection = gapsByDirection(world);
  const bumperReplaced = planned('front_bumper', 0).some(({ replaces }) => replaces.length > 0);

  const corners = new Map<number, ReturnType<typeof findParts>>();
  const findParts = (corner: number) => ({
    axle: world.step(corner, 'axle'),
    tyres: { before: fitted('tyre', corner)[0], after: planned('tyre', corner)[0] },
    wheel: fitted('wheel', corner)[0],
    spacers: fitted('wheel_spacer', corner),
  });
  /** Which parts are there does not change, and is asked thousands of times. */
  const partsOf = (corner: number) => {
    const known = corners.get(corner);
    if (known) return known;
    const found = findParts(corner);
    corners.set(corner, found);
    return found;
  };

  /** What the gap to a part of that frame depends on besides the linkage, before and after; undefined with the reason recorded. */
  const inputsAt = (ask: Ask, corner: number, when: When, frame: FrameName): GapInputs | undefined => {
    const { axle, tyres, wheel, spacers: fittedSpacers } = partsOf(corner);
    const tyre = tyres[when];
    if (!tyre) return void ask.unknown('no tyre is known there');
    const radius = ask.value('tyre.overall_diameter', tyre.subject) / 2;
    const width = ask.value('tyre.section_width', tyre.subject);
    const lock = ask.value('lock_angle', corner) - (when === 'after' ? ask.value('lock_reduced', axle) : 0);
    if (!wheel) return void ask.unknown('no wheel is known there');
    const spacers = sum(fittedSpacers.map(({ subject }) => ask.value('wheel_spacer.thickness', subject)));
    // The drawing has the wheel centre of the design's wheel; what is on it may stand elsewhere already.
    const now = ask.folded('design_wheel_offset', axle).value - ask.value('wheel.offset', wheel.subject) + spacers;
    const outwardShift = when === 'after' ? now + ask.value('wheel_outward_shift', corner) : now;
    const bodyLift = liftFor(frame, ask.value(when === 'after' ? 'body_lift_total' : 'body_lift_fitted'));
    const droop = ask.value(when === 'after' ? 'full_droop' : 'full_droop_fitted', axle);
    const bump = ask.value(when === 'after' ? 'full_bump' : 'full_bump_fitted', axle);
    const shoulder = Math.min(ask.folded('tyre_shoulder_radius', axle).value, width / 2);
    if (Number.isNaN(radius + width + outwardShift + bodyLift + droop + bump + lock + shoulder)) return undefined;
    return {
      tyre: { freeRadius: radius, loadedRadius: radius, sectionWidth: width, shoulderRadius: shoulder },
      outwardShift,
      bodyLift,
      droop,
      bump,
      lock,
    };
  };

  /** The same with the tyre and wheel the vehicle was built with. */
  const asBuiltAt = (ask: Ask, corner: number, known: FrontCase, fitted: GapInputs): GapInputs | undefined => {
    const { axle } = partsOf(corner);
    const [diameter, width] = [ask.folded('design_tyre_diameter', axle).value, ask.folded('design_tyre_width', axle).value];
    if (Number.isNaN(diameter + width)) return void ask.unknown('the tyre it was built with is not known');
    // The travel it was built with is the class's own, not what a drawing that was made to agree with readings has.
    const travel = (name: string, drawn: number): number => {
      const { value } = ask.folded(name, axle);
      return Number.isNaN(value) ? drawn : value;
    };
    const droop = travel('full_droop_as_built', known.before.droop);
    const bump = travel('full_bump_as_built', known.before.bump);
    return {
      ...fitted,
      tyre: { ...fitted.tyre, freeRadius: diameter / 2, loadedRadius: diameter / 2, sectionWidth: width },
      outwardShift: 0,
      bodyLift: 0,
      droop,
      bump,
    };
  };

  const largestAt = largestTyreIn(world);
  const near = gapsNear<GapInputs, TyreGaps>(isNear);
  const gapsAt = (ask: Ask, corner: number, when: When, known: FrontCase, inputs: GapInputs, of: Near = when): Outcome<TyreGaps> =>
    near(of, corner, inputs, () => searched(known[when], obstaclesAt(corner, known, ask), inputs));

  interface Both {
    readonly known: FrontCase;
    readonly before: { readonly gaps: TyreGaps; readonly inputs: GapInputs };
    readonly after: { readonly gaps: TyreGaps; readonly inputs: GapInputs };
  }
  const stateAt = (ask: Ask, corner: number, when: When, known: FrontCase, frame: FrameName) => {
    const inputs = inputsAt(ask, corner, when, frame);
    const gaps = inputs && settled(gapsAt(ask, corner, when, known, inputs), ask);
    return inputs && gaps && { inputs, gaps };
  };
  const bothAt = (ask: Ask, corner: number, frame: FrameName): Both | undefined => {
    const known = front(ask);
    if (!known) return undefined;
    const before = stateAt(ask, corner, 'before', known, frame);
    const after = stateAt(ask, corner, 'after', known, frame);
    return before && after && { known, before, after };
  };
  const partAt = (obstacle: number): { part: Part; corner: number } => ({
    part: world.partOf(obstacle) as Part,
    corner: world.placeOf(obstacle),
  });
  /** Where it is on the planned vehicle is known: another bumper has its corner elsewhere. */
  const isDrawn = (part: Part): boolean => part.shape !== undefined && !isMoved(part);
  const isMoved = ({ kind, state }: Part): boolean => kind === 'bumper_corner' && state === 'fitted' && bumperReplaced;
  /** The obstacle's own shape; undefined with the reason recorded. */
  const shapeOf = (ask: Ask, part: Part): NonNullable<Part['shape']> | undefined =>
    isDrawn(part) ? part.shape : void ask.unknown(isMoved(part) ? MOVED : 'its place is not known; gauge the gap');
  /** The obstacle by geometry: where it is and the gap of both states; undefined with the reason recorded. */
  const swept = (ask: Ask, obstacle: number) => {
    const { part, corner } = partAt(obstacle);
    const shape = shapeOf(ask, part);
    const both = shape && bothAt(ask, corner, frameOf(part));
    const contact = both?.after.gaps.contacts.get(part.group);
    return both && contact && { ...both, contact, id: part.group, corner };
  };

  /** The obstacle as it stands, by geometry; undefined with the reason recorded. */
  const standing = (ask: Ask, obstacle: number) => {
    const { part, corner } = partAt(obstacle);
    const shape = shapeOf(ask, part);
    const known = shape && front(ask);
    const before = known && stateAt(ask, corner, 'before', known, frameOf(part));
    return before && { known, before, shape, corner, id: part.group };
  };
  /** By how much the gap over the whole travel is less than at ride height; a drawing gives that more surely than either. */
  const takenByTravel = (ask: Ask, { known, before, id, corner }: NonNullable<ReturnType<typeof standing>>): number => {
    const ride = known.ride.before;
    const atRide = (travel: number): GapInputs => ({ ...before.inputs, droop: travel - HARDLY, bump: travel + HARDLY });
    const gaps = settled(gapsAt(ask, corner, 'before', known, atRide(ride.travel), 'at ride'), ask);
    if (!gaps) return Number.NaN;
    const spread = spreadOf([gaps, before.gaps], id, () =>
      known.spread('before', (fitted) => {
        const travel = ride.travel + standsLower(fitted, ride);
        return gaps.follow(id, atRide(travel), fitted.linkage) - before.gaps.follow(id, before.gaps.inputs, fitted.linkage);
      }),
    );
    ask.folds(spread);
    return Math.max(0, gaps.follow(id, atRide(ride.travel)) - before.gaps.follow(id, before.inputs));
  };

  const contact = (provides: string, give: (contact: Contact, ask: Ask) => number): Provider => ({
    provides,
    model: SWEPT,
    compute: (ask, obstacle) => {
      const resting = atRest(ask);
      const at = swept(resting, obstacle);
      return at ? give(at.contact, resting) : Number.NaN;
    },
  });

  return [
    ...gaugedGaps(world, {
      isDrawn: (obstacle) => partAt(obstacle).part.shape !== undefined,
      undrawn: (ask, obstacle) => undrawn(ask, obstacle, partAt(obstacle).corner),
      drawn: (ask, obstacle) => {
        const at = standing(ask, obstacle);
        if (!at) return Number.NaN;
        const { known, before, id, shape, corner } = at;
        const built = ask.value('tyre_obstacle.gap_as_built', obstacle);
        // What the class has as built is of the place the class has it at.
        if (!Number.isNaN(built) && !shape.stated) {
          const asBuilt = asBuiltAt(ask, corner, known, before.inputs);
          const gaps = asBuilt && settled(gapsAt(ask, corner, 'before', known, asBuilt), ask);
          return gaps ? built + before.gaps.follow(id, before.inputs) - gaps.follow(id, asBuilt) : Number.NaN;
        }
        const spread = spreadOf([before.gaps], id, () =>
          known.spread('before', ({ linkage }) => before.gaps.follow(id, before.gaps.inputs, linkage)),
        );
        ask.folds(stacked([bothWays(shape.plusMinus), spread]));
        return before.gaps.follow(id, before.inputs);
      },
      takenByTravel: (ask, obstacle) => {
        const at = standing(ask, obstacle);
        return at ? takenByTravel(ask, at) : Number.NaN;
      },
    }),
    {
      provides: 'tyre_gap_change',
      model: SWEPT,
      compute: (ask, obstacle) => {
        const { part, corner } = partAt(obstacle);
        const at = isDrawn(part) ? swept(ask, obstacle) : undefined;
        if (!at) return isDrawn(part) ? Number.NaN : byDirection(ask, obstacle, corner);
        const { before, after, known, id } = at;
        const gap = { before, after };
        const spread = spreadOf([after.gaps, before.gaps], id, () =>
          known.spread('change', ({ linkage }, when) => gap[when].gaps.follow(id, gap[when].gaps.inputs, linkage)),
        );
        // What parts raise it by is aligned again, which carries the wheel elsewhere; how far it then travels is among its inputs.
        const key = `${id} ${numbered(after.gaps)} ${numbered(before.gaps)}`;
        const carried = (end: FrontCase): number =>
          after.gaps.follow(id, after.gaps.inputs, end.after.linkage) - before.gaps.follow(id, before.gaps.inputs, end.before.linkage);
        const change = after.gaps.follow(id, after.inputs) - before.gaps.follow(id, before.inputs);
        const { by, off } = parts.at(ask, known, key, spread, carried);
        ask.folds(off);
        return change + by;
      },
    },
    {
      provides: 'obstacle_trimmed',
      model: 'what work on it has taken off',
      ...formula((ask, obstacle) => {
        const leaf = attributesOf(library, partAt(obstacle).part.kind).get('cut_back')?.leaf;
        return leaf === undefined ? ask.of(0) : ask.value(leaf, obstacle);
      }),
    },
    {
      provides: 'tyre_gap_after',
      model: 'the gap that is there and what the change of tyre, wheel, body and alignment takes of it',
      ...formula((ask, obstacle) =>
        ask.minus(
          ask.sum(['tyre_gap_start', 'tyre_gap_change', 'obstacle_trimmed'].map((name) => ask.value(name, obstacle))),
          ask.value('trim_lost', obstacle),
        ),
      ),
    },
    trimLost(
      (obstacle) => isDrawn(partAt(obstacle).part),
      (ask, obstacle, cut) => {
        const at = swept(ask, obstacle);
        if (!at) return Number.NaN;
        const { after, known, contact, id, corner } = at;
        const drawn = obstaclesAt(corner, known, ask).filter((one) => one.id === id);
        const made = searched(
          known.after,
          drawn.map((one) => cutBack(one, contact, cut)),
          after.gaps.inputs,
        );
        const gaps = settled(made, ask);
        return gaps ? gaps.follow(id, after.inputs) - after.gaps.follow(id, after.inputs) : Number.NaN;
      },
    ),
    {
      provides: 'tyre_gap_start',
      model: 'the gap that is there, to what stays there',
      ...formula((ask, obstacle) => (isMoved(partAt(obstacle).part) ? ask.unknown(MOVED) : ask.value('tyre_gap', obstacle))),
    },
    {
      provides: 'tyre_gap_largest',
      model: 'the same with the largest tyre of that size that its standard allows',
      source: 'un-r30',
      compute: (ask, obstacle) => {
        const resting = atRest(ask);
        const at = swept(resting, obstacle);
        const tyre = at && largestAt(resting, at.corner);
        if (!at || !tyre) return Number.NaN;
        const { known, after, id, corner } = at;
        const inputs = { ...after.inputs, tyre: tyreShape(tyre.diameter, tyre.width, after.inputs.tyre.shoulderRadius) };
        const gaps = settled(gapsAt(ask, corner, 'after', known, inputs), ask);
        if (!gaps) return Number.NaN;
        return ask.value('tyre_gap_after', obstacle) + gaps.follow(id, inputs) - after.gaps.follow(id, after.inputs);
      },
    },
    chainedGap(world, (ask, obstacle, tread, side) => {
      const { part, corner } = partAt(obstacle);
      if (!isDrawn(part)) return undefined;
      const at = swept(ask, obstacle);
      if (!at) return Number.NaN;
      const { known, after, id } = at;
      const inputs = { ...after.inputs, tyre: grownBy(after.inputs.tyre, tread, side) };
      const gaps = settled(gapsAt(ask, corner, 'after', known, inputs, 'chained'), ask);
      return gaps ? after.gaps.follow(id, after.inputs) - gaps.follow(id, inputs) : Number.NaN;
    }),
    {
      provides: 'aired_down_loss',
      model: BULGE_MODEL,
      compute: (ask, obstacle) => {
        const { part, corner } = partAt(obstacle);
        const bulge = ask.value('aired_down_bulge', corner);
        const below = isDrawn(part) ? belowHub(ask, obstacle) : riseBelowHub(ask, obstacle);
        return bulge * below;
      },
    },
    {
      provides: 'running_loss',
      model: 'what rigid geometry leaves out: bush give, growth and bulge of the tyre, the body’s shuffle and lean on its mounts',
      ...formula((ask, obstacle) => {
        const { part } = partAt(obstacle);
        const axle = world.step(obstacle, 'axle');
        const give = ask.value('bush_give', axle);
        const bulge = ask.value('tyre_bulge', axle);
        const own = ask.sum([give, bulge]);
        const frame = frameOf(part);
        // What moves with the wheel gives with it.
        if (frame === 'knuckle' || library.frames.get(frame)?.id === 'rear_axle') return bulge;
        if (frame === 'anti_roll_bar') return ask.sum([own, ask.value('crossed_up_loss', axle)]);
        if (frame !== 'body') return own;
        return ask.sum([own, ask.value('body_shuffle'), ask.times(ask.value('body_lean'), ask.value('body_lean_arm', obstacle))]);
      }),
    },
    contact('contact_travel', ({ travel }) => travel),
    contact('contact_steer', ({ rack }, ask) => {
      const known = front(ask);
      const angle = known && steeringLock(known.after.linkage, { ...known.after.corner.steering, rackTravel: Math.abs(rack) });
      return angle?.ok ? angle.value.inner : 0;
    }),
    contact('contact_on', ({ outOfPlane }) => world.values.intern(partOfTyre(outOfPlane))),
    bodyLeanArm((ask, obstacle) => (isDrawn(partAt(obstacle).part) ? swept(ask, obstacle)?.contact : undefined)),
    contact('contact_way', ({ normal }) => world.values.intern(wayOf(normal))),
    contact('contact_behind', ({ at }) => -at[0]),
    contact('contact_height', ({ at }) => at[2]),
  ];

  /** How far below the hub the tyre is nearest, as a share of its radius; nothing on the tread, which does not bulge. */
  function belowHub(ask: Ask, obstacle: number): number {
    const resting = atRest(ask);
    const at = swept(resting, obstacle);
    if (!at) return Number.NaN;
    const { contact, known, after } = at;
    if (isOnTread(contact.outOfPlane)) return 0;
    const pose = solvePose(known.after.linkage, contact.travel);
    const hub = pose.ok ? pose.value.wheelCentre[2] : known.after.linkage.hardpoints.wheelCentre[2];
    return Math.min(1, Math.max(0, (hub - contact.at[2]) / after.inputs.tyre.freeRadius));
  }
}
