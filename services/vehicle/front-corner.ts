/**
 * The front corner of a vehicle as the suspension's models want it: one drawing of numbers from values and parts, and
 * the study made of it. Nobody reads a hardpoint with a tape, so the drawing's tolerances are folded into what the
 * study answers; what people do read (gaps, lock, tyre, wheel) stays an input of its own. So does what is stated of the
 * parts (how far a lift lets the wheel hang, a spacer's thickness): the front is studied at both ends of each.
 */
import { LRUCache } from 'lru-cache';
import type { Shape } from '../engine/tree.ts';
import type { Ask, Asked, Provider } from '../engine/values.ts';
import type { Outcome } from '../models/result.ts';
import { found } from '../models/result.ts';
import { type Adjuster, type Alignment, type AlignmentTargets, align } from '../models/suspension/alignment.ts';
import { type Linkage, solvePose } from '../models/suspension/double-wishbone.ts';
import {
  Corners,
  type Described,
  type End,
  type Fitted,
  type FrontStudy,
  studyFront,
  type When,
} from '../models/suspension/front-study.ts';
import type { FrameName, FrontCorner, Obstacle } from '../models/suspension/geometry.ts';
import { fitLift, type Lift, liftedCoilOver, longerFor, type RideHeight, rideHeight } from '../models/suspension/ride-height.ts';
import { subtract, unit, type Vec3 } from '../models/suspension/vector.ts';
import { wheelAngles } from '../models/suspension/wheel-angles.ts';
import { bothWays, type HalfWidths, LOOSE, leftTogether, type Pin, stacked } from '../units/index.ts';
import type { Part } from './assembly.ts';
import { subjectOf } from './places.ts';
import { type Structure, structureOf } from './providers/structure.ts';
import { settled } from './providers/tyres.ts';
import type { VehicleWorld } from './world.ts';

const GRAVITY = 9.80665;

/** SI; how far the drawing leaves it open is worked out when it is asked for. */
export interface Known {
  readonly value: number;
  readonly off: () => HalfWidths;
}

/** Two states of one front and what parts make of the one to be the other. */
export interface Compared extends FrontStudy {
  /** Where it stands on its springs. */
  readonly ride: { readonly before: RideHeight; readonly after: RideHeight };
  /** The parts of the later state say where its damper runs solid, and where its coils touch. */
  readonly stated: Stated;
}

/** What another coil-over may leave unsaid, of the fitted or of the planned vehicle. */
interface Stated {
  readonly of: 'fitted' | 'planned';
  readonly collapsed: boolean;
  readonly coilBind: boolean;
}

/**
 * From the front as it stands to the planned one. Its `after` is aligned: camber, caster and toe brought back to what
 * they were, as far as the cams go.
 */
export interface FrontCase extends Compared {
  /** Two cases with the same key are the same. */
  readonly key: string;
  /** With the new parts and nothing adjusted. */
  readonly unaligned: Compared;
  /** From the front as the class builds it, unladen, to the one that stands there. */
  readonly sinceBuilt: Compared;
  /** At ride height, before aligning. */
  readonly camberChange: Known;
  readonly casterChange: Known;
  /** How far aligning carries the wheel forward at ride height. */
  readonly wheelForward: number;
  /** How far one of the cams must move from where it is. */
  readonly camNeeded: () => Known;
  /** How far back and out another upper ball joint brings the angles back with the cams as they were. */
  readonly jointNeeded: () => { readonly back: number; readonly out: number } | undefined;
  /** What is stated of its parts and leaves something open. */
  readonly inputs: readonly PartInput[];
}

/** A number stated of a part, and the same front with it at either end of its tolerance. */
interface PartInput {
  readonly name: string;
  readonly subject: number;
  readonly value: number;
  readonly halfWidth: number;
  readonly down: () => Outcome<FrontCase>;
  readonly up: () => Outcome<FrontCase>;
}

/** A number of the case as what is stated of its parts then is: by how much it lies elsewhere, and how far the drawing leaves it open there. */
interface Moved {
  readonly by: number;
  readonly off: HalfWidths;
}

/** Of one number of the case: what either end of an input makes of it. */
interface Leverage {
  readonly input: PartInput;
  readonly ends: readonly [Moved, Moved];
}

/** Taken by less than this part of what the drawing leaves open, it is left as open as it was. */
const HARDLY = 0.25;

/** Less than that is nothing: metres, radians. */
const NOTHING = 1e-9;

