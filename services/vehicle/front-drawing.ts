/**
 * The drawing of a front as numbers, asked for in order so that each can be moved, and the two fronts that are built from them: as it stands, and with
 * the planned parts; and as its class builds it.
 */
import type { Ask, Asked } from '../engine/values.ts';
import type { Outcome } from '../models/result.ts';
import type { Linkage } from '../models/suspension/double-wishbone.ts';
import { Corners, type Described, type When } from '../models/suspension/front-study.ts';
import type { FrontCorner } from '../models/suspension/geometry.ts';
import { fitLift, type Lift, liftedCoilOver, longerFor } from '../models/suspension/ride-height.ts';
import { subtract, unit, type Vec3 } from '../models/suspension/vector.ts';
import { bothWays, type HalfWidths, LOOSE, leftTogether, type Pin } from '../units/index.ts';
import type { Part } from './assembly.ts';
import { subjectOf } from './places.ts';
import type { Structure } from './providers/structure.ts';
import type { VehicleWorld } from './world.ts';

const GRAVITY = 9.80665;
const FRONT = subjectOf('front');

/** Shared by all fronts that are studied. */
export const corners = new Corners(4096);

/** What another coil-over may leave unsaid, of the fitted or of the planned vehicle. */
export interface Stated {
  readonly of: 'fitted' | 'planned';
  readonly collapsed: boolean;
  readonly coilBind: boolean;
}

/** A drawing's numbers, with what each may be off, and by how much the class has each otherwise. */
export interface Drawn {
  readonly numbers: readonly number[];
  readonly halfWidths: readonly HalfWidths[];
  readonly pins: readonly Pin[];
  readonly toBuilt: readonly number[];
}

/** A number of the drawing that is a part's, and what its statement leaves open. */
export interface StatedOfPart extends Asked {
  readonly place: number;
  readonly halfWidth: number;
}

/** Numbers asked for in order; each is known by its place, so that it can be moved. */
export class Drawing implements Drawn {
  readonly numbers: number[] = [];
  /** Of a part's number none: it is an input of its own. */
  readonly halfWidths: HalfWidths[] = [];
  readonly toBuilt: number[] = [];
  /** None where nothing was made to agree with readings. */
  readonly pins: Pin[] = [];
  readonly stated: StatedOfPart[] = [];
  /** The first thing missing. */
  missing: string | undefined;
  readonly #ask: Ask;
  readonly #world: VehicleWorld;

  constructor(ask: Ask, world: VehicleWorld) {
    this.#ask = ask;
    this.#world = world;
  }

  /** Needed: without it there is no study. */
  need(name: string, subject = FRONT): number {
    const place = this.read(name, subject);
    if (Number.isNaN(this.numbers[place])) this.#miss([{ name, subject }]);
    return place;
  }

  /** Any one of what was read at those places; the first is the one people are told of. */
  needOne(subject: number, places: Readonly<Record<string, number>>): void {
    if (Object.values(places).every((place) => Number.isNaN(this.numbers[place])))
      this.#miss(Object.keys(places).map((name) => ({ name, subject })));
  }

