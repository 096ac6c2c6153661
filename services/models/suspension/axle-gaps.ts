/**
 * Gaps of a beam axle's tyre that can be asked again and again: one search, then at nearby inputs only where the tyre
 * came nearest, at the ends of its travel, and downhill from there. A place is kept as its shares of the most tilt and of the
 * heaves at that tilt, so that one at a stop stays at the stop when that moves. A followed gap is never less than the true one.
 */
import { found, type Outcome } from '../result.ts';
import {
  type AxleContact,
  type AxleObstacle,
  bulgeLoss,
  type LevelGaps,
  leastAxleGaps,
  levelGaps,
  pieceDistance,
  type RidingPieces,
  ridingPieces,
  type SweptAxle,
  sweepAxle,
  together,
} from './axle-sweep.ts';
import { type AxlePlace, type AxleTravel, type BeamAxle, heaves, mostTilt } from './beam-axle.ts';
import { ByNumbers } from './by-numbers.ts';
import { numbersOfTyre, type TyreShape } from './tyre-shape.ts';

/** Everything a gap depends on apart from the axle. Metres. */
export interface AxleInputs extends AxleTravel {
  readonly tyre: TyreShape;
  readonly outwardShift: number;
  /** How far the axle stands to that wheel's side. */
  readonly offCentre: number;
  readonly bodyLift: number;
  /** Where the wheels are at ride height. */
  readonly ride: number;
  /** Height of the blocks between axle and leaves, beyond those of the drawing. */
  readonly block: number;
}

export interface AxleGaps {
  readonly inputs: AxleInputs;
  readonly contacts: ReadonlyMap<string, AxleContact>;
  /** With both wheels alike, and with one up alone, at the inputs searched. */
  level(obstacle: string): LevelGaps;
  /** What a bulge of the wall below the hub takes of the gap, at the inputs searched. */
  bulged(obstacle: string, bulge: number): number;
  /** Gap to an obstacle at nearby inputs, and with another axle; NaN where it has no places. */
  follow(obstacle: string, inputs: AxleInputs, axle?: BeamAxle): number;
}

interface Target {
  readonly obstacle: AxleObstacle;
  readonly pieces: RidingPieces;
  readonly places: readonly Shares[];
}

/** Share of the most tilt, and of the heaves at it. */
interface Shares {
  readonly tilt: number;
  readonly heave: number;
}

export function searchAxleGaps(axle: BeamAxle, obstacles: readonly AxleObstacle[], inputs: AxleInputs): Outcome<AxleGaps> {
  const swept = sweptFor(axle, inputs);
  if (!swept.ok) return swept;
  const least = leastAxleGaps(swept.value, obstacles);
  if (!least.ok) return least;
  const targets = new Map<string, Target>();
  for (const [i, obstacle] of obstacles.entries()) {
    const pieces = ridingPieces(obstacle);
    if (!pieces.ok) return pieces;
    const { place, others } = least.value[i]!;
    const places = [place, ...others].map((one) => sharesOf(axle, inputs, one));
    targets.set(obstacle.id, {
      obstacle,
      pieces: together(pieces.value),
      places: places.filter((one, at) => places.findIndex((other) => areAlike(one, other)) === at),
    });
  }
  const states = new ByNumbers<Map<string, number>>(MOST_STATES);
  const levels = new Map<string, LevelGaps>();
  const contacts = new Map(least.value.map((contact) => [contact.obstacle, contact]));
  return found({
    inputs,
    contacts,
    bulged: (id, bulge) => {
      const [target, contact] = [targets.get(id), contacts.get(id)];
      return target && contact ? bulgeLoss(swept.value, target.pieces, contact, bulge) : Number.NaN;
    },
    level: (id) => {
      const known = levels.get(id);
      if (known) return known;
      const made = levelGaps(swept.value, targets.get(id)?.obstacle ?? NOTHING);
      const level = made.ok ? made.value : { level: Number.NaN, oneWheel: Number.NaN };
      levels.set(id, level);
      return level;
    },
    follow: (id, now, other = axle) => {
      const target = targets.get(id);
      if (!target) return Number.NaN;
      const state = states.get([...numbersOf(now), ...Object.values(other)], () => new Map<string, number>());
      const known = state.get(id);
      if (known !== undefined) return known;
      const moved = sweptFor(other, now);
      const gap = moved.ok ? followed(target, moved.value) : Number.NaN;
      state.set(id, gap);
      return gap;
    },
  });
}

