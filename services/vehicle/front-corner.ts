/**
 * The front corner of a vehicle as the suspension's models want it: one drawing of numbers from values and parts, and
 * the study made of it. Nobody reads a hardpoint with a tape, so the drawing's tolerances are folded into what the
 * study answers; what people do read (gaps, lock, tyre, wheel) stays an input of its own. So does what is stated of the
 * parts (how far a lift lets the wheel hang, a spacer's thickness): the front is studied at both ends of each.
 */
import { LRUCache } from 'lru-cache';
import type { Shape } from '../engine/tree.ts';
import type { Ask, Provider } from '../engine/values.ts';
import { found, type Outcome } from '../models/result.ts';
import { type Adjuster, type Alignment, type AlignmentTargets, align } from '../models/suspension/alignment.ts';
import { solvePose } from '../models/suspension/double-wishbone.ts';
import { type Described, type End, type Fitted, type FrontStudy, studyFront } from '../models/suspension/front-study.ts';
import type { FrameName, Obstacle } from '../models/suspension/geometry.ts';
import { type RideHeight, rideHeight } from '../models/suspension/ride-height.ts';
import { wheelAngles } from '../models/suspension/wheel-angles.ts';
import { type HalfWidths, type Pin, stacked } from '../units/index.ts';
import {
  at,
  type Building,
  corners,
  Drawing,
  type Drawn,
  describeFront,
  type Stated,
  type StatedOfPart,
  unladen,
} from './front-drawing.ts';
import { subjectOf } from './places.ts';
import { structureOf } from './providers/structure.ts';
import { settled } from './providers/tyres.ts';
import type { VehicleWorld } from './world.ts';

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

/**
 * From the front as it stands to the planned one. Its `after` is aligned: camber, caster and toe brought back to what
 * they were, as far as the cams go.
 */
export interface FrontCase extends Compared {
  /** Two cases with the same key are the same. */
  readonly key: string;
  /** With the new parts and nothing adjusted. */
  readonly unaligned: Compared;
  /** From the front as the class builds it to the one that stands there, both unladen. */
  readonly sinceBuilt: Compared;
  /** From the front that stands there unladen, as people read it, to the planned one. */
  readonly sinceRead: Compared;
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
export interface PartInput {
  readonly name: string;
  readonly subject: number;
  readonly value: number;
  readonly halfWidth: number;
  readonly down: () => Outcome<FrontCase>;
  readonly up: () => Outcome<FrontCase>;
}

const studies = new LRUCache<string, Outcome<FrontCase>>({ max: 32 });
/** From as built to as it stands: the same for all that is planned. */
const standings = new LRUCache<string, Outcome<Compared>>({ max: 64 });

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
        made = caseOf(drawing, describeFront(drawing, structure));
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

function make(key: string, drawing: Drawn, building: Building): Outcome<FrontCase> {
  const { numbers, halfWidths, pins } = drawing;
  const { build, camThrow, casterAdded, laden, stated } = building;
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
  const from = (before: (one: Described) => Described): Outcome<FrontStudy> =>
    studyFront(
      (n) => {
        const [one, other] = build(n);
        return [before(one), { ...other, change: { ...other.change, ...change } }];
      },
      numbers,
      halfWidths,
      corners,
      pins,
    );
  const study = from((one) => one);
  if (!study.ok) return study;
  const compared = { ...study.value, ride: ride.value, stated: stated.planned };
  const sinceRead =
    laden === 0
      ? found(compared)
      : sinceReadOf(
          from((one) => unladen(one, laden)),
          compared,
        );
  if (!sinceRead.ok) return sinceRead;
  return found({
    ...compared,
    key,
    unaligned: { ...unaligned, ride: ride.value, stated: stated.planned },
    sinceBuilt: sinceBuilt.value,
    sinceRead: sinceRead.value,
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
    inputs: [],
  });
}

/** Aligned, the planned front is taken to stand where it did before. */
function sinceReadOf(study: Outcome<FrontStudy>, { ride: { after }, stated }: Compared): Outcome<Compared> {
  const ride = study.ok ? standing(study.value) : study;
  return study.ok && ride.ok ? found({ ...study.value, ride: { before: ride.value.before, after }, stated }) : (ride as Outcome<Compared>);
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