/**
 * What a number of the case is with what is stated of its parts moved: each by itself, in a straight line from what it is to
 * either end. Ends are asked with nothing else moved, once for each `key`; what does not move the number is no input of it.
 * The drawing may leave more open at an end than in the middle, and is asked there too.
 */
export class MovedByParts {
  readonly #known = new Map<string, readonly Leverage[]>();

  at(ask: Ask, front: FrontCase, key: string, off: HalfWidths, of: (end: FrontCase) => number, offAt = (_: FrontCase) => off): Moved {
    let all = this.#known.get(key);
    if (!all) {
      all = front.inputs.flatMap((input) => leverageOf(input, of(front), off, of, offAt));
      this.#known.set(key, all);
    }
    let moved: Moved = { by: 0, off };
    for (const { input, ends } of all) {
      const part = (ask.sloped(input.name, input.subject) - input.value) / input.halfWidth;
      if (part === 0) continue;
      const [share, end] = [Math.abs(part), ends[part < 0 ? 0 : 1]];
      const wider = { worst: share * end.off.worst, rss: share * end.off.rss };
      moved = {
        by: moved.by + share * end.by,
        off: { worst: moved.off.worst + (wider.worst || 0), rss: moved.off.rss + (wider.rss || 0) },
      };
    }
    return moved;
  }
}

function leverageOf(
  input: PartInput,
  nominal: number,
  off: HalfWidths,
  of: (end: FrontCase) => number,
  offAt: (end: FrontCase) => HalfWidths,
): Leverage[] {
  const ends = [input.down(), input.up()].map((end): Moved => {
    const by = end.ok ? of(end.value) - nominal : Number.NaN;
    const there = end.ok && Math.abs(by) > HARDLY * off.rss ? offAt(end.value) : off;
    return { by, off: { worst: Math.max(0, there.worst - off.worst), rss: Math.max(0, there.rss - off.rss) } };
  }) as [Moved, Moved];
  return ends.every(({ by }) => Math.abs(by) <= NOTHING) ? [] : [{ input, ends }];
}

const studies = new LRUCache<string, Outcome<FrontCase>>({ max: 32 });
/** From as built to as it stands: the same for all that is planned. */
const standings = new LRUCache<string, Outcome<Compared>>({ max: 64 });
const corners = new Corners(4096);

const FRONT = subjectOf('front');

/** How the case of a vehicle is asked for from within a provider; undefined with the reason recorded. */
export type AskFront = (ask: Ask) => FrontCase | undefined;

export interface Front {
  readonly provider: Provider;
  readonly case: AskFront;
}

/** The case rests on one node of the graph, which rests on the drawing: no band moves either, so it is made once. */
export function frontOf(world: VehicleWorld): Front {
  const structure = structureOf(world);
  let made: Outcome<FrontCase> | undefined;
  return {
    provider: {
      provides: 'front_geometry',
      model: 'double wishbone in closed form, from hardpoints, springs and stops',
      compute: (ask) => {
        const drawing = new Drawing(ask, world);
        made = caseOf(drawing, describe(drawing, structure));
        // All is there, and does not go together: nothing more is missed, and the reason names the point.
        if (!made.ok && drawing.missing === undefined) ask.lacks([]);
        return made.ok ? 1 : ask.unknown(made.reason);
      },
    },
    case: (ask) => {
      ask.value('front_geometry', FRONT);
      return made && settled(made, ask);
    },
  };
}

function caseOf(drawing: Drawing, building: Building): Outcome<FrontCase> {
  const { numbers, halfWidths, pins, toBuilt, stated, missing } = drawing;
  if (missing !== undefined) return { ok: false, reason: `\`${missing}\` of the front suspension is not known` };
  const open = stated.flatMap(({ place, subject, halfWidth }) => [place, subject, halfWidth]);
  const key = [building.key, ...numbers, '|', ...textsOf(halfWidths), '|', ...toBuilt, '|', ...open, ...textsOfPins(pins)].join(' ');
  const known = studies.get(key);
  if (known) return known;
  const centre = make(key, drawing, building);
  const made = centre.ok ? found({ ...centre.value, inputs: stated.map((one) => inputOf(one, key, drawing, building)) }) : centre;
  studies.set(key, made);
  return made;
}