const NOTHING: AxleObstacle = { id: 'nothing', frame: 'chassis', radius: 0, lines: [], patches: [] };
const MOST_STATES = 4096;

const sweptFor = (axle: BeamAxle, { droop, bump, block, ...inputs }: AxleInputs): Outcome<SweptAxle> =>
  sweepAxle({ axle: { ...axle, block }, travel: { droop, bump }, ...inputs });

function sharesOf(axle: BeamAxle, travel: AxleTravel, { heave, tilt }: AxlePlace): Shares {
  const [low, high] = heaves(axle, travel, tilt);
  return { tilt: tilt / mostTilt(axle, travel), heave: high > low ? (heave - low) / (high - low) : 0.5 };
}

/** So near to each other, one leads to the other. */
const areAlike = (a: Shares, b: Shares): boolean => Math.abs(a.tilt - b.tilt) < 0.05 && Math.abs(a.heave - b.heave) < 0.05;

/** Both ends of the heaves at tilts an eighth of the most apart: where another input may bring the tyre nearest. */
const ENDS = Array.from({ length: 17 }, (_, i) => i / 8 - 1).flatMap((tilt) => [1, 0].map((heave): Shares => ({ tilt, heave })));
/** Steps of both shares from the nearest of those, each halved where no neighbour is nearer. */
const FIRST_STEP = { tilt: 0.06, heave: 0.12 };
const HALVINGS = 4;
const MOST_STEPS = 24;

function followed({ obstacle, pieces, places }: Target, swept: SweptAxle): number {
  if (obstacle.frame === 'rear_axle') return pieceDistance(swept, pieces, 0, 0) - obstacle.radius;
  const most = mostTilt(swept.axle, swept.travel);
  let least = Number.POSITIVE_INFINITY;
  let best: Shares = DESIGN;
  const look = (tiltShare: number, heaveShare: number): boolean => {
    const shares = { tilt: within(tiltShare, -1, 1), heave: within(heaveShare, 0, 1) };
    const [low, high] = heaves(swept.axle, swept.travel, most * shares.tilt);
    const distance = pieceDistance(swept, pieces, low + (high - low) * shares.heave, most * shares.tilt, least);
    if (!(distance < least)) return false;
    [least, best] = [distance, shares];
    return true;
  };
  for (const { tilt, heave } of places) look(tilt, heave);
  for (const { tilt, heave } of ENDS) look(tilt, heave);
  for (let i = 0, halvings = 0; i < MOST_STEPS && halvings < HALVINGS; i++) {
    const { tilt, heave } = best;
    const [byTilt, byHeave] = [FIRST_STEP.tilt / 2 ** halvings, FIRST_STEP.heave / 2 ** halvings];
    const nearer = [look(tilt - byTilt, heave), look(tilt + byTilt, heave), look(tilt, heave - byHeave), look(tilt, heave + byHeave)];
    if (!nearer.includes(true)) halvings++;
  }
  return least - obstacle.radius;
}

const DESIGN: Shares = { tilt: 0, heave: 0.5 };

const within = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));

const numbersOf = ({ tyre, outwardShift, offCentre, bodyLift, droop, bump, ride, block }: AxleInputs): readonly number[] => [
  ...numbersOfTyre(tyre),
  outwardShift,
  offCentre,
  bodyLift,
  droop,
  bump,
  ride,
  block,
];

/** How far inputs may lie from those searched for a gap to be followed: looked at all over, it is found within half a millimetre. */
const NEAR = 0.06;

/** Whether all inputs are close to those of a search. */
export function areNear(a: AxleInputs, b: AxleInputs): boolean {
  const [these, those] = [numbersOf(a), numbersOf(b)];
  return these.every((x, i) => Number.isNaN(x) === Number.isNaN(those[i]!) && !(Math.abs(x - those[i]!) > NEAR));
}
