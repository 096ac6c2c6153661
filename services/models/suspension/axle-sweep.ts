/**
 * The least gap between a tyre of a beam axle and each obstacle over all its places, level and crossed up, and where.
 *
 * Places are a heave and a tilt. At one tilt a heave shifts the tyre, and the signed distance between convex bodies is
 * convex in a shift: one valley, found by a line search. Over the tilt there may be several: a grid shows where they
 * are. Pieces of an obstacle (a point, a segment, a triangle) are searched one by one. The left wheel is computed; the
 * right one is its mirror with the tilt the other way round. Gaps are signed as in `swept-tyre.ts`, places are those at design.
 */
import { found, type Outcome, refused } from '../result.ts';
import {
  type AxleFrame,
  type AxlePlace,
  type AxleTravel,
  axleMotion,
  type BeamAxle,
  checkAxle,
  heaves,
  MOTION_SIZE,
  mostTilt,
  movePoint,
  type Riding,
  ridingOn,
  wheelPlace,
} from './beam-axle.ts';
import { minimise } from './line-search.ts';
import { asVectors, leastToPieces, nearest, type Pieces, piecesOf, type Shape, samplePoints } from './obstacle-shapes.ts';
import { makeProfile, type Profile, type TyreShape, tyreDistance, tyreNormal } from './tyre-shape.ts';
import { addScaled, distance as between, dot, type Vec3 } from './vector.ts';

export interface AxleObstacle {
  readonly id: string;
  readonly frame: AxleFrame;
  readonly radius: number;
  readonly lines: readonly (readonly Vec3[])[];
  readonly patches: readonly (readonly Vec3[])[];
}

export interface AxleSweepRequest {
  readonly axle: BeamAxle;
  readonly tyre: TyreShape;
  readonly travel: AxleTravel;
  /** Where the other wheel stays while one goes up alone. */
  readonly ride?: number;
  /** Tyre's mid-plane against the wheel the axle was drawn with, + outboard. */
  readonly outwardShift?: number;
  /** How far the whole axle stands to that wheel's side. */
  readonly offCentre?: number;
  readonly bodyLift?: number;
}

export interface SweptAxle extends Required<Omit<AxleSweepRequest, 'tyre'>> {
  readonly profile: Profile;
}

export interface AxleContact {
  readonly obstacle: string;
  readonly frame: AxleFrame;
  readonly gap: number;
  readonly place: AxlePlace;
  /** Where else it is nearly as near: another tyre or travel may make one of these the nearest. */
  readonly others: readonly AxlePlace[];
  /** How far up this wheel's centre is. */
  readonly travel: number;
  /** On the obstacle's surface, coordinates as at design. */
  readonly at: Vec3;
  /** Unit: the way the obstacle must go to gain room. */
  readonly normal: Vec3;
  /** Angle of that way out of the wheel's centre plane, + outboard. */
  readonly outOfPlane: number;
}

/** The least gap with both wheels alike, and with one up alone. */
export interface LevelGaps {
  readonly level: number;
  readonly oneWheel: number;
}

export function sweepAxle({ tyre, ...request }: AxleSweepRequest): Outcome<SweptAxle> {
  const profile = makeProfile(tyre);
  if (!profile.ok) return profile;
  const checked = checkAxle(request.axle, request.travel);
  if (!checked.ok) return checked;
  const { ride = 0, outwardShift = 0, offCentre = 0, bodyLift = 0 } = request;
  return found({ ...request, ride, outwardShift, offCentre, bodyLift, profile: profile.value });
}

/** Pieces of an obstacle, ready to be asked at many places. */
export interface RidingPieces {
  readonly frame: AxleFrame;
  /** Two ends of three numbers each, as at design; one point is a segment of no length. */
  readonly design: Float64Array;
  /** Share of the axle's movement of each end. */
  readonly shares: Float64Array;
  /** Where they are: of what rides on a spring or damper, at the place last asked. */
  readonly pieces: Pieces;
}

/** One piece of an obstacle. */
export interface RidingPiece extends RidingPieces {
  readonly shape: Shape;
}