function inputOf({ place, name, subject, halfWidth }: StatedOfPart, key: string, drawing: Drawing, building: Building): PartInput {
  const value = at(drawing.numbers, place);
  const end = (by: number): (() => Outcome<FrontCase>) => {
    let made: Outcome<FrontCase> | undefined;
    return () => {
      const numbers = drawing.numbers.map((n, i) => (i === place ? n + by : n));
      made ??= make(`${key} ${place} ${by}`, { ...drawing.drawn(), numbers }, building);
      return made;
    };
  };
  return { name, subject, value, halfWidth, down: end(-halfWidth), up: end(halfWidth) };
}

/** The left corner's; the right one is its mirror. */
export function obstacleOf(id: string, { radius, lines, patches }: Shape, frame: FrameName): Obstacle {
  return { id, frame, side: 'both', radius, flexible: false, lines, patches };
}

/** A drawing's numbers, with what each may be off, and by how much the class has each otherwise. */
interface Drawn {
  readonly numbers: readonly number[];
  readonly halfWidths: readonly HalfWidths[];
  readonly pins: readonly Pin[];
  readonly toBuilt: readonly number[];
}

/** A number of the drawing that is a part's, and what its statement leaves open. */
interface StatedOfPart extends Asked {
  readonly place: number;
  readonly halfWidth: number;
}

/** Numbers asked for in order; each is known by its place, so that it can be moved. */
class Drawing implements Drawn {
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
const at = (n: Numbers, place: number): number => n[place] as number;
const optional = (n: Numbers, place: number): number | undefined => (Number.isNaN(at(n, place)) ? undefined : at(n, place));

interface Building {
  readonly key: string;
  readonly stated: { readonly fitted: Stated; readonly planned: Stated };
  readonly camThrow: number;
  readonly casterAdded: number;
  /** The front as it stands and as planned. */
  readonly build: (n: Numbers) => readonly [Described, Described];
  /** As the class builds it, from the class's numbers, and as it stands; neither asks for more than the first of the numbers. */
  readonly since: (n: Numbers, built: Numbers) => readonly [Described, Described];
  readonly standing: { readonly numbers: number; readonly key: string };
}

function describe(drawing: Drawing, structure: Structure): Building {
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
    build: (n) => {
      const factory = corner(n);
      const linkage = corners.linkage(factory.hardpoints);
      return [asItStands(n, factory, linkage), asPlanned(n, factory, linkage)];
    },
    since: (n, built) => {
      const factory = corner(n);
      return [
        { corner: corner(built), change: {}, sprungLoad: ((at(built, load) - laden) / 2 - at(built, unsprung)) * GRAVITY },
        asItStands(n, factory, corners.linkage(factory.hardpoints)),
      ];
    },
  };
}

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

function make(key: string, drawing: Drawn, building: Building): Outcome<FrontCase> {
  const { numbers, halfWidths, pins } = drawing;
  const { build, camThrow, casterAdded, stated } = building;
  const parts = studyFront(build, numbers, halfWidths, corners, pins);
  if (!parts.ok) return parts;
  const unaligned = parts.value;
  const ride = standing(unaligned);
  if (!ride.ok) return ride;
  const { before, after } = ride.value;
  const sinceBuilt = sinceBuiltOf(drawing, building);
  if (!sinceBuilt.ok) return sinceBuilt;
  const stood = angles(unaligned.before, before.travel);
  const is = angles(unaligned.after, after.travel);
  const was = stood && { ...stood, caster: stood.caster + at(numbers, casterAdded) };
  if (!stood || !was || !is) return { ok: false, reason: 'wheel_centre: no pose where it stands' };
  const { hardpoints } = unaligned.after.corner;
  const aligned = (adjusters: readonly [Adjuster, Adjuster], targets: AlignmentTargets = was) =>
    align(hardpoints, unaligned.after.change, adjusters, targets, after.travel);
  const alignment = aligned(cams(at(numbers, camThrow)));
  if (!alignment.ok) return alignment;
  const cam = (targets?: AlignmentTargets): number => furthest(aligned(cams(FURTHEST_CAM), targets));
  const spread = (angle: 'camber' | 'caster') => (): HalfWidths =>
    unaligned.spread('change', (fitted, when) => angles(fitted, ride.value[when].travel)?.[angle] ?? Number.NaN);
  const [camber, caster] = [spread('camber'), spread('caster')];
  const { change } = alignment.value;
  const study = studyFront(
    (n) => {
      const [one, other] = build(n);
      return [one, { ...other, change: { ...other.change, ...change } }];
    },
    numbers,
    halfWidths,
    corners,
    pins,
  );
  if (!study.ok) return study;
  return found({
    ...study.value,
    key,
    unaligned: { ...unaligned, ride: ride.value, stated: stated.planned },
    ride: ride.value,
    sinceBuilt: sinceBuilt.value,
    camberChange: { value: is.camber - stood.camber, off: camber },
    casterChange: { value: is.caster - stood.caster, off: caster },
    wheelForward: alignment.value.wheelShift[0],
    // What is searched for itself is searched when it is asked for.
    camNeeded: () => {
      const value = cam();
      const off = (): HalfWidths =>
        stacked([
          each(camber(), (by) => cam({ ...was, camber: was.camber + by }) - value),
          each(caster(), (by) => cam({ ...was, caster: was.caster + by }) - value),
        ]);
      return { value, off };
    },
    jointNeeded: () => {
      const joint = aligned(JOINT);
      return joint.ok && joint.value.withinRange ? { back: joint.value.settings[0], out: joint.value.settings[1] } : undefined;
    },
    stated: stated.planned,
    inputs: [],
  });
}

