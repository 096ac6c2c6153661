/**
 * Gaps of a beam axle's tyre that can be asked again and again: one search, then at nearby inputs only where the tyre
 * came nearest and some steps about it, as in `tyre-gaps.ts`. A place is kept as its shares of the most tilt and of the
 * heaves at that tilt, so that one at a stop stays at the stop when that moves. A followed gap is never less than the true one.
 */
import { found, type Outcome } from '../result.ts';
import {
  type AxleContact,
  type AxleObstacle,
  type LevelGaps,
  leastAxleGaps,
  levelGaps,
  pieceDistance,
  type RidingPiece,
  ridingPieces,
  type SweptAxle,
  sweepAxle,
} from './axle-sweep.ts';
import { type AxlePlace, type AxleTravel, type BeamAxle, heaves, mostTilt } from './beam-axle.ts';
import { ByNumbers } from './by-numbers.ts';
import type { TyreShape } from './tyre-shape.ts';

/** Everything a gap depends on apart from the axle. Metres. */
export interface AxleInputs extends AxleTravel {
  readonly tyre: TyreShape;
  readonly outwardShift: number;
  /** How far the axle stands to that wheel's side. */
  readonly offCentre: number;
  readonly bodyLift: number;
  /** Where the wheels are at ride height. */
  readonly ride: number;
}

export interface AxleGaps {
  readonly inputs: AxleInputs;
  readonly contacts: ReadonlyMap<string, AxleContact>;
  /** With both wheels alike, and with one up alone, at the inputs searched. */
  level(obstacle: string): LevelGaps;
  /** Gap to an obstacle at nearby inputs, and with another axle; NaN where it has no places. */
  follow(obstacle: string, inputs: AxleInputs, axle?: BeamAxle): number;
}

interface Target {
  readonly obstacle: AxleObstacle;
  readonly pieces: readonly RidingPiece[];
  /** Share of the most tilt, and of the heaves at it. */
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
    targets.set(obstacle.id, { obstacle, pieces: pieces.value, ...sharesOf(axle, inputs, least.value[i]!.place) });
  }
  const states = new ByNumbers<Map<string, number>>(MOST_STATES);
  const levels = new Map<string, LevelGaps>();
  return found({
    inputs,
    contacts: new Map(least.value.map((contact) => [contact.obstacle, contact])),
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

const sweptFor = (axle: BeamAxle, { droop, bump, ...inputs }: AxleInputs): Outcome<SweptAxle> =>
  sweepAxle({ axle, travel: { droop, bump }, ...inputs });

function sharesOf(axle: BeamAxle, travel: AxleTravel, { heave, tilt }: AxlePlace): { readonly tilt: number; readonly heave: number } {
  const [low, high] = heaves(axle, travel, tilt);
  return { tilt: tilt / mostTilt(axle, travel), heave: high > low ? (heave - low) / (high - low) : 0.5 };
}

/** Steps of both shares about where a gap was least; the place itself first, which passes most of the others by. */
const AROUND = [0, -0.06, 0.06, -0.15, 0.15].flatMap((tilt) => [0, -0.08, 0.08].map((heave) => [tilt, heave] as const));

function followed({ obstacle, pieces, ...at }: Target, swept: SweptAxle): number {
  const most = mostTilt(swept.axle, swept.travel);
  let least = Number.POSITIVE_INFINITY;
  for (const [byTilt, byHeave] of AROUND) {
    const tilt = most * within(at.tilt + byTilt, -1, 1);
    const [low, high] = heaves(swept.axle, swept.travel, tilt);
    const heave = low + (high - low) * within(at.heave + byHeave, 0, 1);
    for (const piece of pieces) least = Math.min(least, pieceDistance(swept, piece, heave, tilt, least));
  }
  return least - obstacle.radius;
}

const within = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));

const numbersOf = ({ tyre, outwardShift, offCentre, bodyLift, droop, bump, ride }: AxleInputs): readonly number[] => [
  tyre.freeRadius,
  tyre.sectionWidth,
  tyre.treadWidth ?? Number.NaN,
  tyre.shoulderRadius,
  tyre.bellyRadius ?? Number.NaN,
  outwardShift,
  offCentre,
  bodyLift,
  droop,
  bump,
  ride,
];

/** How far inputs may lie from those searched for a gap to be followed. */
const NEAR = 0.02;

/** Whether all inputs are close to those of a search. */
export function areNear(a: AxleInputs, b: AxleInputs): boolean {
  const [these, those] = [numbersOf(a), numbersOf(b)];
  return these.every((x, i) => Number.isNaN(x) === Number.isNaN(those[i]!) && !(Math.abs(x - those[i]!) > NEAR));
}