export function ridingPieces(o: AxleObstacle): Outcome<readonly RidingPiece[]> {
  const all: RidingPiece[] = [];
  const add = ({ corners, shares }: Riding, ...at: number[]): void => {
    const shape = at.map((i) => corners[i]!);
    const pieces = piecesOf([shape]);
    const both = [at[0]!, at[1] ?? at[0]!].map((i) => shares[i]!);
    all.push({ frame: o.frame, shape, pieces, design: pieces.segments.slice(), shares: Float64Array.from(both) });
  };
  for (const run of o.lines) {
    const riding = ridingOn(o.frame, run);
    if (!riding.ok) return refused(`${o.id}: ${riding.reason}`);
    if (run.length === 1) add(riding.value, 0);
    for (let i = 1; i < run.length; i++) add(riding.value, i - 1, i);
  }
  if (bends(o.frame) && o.patches.length > 0) return refused(`${o.id}: what rides on a spring or damper is given by lines`);
  for (const patch of o.patches) for (let i = 2; i < patch.length; i++) add({ corners: patch, shares: patch.map(() => 0) }, 0, i - 1, i);
  return all.length > 0 ? found(all) : refused(`${o.id}: it has no points`);
}

const bends = (frame: AxleFrame): boolean => frame === 'rear_spring' || frame === 'rear_damper';

/** All of them asked as one. */
export function together(all: readonly RidingPiece[]): RidingPieces {
  const segments = all.filter(({ shape }) => shape.length < 3);
  const joined = (of: (piece: RidingPiece) => Float64Array) => Float64Array.from(segments.flatMap((piece) => [...of(piece)]));
  return {
    frame: all[0]!.frame,
    design: joined(({ design }) => design),
    shares: joined(({ shares }) => shares),
    pieces: { segments: joined(({ design }) => design), triangles: all.flatMap(({ pieces }) => pieces.triangles) },
  };
}

const motion = new Float64Array(MOTION_SIZE);
const place = new Float64Array(6);

/** The tyre's place as the pieces see it, and the pieces where they then are. */
function pose(s: SweptAxle, { frame, design, shares, pieces }: RidingPieces, heave: number, tilt: number): void {
  if (frame === 'rear_axle') {
    // The wheel stands still against its axle, wherever both stand.
    axleMotion(s.axle, 0, 0, motion);
    wheelPlace(s.axle, motion, s.outwardShift, place);
    return;
  }
  axleMotion(s.axle, heave, tilt, motion);
  wheelPlace(s.axle, motion, s.outwardShift + s.offCentre, place);
  if (frame === 'body') place[2]! -= s.bodyLift;
  if (!bends(frame)) return;
  const { segments } = pieces;
  for (let i = 0; i < shares.length; i++) {
    const at = 3 * i;
    // A leaf's seat stands higher against the axle by the block below it.
    const raised = frame === 'rear_spring' ? (s.axle.block ?? 0) : 0;
    movePoint(s.axle, motion, design[at]!, design[at + 1]!, design[at + 2]! + raised, segments, at);
    for (let k = at; k < at + 3; k++) segments[k] = design[k]! + shares[i]! * (segments[k]! - design[k]!);
  }
}

/** Least signed distance of pieces from the tyre at a place, or `atMost` if none comes nearer; the obstacle's radius is not in it. */
export function pieceDistance(s: SweptAxle, piece: RidingPieces, heave: number, tilt: number, atMost = Number.POSITIVE_INFINITY): number {
  pose(s, piece, heave, tilt);
  return leastToPieces(s.profile, place, piece.pieces, atMost);
}

/** Tilts each way and heaves at which a piece is looked at first. */
const TILTS = 12;
const HEAVES = 13;

/** How far below the grid a valley may lie: half a step of either moves the tread by some 10 mm. */
const COARSENESS = 0.025;

interface Start {
  readonly piece: RidingPiece;
  readonly from: number;
  readonly to: number;
  readonly distance: number;
}

/** Windows of tilt with a low place of a piece; at no tilt the ends of travel have a corner, so none goes across. */
function startsOf(s: SweptAxle, piece: RidingPiece): Start[] {
  const most = mostTilt(s.axle, s.travel);
  const row = Array.from({ length: 2 * TILTS + 1 }, (_, i) => leastOfRow(s, piece, (most * (i - TILTS)) / TILTS));
  const starts: Start[] = [];
  for (let i = 0; i < 2 * TILTS; i++) {
    const [a, b] = [row[i]!, row[i + 1]!];
    const low = Math.min(a, b);
    if (low > (row[i - 1] ?? Number.POSITIVE_INFINITY) || low > (row[i + 2] ?? Number.POSITIVE_INFINITY)) continue;
    starts.push({ piece, from: (most * (i - TILTS)) / TILTS, to: (most * (i + 1 - TILTS)) / TILTS, distance: low });
  }
  return starts;
}