const textsOf = (all: readonly HalfWidths[]): readonly string[] =>
  all.map(({ worst, rss }) => (worst === rss ? `${rss}` : `${worst}/${rss}`));

const textsOfPins = (all: readonly Pin[]): readonly string[] => (all.length > 0 ? ['|', JSON.stringify(all)] : []);

/** Both half-widths through a function of one. */
const each = ({ worst, rss }: HalfWidths, of: (by: number) => number): HalfWidths => ({
  worst: Math.abs(of(worst)),
  rss: Math.abs(of(rss)),
});

function sinceBuiltOf(drawing: Drawn, { since, standing: { numbers: count, key }, stated }: Building): Outcome<Compared> {
  const [numbers, toBuilt] = [drawing.numbers.slice(0, count), drawing.toBuilt.slice(0, count)];
  const halfWidths = drawing.halfWidths.slice(0, count);
  const pins = drawing.pins.slice(0, count);
  const of = [key, ...numbers, '|', ...textsOf(halfWidths), '|', ...toBuilt, ...textsOfPins(pins)].join(' ');
  const known = standings.get(of);
  if (known) return known;
  const study = studyFront(
    (n) =>
      since(
        n,
        n.map((x, i) => x + (toBuilt[i] as number)),
      ),
    numbers,
    halfWidths,
    corners,
    pins,
  );
  const ride = study.ok ? standing(study.value) : study;
  const made = study.ok && ride.ok ? found({ ...study.value, ride: ride.value, stated: stated.fitted }) : (ride as Outcome<Compared>);
  standings.set(of, made);
  return made;
}

function standing({ before, after }: FrontStudy): Outcome<{ readonly before: RideHeight; readonly after: RideHeight }> {
  const of = (end: End) => rideHeight(end.linkage, end.corner, end, end.sprungLoad);
  const [was, is] = [of(before), of(after)];
  if (!was.ok) return was;
  return is.ok ? found({ before: was.value, after: is.value }) : is;
}

/** Angles are the same at any radius; contact is not asked for. */
function angles({ linkage }: Fitted, travel: number) {
  const pose = solvePose(linkage, travel);
  return pose.ok ? wheelAngles(pose.value, 0.4) : undefined;
}

/** Eccentrics at the lower arm's bushes: they move it in and out. */
const cams = (throw_: number): readonly [Adjuster, Adjuster] => [
  { id: 'front cam', moves: { lowerArmFrontBush: [0, 1, 0] }, least: -throw_, most: throw_ },
  { id: 'rear cam', moves: { lowerArmRearBush: [0, 1, 0] }, least: -throw_, most: throw_ },
];

/** No eccentric goes further: what asks for more is asked to be this much. */
const FURTHEST_CAM = 0.05;

/** Another place of the upper ball joint in its arm: back gives caster, out takes camber away. */
const JOINT: readonly [Adjuster, Adjuster] = [
  { id: 'back', moves: { upperBallJointInArm: [-1, 0, 0] }, least: -0.05, most: 0.05 },
  { id: 'out', moves: { upperBallJointInArm: [0, 1, 0] }, least: -0.05, most: 0.05 },
];

function furthest(alignment: Outcome<Alignment>): number {
  if (!alignment.ok || !alignment.value.withinRange) return FURTHEST_CAM;
  return Math.max(...alignment.value.settings.map(Math.abs));
}