  #miss(anyOf: readonly Asked[]): void {
    this.missing ??= anyOf[0]?.name;
    this.#ask.lacks(anyOf);
  }

  read(name: string, subject = FRONT): number {
    const { value, off, asBuilt } = this.#ask.folded(name, subject);
    this.numbers.push(value);
    this.toBuilt.push(Number.isNaN(value) ? 0 : asBuilt - value);
    this.halfWidths.push(Number.isNaN(value) ? bothWays(0) : off);
    if (this.#world.assembly.agreed) this.pins.push(this.#pinOf(name, subject, off.rss));
    return this.numbers.length - 1;
  }

  /** Of what the number is, or of all that it is computed from at a slope of one, as its half-width is. */
  #pinOf(name: string, subject: number, halfWidth: number): Pin {
    const { values } = this.#world;
    const below = halfWidth > 0 ? values.givensOf([values.slot(name, [subject])]) : [];
    const offs = below.map((slot) => ({ by: values.toleranceOf(slot), pin: this.#world.pinOf(slot) }));
    if (offs.every(({ pin }) => pin === LOOSE)) return LOOSE;
    const { loose, pinned } = leftTogether(offs);
    return { was: loose / halfWidth, pinned: pinned.map((p) => p / halfWidth) };
  }

  /** A part's number: a band moves it. */
  readPart(name: string, subject = FRONT): number {
    const place = this.read(name, subject);
    const { worst: halfWidth } = this.halfWidths[place] as HalfWidths;
    this.halfWidths[place] = bothWays(0);
    if (halfWidth > 0) this.stated.push({ name, subject, place, halfWidth });
    return place;
  }

  needPart(name: string, subject = FRONT): number {
    const place = this.readPart(name, subject);
    if (Number.isNaN(this.numbers[place])) this.#miss([{ name, subject }]);
    return place;
  }

  drawn(): Drawn {
    const { numbers, halfWidths, pins, toBuilt } = this;
    return { numbers, halfWidths, pins, toBuilt };
  }

  /** A number that is no part of the drawing. */
  folded(name: string, subject = FRONT): number {
    return this.#ask.folded(name, subject).value;
  }

  /** A point that may be unknown. */
  known(name: string): readonly [number, number, number] {
    return [this.read(`${name}_x`), this.read(`${name}_y`), this.read(`${name}_z`)];
  }

  point(name: string): readonly [number, number, number] {
    return [this.need(`${name}_x`), this.need(`${name}_y`), this.need(`${name}_z`)];
  }
}

type Numbers = readonly number[];
export const at = (n: Numbers, place: number): number => n[place] as number;
const optional = (n: Numbers, place: number): number | undefined => (Number.isNaN(at(n, place)) ? undefined : at(n, place));

export interface Building {
  readonly key: string;
  readonly stated: { readonly fitted: Stated; readonly planned: Stated };
  readonly camThrow: number;
  readonly casterAdded: number;
  /** The front as it stands, under what it carries, and as planned. */
  readonly build: (n: Numbers) => readonly [Described, Described];
  /** What the first of those carries more than the empty vehicle, kg of the axle. */
  readonly laden: number;
  /** As the class builds it, from the class's numbers, and as it stands, both unladen; neither asks for more than the first of the numbers. */
  readonly since: (n: Numbers, built: Numbers) => readonly [Described, Described];
  readonly standing: { readonly numbers: number; readonly key: string };
}

export function describeFront(drawing: Drawing, structure: Structure): Building {
  const corner = readCorner(drawing);
  const unsprung = drawing.need('unsprung_corner_mass');
  const load = drawing.need('axle_load_as_fitted');
  const camThrow = drawing.need('cam_throw');
  // People and load alone set it apart from what it carries as built: the axle's own mass is off alike in both.
  const laden = at(drawing.numbers, load) - drawing.folded('kerb_axle_mass');
  const fittedParts = liftParts(drawing, structure.fitted);
  // All before is of the front as it stands, all that follows of what is planned.
  const standing = drawing.numbers.length;
  const loadChange = drawing.need('sprung_load_change');
  const plannedParts = liftParts(drawing, structure.planned);
  const worked = {
    stop: drawing.readPart('bump_stop_extended'),
    diff: drawing.readPart('diff_lowered'),
    back: drawing.readPart('upper_joint_moved_back'),
    out: drawing.readPart('upper_joint_moved_out'),
    swing: drawing.readPart('upper_joint_swing_gained'),
    droop: drawing.readPart('droop_gained'),
  };
  const casterAdded = drawing.readPart('caster_added');
  const carried = (n: Numbers, when: When): number =>
    ((at(n, load) + (when === 'after' ? at(n, loadChange) : 0)) / 2 - at(n, unsprung)) * GRAVITY;
  const asItStands = (n: Numbers, factory: FrontCorner, linkage: Outcome<Linkage>): Described => ({
    ...fitLift(swinging(factory, fittedParts.swing(n)), fittedParts.lift(n, factory, linkage, carried(n, 'before'))),
    sprungLoad: carried(n, 'before'),
  });
  const asPlanned = (n: Numbers, factory: FrontCorner, linkage: Outcome<Linkage>): Described => {
    const lift = plannedParts.lift(n, factory, linkage, carried(n, 'before'));
    const [back, out, up] = lift.upperBallJointInArm ?? [0, 0, 0];
    const moved: Vec3 = [back - at(n, worked.back), out + at(n, worked.out), up];
    const fitted = fitLift(swinging(factory, plannedParts.swing(n) + at(n, worked.swing)), {
      ...lift,
      bumpStopSpacer: (lift.bumpStopSpacer ?? 0) + at(n, worked.stop),
      diffDrop: (lift.diffDrop ?? 0) + at(n, worked.diff),
      ...(moved.some((x) => x !== 0) && { upperBallJointInArm: moved }),
    });
    return { ...hangingLower(at(n, worked.droop), fitted, linkage), sprungLoad: carried(n, 'after') };
  };
  return {
    key: [fittedParts.key, plannedParts.key, laden].join('/'),
    standing: { numbers: standing, key: [fittedParts.key, laden].join('/') },
    stated: { fitted: { of: 'fitted', ...fittedParts.stated }, planned: { of: 'planned', ...plannedParts.stated } },
    camThrow,
    casterAdded,
    laden,
    build: (n) => {
      const factory = corner(n);
      const linkage = corners.linkage(factory.hardpoints);
      return [asItStands(n, factory, linkage), asPlanned(n, factory, linkage)];
    },
    since: (n, built) => {
      const factory = corner(n);
      return [
        { corner: corner(built), change: {}, sprungLoad: ((at(built, load) - laden) / 2 - at(built, unsprung)) * GRAVITY },
        unladen(asItStands(n, factory, corners.linkage(factory.hardpoints)), laden),
      ];
    },
  };
}

/** With so much less on the axle, kg. */
export const unladen = (described: Described, laden: number): Described => ({
  ...described,
  sprungLoad: described.sprungLoad - (laden / 2) * GRAVITY,
});

/** With dampers that let the wheel hang lower; their force on the springs stays what it was at the same length. */
function hangingLower(
  by: number,
  described: Pick<Described, 'corner' | 'change'>,
  linkage: Outcome<Linkage>,
): Pick<Described, 'corner' | 'change'> {
  if (by === 0 || !linkage.ok) return described;
  const { coilOver } = described.corner;
  const extended = longerFor(linkage.value, described.corner, by);
  const springForceExtended = Math.max(0, coilOver.springForceExtended - coilOver.springRate * (extended - coilOver.extended));
  return { ...described, corner: { ...described.corner, coilOver: { ...coilOver, extended, springForceExtended } } };
}

/** With an upper ball joint that swings further. */
function swinging(corner: FrontCorner, by: number): FrontCorner {
  const joint = corner.upperBallJointLimit;
  return joint ? { ...corner, upperBallJointLimit: { ...joint, swingLimit: joint.swingLimit + by } } : corner;
}

/** Parts that lift the front, of the fitted or of the planned vehicle. */
function liftParts(drawing: Drawing, parts: (kind: string, subject: number) => readonly Part[]) {
  const values = (kind: string, attribute: string): readonly number[] =>
    parts(kind, FRONT).map(({ subject }) => drawing.needPart(`${kind}.${attribute}`, subject));
  const [unit] = parts('front_coilover', FRONT);
  const coilOver = unit && {
    height: drawing.readPart('suspension_lift.height_added', unit.subject),
    droop: drawing.readPart('suspension_lift.droop_added', unit.subject),
    extended: drawing.readPart('front_coilover.extended_length', unit.subject),
    collapsed: drawing.readPart('front_coilover.collapsed_length', unit.subject),
    rate: drawing.readPart('front_coilover.spring_rate', unit.subject),
    force: drawing.readPart('front_coilover.force_extended', unit.subject),
    bind: drawing.readPart('front_coilover.coil_bind_length', unit.subject),
  };
  // Two ways to say how high and how low it goes; one of each must be there.
  if (coilOver) {
    const { droop, extended, height, force } = coilOver;
    drawing.needOne(unit.subject, { 'suspension_lift.droop_added': droop, 'front_coilover.extended_length': extended });
    drawing.needOne(unit.subject, { 'suspension_lift.height_added': height, 'front_coilover.force_extended': force });
  }
  const topSpacers = values('coilover_spacer', 'thickness');
  const preloadSpacers = values('preload_spacer', 'thickness');
  const stopSpacers = values('bump_stop_spacer', 'height');
  const drops = values('differential_drop', 'drop');
  const arms = {
    back: values('upper_arms', 'ball_joint_back'),
    out: values('upper_arms', 'ball_joint_out'),
    swing: values('upper_arms', 'joint_swing_gained'),
  };
  const total = (n: Numbers, places: readonly number[]): number => places.reduce((sum, place) => sum + at(n, place), 0);
  return {
    key: [coilOver ? 'c' : '', topSpacers.length, preloadSpacers.length, stopSpacers.length, drops.length, arms.back.length].join(','),
    stated: {
      collapsed: !coilOver || !Number.isNaN(at(drawing.numbers, coilOver.collapsed)),
      coilBind: !coilOver || !Number.isNaN(at(drawing.numbers, coilOver.bind)),
    },
    swing: (n: Numbers): number => total(n, arms.swing),
    lift: (n: Numbers, factory: FrontCorner, linkage: Outcome<Linkage>, load: number): Lift => {
      const stated = coilOver && {
        ...(optional(n, coilOver.extended) !== undefined && { extended: at(n, coilOver.extended) }),
        ...(optional(n, coilOver.rate) !== undefined && { springRate: at(n, coilOver.rate) }),
        ...(optional(n, coilOver.force) !== undefined && { springForceExtended: at(n, coilOver.force) }),
        ...(optional(n, coilOver.bind) !== undefined && { coilBindLength: at(n, coilOver.bind) }),
        // Unknown, it is not taken to end the travel; what it has left is unknown too.
        collapsed: optional(n, coilOver.collapsed) ?? 0,
      };
      const by = coilOver && { height: optional(n, coilOver.height), droop: optional(n, coilOver.droop) };
      const shift: Vec3 = [-total(n, arms.back), total(n, arms.out), 0];
      return {
        ...(stated && { coilOver: linkage.ok ? liftedCoilOver(linkage.value, factory, stated, by ?? {}, load) : stated }),
        topSpacer: total(n, topSpacers),
        preloadSpacer: total(n, preloadSpacers),
        bumpStopSpacer: total(n, stopSpacers),
        diffDrop: total(n, drops),
        ...(shift.some((x) => x !== 0) && { upperBallJointInArm: shift }),
      };
    },
  };
}

function readCorner(d: Drawing): (n: Numbers) => FrontCorner {
  const points = {
    lowerArmFrontBush: d.point('lower_arm_front_bush'),
    lowerArmRearBush: d.point('lower_arm_rear_bush'),
    lowerBallJoint: d.point('lower_ball_joint'),
    upperArmFrontBush: d.point('upper_arm_front_bush'),
    upperArmRearBush: d.point('upper_arm_rear_bush'),
    upperBallJoint: d.point('upper_ball_joint'),
    tieRodInner: d.point('tie_rod_inner'),
    tieRodOuter: d.point('tie_rod_outer'),
    wheelCentre: d.point('wheel_centre'),
  };
  const [camber, toe] = [d.need('design_camber'), d.need('design_toe')];
  const spring = {
    lower: d.point('coil_over_lower'),
    upper: d.point('coil_over_upper'),
    extended: d.need('coil_over_extended'),
    collapsed: d.need('coil_over_collapsed'),
    rate: d.need('coil_over_rate'),
    force: d.need('coil_over_force_extended'),
    radius: d.need('spring_outer_radius'),
    bind: d.read('coil_over_bind_length'),
  };
  const stop = { contact: d.need('bump_stop_contact_length'), solid: d.need('bump_stop_solid_length') };
  const joints = {
    upper: { bias: d.need('upper_joint_bias'), swing: d.need('upper_joint_swing') },
    lower: { bias: d.need('lower_joint_bias'), swing: d.need('lower_joint_swing') },
  };
  const shaft = {
    inner: d.point('half_shaft_inner'),
    outer: d.point('half_shaft_outer'),
    innerMost: d.need('shaft_inner_most_angle'),
    outerMost: d.need('shaft_outer_most_angle'),
    plunge: d.need('shaft_plunge'),
  };
  const hose = {
    chassis: d.point('hose_chassis_end'),
    caliper: d.point('hose_caliper_end'),
    chassisLead: d.known('hose_chassis_lead'),
    caliperLead: d.known('hose_caliper_lead'),
    bend: d.read('hose_least_bend'),
  };
  const bar = { axis: d.point('anti_roll_axis'), lower: d.point('anti_roll_link_lower'), upper: d.point('anti_roll_link_upper') };
  const rack = d.need('rack_travel');
  return (n) => {
    const point = ([x, y, z]: readonly [number, number, number]): Vec3 => [at(n, x), at(n, y), at(n, z)];
    return {
      hardpoints: {
        lowerArmFrontBush: point(points.lowerArmFrontBush),
        lowerArmRearBush: point(points.lowerArmRearBush),
        lowerBallJoint: point(points.lowerBallJoint),
        upperArmFrontBush: point(points.upperArmFrontBush),
        upperArmRearBush: point(points.upperArmRearBush),
        upperBallJoint: point(points.upperBallJoint),
        tieRodInner: point(points.tieRodInner),
        tieRodOuter: point(points.tieRodOuter),
        wheelCentre: point(points.wheelCentre),
        wheelAxis: spinAxis(at(n, camber), at(n, toe)),
      },
      coilOver: {
        lower: point(spring.lower),
        upper: point(spring.upper),
        extended: at(n, spring.extended),
        collapsed: at(n, spring.collapsed),
        springRate: at(n, spring.rate),
        springForceExtended: at(n, spring.force),
        springOuterRadius: at(n, spring.radius),
        ...(optional(n, spring.bind) !== undefined && { coilBindLength: at(n, spring.bind) }),
      },
      bumpStop: { contactLength: at(n, stop.contact), solidLength: at(n, stop.solid) },
      upperBallJointLimit: { neutralBias: at(n, joints.upper.bias), swingLimit: at(n, joints.upper.swing) },
      lowerBallJointLimit: { neutralBias: at(n, joints.lower.bias), swingLimit: at(n, joints.lower.swing) },
      halfShaft: {
        inner: point(shaft.inner),
        outer: point(shaft.outer),
        innerMaxAngle: at(n, shaft.innerMost),
        outerMaxAngle: at(n, shaft.outerMost),
        plungeEachWay: at(n, shaft.plunge),
      },
      // Its length is a part's; here only where its ends are. It is no stop: it must never be the one that ends the travel.
      brakeHose: {
        chassisEnd: point(hose.chassis),
        caliperEnd: point(hose.caliper),
        freeLength: 10,
        ...leads(point(hose.chassis), point(hose.chassisLead), point(hose.caliper), point(hose.caliperLead), optional(n, hose.bend)),
      },
      antiRollBar: { axisPoint: point(bar.axis), axisDirection: [0, 1, 0], linkLower: point(bar.lower), linkUpper: point(bar.upper) },
      steering: { rackTravel: at(n, rack) },
      obstacles: [],
    };
  };
}

/** Which way the hose leaves its fittings and how tightly it bends, where all of it is known. */
function leads(chassis: Vec3, chassisLead: Vec3, caliper: Vec3, caliperLead: Vec3, leastBendRadius: number | undefined) {
  const [chassisDirection, caliperDirection] = [unit(subtract(chassisLead, chassis)), unit(subtract(caliperLead, caliper))];
  return chassisDirection && caliperDirection && leastBendRadius !== undefined
    ? { chassisDirection, caliperDirection, leastBendRadius }
    : undefined;
}

/** Unit direction of the left wheel's axis, outboard: camber + top outboard, toe + front inboard. */
function spinAxis(camber: number, toe: number): Vec3 {
  return [Math.cos(camber) * Math.sin(toe), Math.cos(camber) * Math.cos(toe), -Math.sin(camber)];
}