function leastOfRow(s: SweptAxle, piece: RidingPiece, tilt: number): number {
  const [low, high] = heaves(s.axle, s.travel, tilt);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < HEAVES; i++) least = Math.min(least, pieceDistance(s, piece, low + ((high - low) * i) / (HEAVES - 1), tilt, least));
  return least;
}

interface Lowest {
  readonly distance: number;
  readonly place: AxlePlace;
}

function searchWindow(s: SweptAxle, { piece, from, to }: Start): Lowest {
  const overHeave = (tilt: number) => {
    const [low, high] = heaves(s.axle, s.travel, tilt);
    return minimise((heave) => pieceDistance(s, piece, heave, tilt), low, high);
  };
  const best = minimise((tilt) => overHeave(tilt).value, from, to);
  const inner = overHeave(best.at);
  return { distance: inner.value, place: { heave: inner.at, tilt: best.at } };
}

/** One contact for each obstacle, in order, for the left wheel. */
export function leastAxleGaps(s: SweptAxle, obstacles: readonly AxleObstacle[]): Outcome<readonly AxleContact[]> {
  const contacts: AxleContact[] = [];
  for (const obstacle of obstacles) {
    const pieces = ridingPieces(obstacle);
    if (!pieces.ok) return pieces;
    contacts.push(leastContact(s, obstacle, pieces.value));
  }
  return found(contacts);
}

function leastContact(s: SweptAxle, o: AxleObstacle, pieces: readonly RidingPiece[]): AxleContact {
  if (o.frame === 'rear_axle') return { ...contactAt(s, o, nearestPiece(s, pieces), DESIGN), others: [] };
  const starts = pieces.flatMap((piece) => startsOf(s, piece)).sort((a, b) => a.distance - b.distance);
  const lows: (Lowest & { readonly piece: RidingPiece })[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const start of starts) {
    if (start.distance - COARSENESS > least) break;
    const lowest = { ...searchWindow(s, start), piece: start.piece };
    lows.push(lowest);
    least = Math.min(least, lowest.distance);
  }
  lows.sort((a, b) => a.distance - b.distance);
  const [best, ...rest] = lows as [(typeof lows)[number], ...typeof lows];
  return {
    ...contactAt(s, o, best.piece, best.place),
    others: rest.filter(({ distance }) => distance < least + NEARLY).map((low) => low.place),
  };
}

/** What is further off than that no input nearby makes the nearest. */
const NEARLY = 0.02;

const DESIGN: AxlePlace = { heave: 0, tilt: 0 };

/** On the axle itself all places are alike. */
function nearestPiece(s: SweptAxle, pieces: readonly RidingPiece[]): RidingPiece {
  const distances = pieces.map((piece) => pieceDistance(s, piece, 0, 0));
  return pieces[distances.indexOf(Math.min(...distances))]!;
}

function contactAt(s: SweptAxle, o: AxleObstacle, piece: RidingPiece, where: AxlePlace): Omit<AxleContact, 'others'> {
  pose(s, piece, where.heave, where.tilt);
  const { centre, axis } = asVectors(place);
  const moved = piece.pieces.triangles[0] ?? ends(piece.pieces.segments).slice(0, piece.shape.length);
  const { distance, point } = nearest(s.profile, centre, axis, moved);
  const normal = tyreNormal(s.profile, centre, axis, point);
  const at = addScaled(backToDesign(point, moved, piece.shape), normal, -o.radius);
  axleMotion(s.axle, where.heave, where.tilt, motion);
  wheelPlace(s.axle, motion, s.outwardShift, place);
  return {
    obstacle: o.id,
    frame: o.frame,
    gap: distance - o.radius,
    place: where,
    travel: place[2]! - s.axle.wheelHeight,
    at,
    normal,
    outOfPlane: Math.asin(Math.max(-1, Math.min(1, dot(normal, axis)))),
  };
}

const ends = (segments: Float64Array): readonly Vec3[] => [
  [segments[0]!, segments[1]!, segments[2]!],
  [segments[3]!, segments[4]!, segments[5]!],
];

/** The same point of a piece that rides elsewhere, where it is at design. */
function backToDesign(point: Vec3, moved: Shape, design: Shape): Vec3 {
  const [a, b] = design;
  if (design.length !== 2) return design.length === 1 ? a! : point;
  const long = between(moved[0]!, moved[1]!);
  const t = long > 0 ? between(moved[0]!, point) / long : 0;
  return [a![0] + t * (b![0] - a![0]), a![1] + t * (b![1] - a![1]), a![2] + t * (b![2] - a![2])];
}

/** The least gap of an obstacle with both wheels alike, and with the other wheel staying where it is at ride height. */
export function levelGaps(s: SweptAxle, o: AxleObstacle): Outcome<LevelGaps> {
  const pieces = ridingPieces(o);
  if (!pieces.ok) return pieces;
  const { axle, ride, travel } = s;
  const up = (travel.bump - ride) / (axle.halfTrack + axle.stopAt);
  const down = (ride - travel.droop) / (axle.halfTrack + axle.damperAt);
  const least = (of: (piece: RidingPiece, x: number) => number, low: number, high: number): number =>
    Math.min(...pieces.value.map((piece) => leastAlong((x) => of(piece, x), low, high))) - o.radius;
  return found({
    level: least((piece, heave) => pieceDistance(s, piece, heave, 0), travel.droop, travel.bump),
    oneWheel: least((piece, tilt) => pieceDistance(s, piece, ride + axle.halfTrack * tilt, tilt), -Math.max(0, down), Math.max(0, up)),
  });
}

const ALONG = 16;

function leastAlong(f: (x: number) => number, low: number, high: number): number {
  const at = (i: number): number => low + ((high - low) * i) / ALONG;
  const row = Array.from({ length: ALONG + 1 }, (_, i) => f(at(i)));
  const best = row.indexOf(Math.min(...row));
  return Math.min(row[best]!, minimise(f, at(Math.max(0, best - 1)), at(Math.min(ALONG, best + 1))).value);
}

/** How far apart along a piece its points are looked at. */
const SPACING = 0.01;

/**
 * What a bulge of the wall, all of it at the ground and nothing from the hub up, takes of a contact's gap at that contact's place.
 * Another point of the obstacle may then be the nearest: beside a flat wall all are as near, and the lowest meets the most of it.
 */
export function bulgeLoss(s: SweptAxle, pieces: RidingPieces, { place: at }: Pick<AxleContact, 'place'>, bulge: number): number {
  const { frame } = pieces;
  pose(s, pieces, frame === 'rear_axle' ? 0 : at.heave, frame === 'rear_axle' ? 0 : at.tilt);
  const { centre, axis } = asVectors(place);
  const points = samplePoints(shapesOfPieces(pieces), SPACING);
  let [plain, bulged] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let i = 0; i < points.length; i += 3) {
    const point: Vec3 = [points[i]!, points[i + 1]!, points[i + 2]!];
    const gap = tyreDistance(s.profile, centre, axis, point);
    plain = Math.min(plain, gap);
    bulged = Math.min(bulged, gap - bulge * wallBelowHub(s.profile, centre, axis, point));
  }
  return plain - bulged;
}

/** How far below the hub, as a share of the radius; nothing on the flat of the tread, which does not bulge. */
function wallBelowHub(profile: Profile, centre: Vec3, axis: Vec3, point: Vec3): number {
  if (Math.abs(dot(tyreNormal(profile, centre, axis, point), axis)) < FLAT_OF_TREAD) return 0;
  return Math.min(1, Math.max(0, (centre[2] - point[2]) / (profile.top + profile.round)));
}

/** Sine of the angle out of the wheel's plane up to which a contact is on the flat of the tread. */
const FLAT_OF_TREAD = Math.sin((3 * Math.PI) / 180);

function shapesOfPieces({ pieces: { segments, triangles } }: RidingPieces): Shape[] {
  const straight = Array.from({ length: segments.length / 6 }, (_, i): Shape => ends(segments.subarray(6 * i)));
  return [...straight, ...triangles];
}
