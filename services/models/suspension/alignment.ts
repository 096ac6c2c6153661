/**
 * Bringing caster, camber and toe back to their targets with two adjusters and the tie rods, and where that moves the
 * wheel: gaps must be asked after it, not before.
 *
 * An adjuster moves bushes (or the upper ball joint in its arm) along a direction in proportion to its setting: a cam
 * bolt, a slotted plate. Arms keep their lengths. The settings are found by Newton's method on the two angles at ride
 * height, toe being restored at every step with the tie rod; out of range, the nearest angles that can be had are
 * sought inside the range. Angles in radians with the signs of `wheel-angles.ts`; metres.
 */
import { found, type Outcome, refused } from '../result.ts';
import { type Linkage, type LinkageChange, makeLinkage, type Pose, solvePose } from './double-wishbone.ts';
import type { Hardpoints } from './geometry.ts';
import { minimise } from './line-search.ts';
import { add, scale, subtract, type Vec3 } from './vector.ts';
import { wheelAngles } from './wheel-angles.ts';

type Movable = Exclude<keyof LinkageChange, 'tieRodLength'>;

export interface Adjuster {
  readonly id: string;
  /** Shift of each point for one metre of setting. */
  readonly moves: Readonly<Partial<Record<Movable, Vec3>>>;
  readonly least: number;
  readonly most: number;
}

export interface AlignmentTargets {
  readonly camber: number;
  readonly caster: number;
  readonly toe: number;
}

export interface Alignment {
  readonly settings: readonly [number, number];
  /** False if the targets lie beyond the adjusters; the settings are then the best there are. */
  readonly withinRange: boolean;
  readonly reached: AlignmentTargets;
  /** Wheel centre after less before, at the same travel: fore-aft first. */
  readonly wheelShift: Vec3;
  readonly change: LinkageChange;
  readonly linkage: Linkage;
}

interface Aligned {
  readonly change: LinkageChange;
  readonly linkage: Linkage;
  readonly pose: Pose;
  readonly reached: AlignmentTargets;
}

/** `travel` is ride height; `fitted` what other parts have changed already. */
export function align(
  hardpoints: Hardpoints,
  fitted: LinkageChange,
  adjusters: readonly [Adjuster, Adjuster],
  targets: AlignmentTargets,
  travel: number,
): Outcome<Alignment> {
  const start = makeLinkage(hardpoints, fitted);
  if (!start.ok) return start;
  const before = solvePose(start.value, travel);
  if (!before.ok) return before;
  const at = (a: number, b: number) => alignedAt(hardpoints, fitted, adjusters, [a, b], targets.toe, travel);
  const exact = newton(at, targets);
  const inRange = exact && adjusters.every((x, i) => exact[i]! >= x.least - 1e-12 && exact[i]! <= x.most + 1e-12);
  const settings = inRange ? exact : nearestInRange(at, adjusters, targets);
  const result = at(settings[0], settings[1]);
  if (!result.ok) return result;
  const { change, linkage, pose, reached } = result.value;
  return found({
    settings,
    withinRange: inRange === true,
    reached,
    wheelShift: subtract(pose.wheelCentre, before.value.wheelCentre),
    change,
    linkage,
  });
}

function combine(fitted: LinkageChange, adjusters: readonly [Adjuster, Adjuster], settings: readonly [number, number]): LinkageChange {
  const change: Partial<Record<Movable, Vec3>> = {};
  for (const key of ['lowerArmFrontBush', 'lowerArmRearBush', 'upperArmFrontBush', 'upperArmRearBush', 'upperBallJointInArm'] as const) {
    let shift: Vec3 = fitted[key] ?? [0, 0, 0];
    adjusters.forEach((adjuster, i) => {
      const way = adjuster.moves[key];
      if (way) shift = add(shift, scale(way, settings[i]!));
    });
    if (shift.some((x) => x !== 0)) change[key] = shift;
  }
  return change;
}

/** With the settings made and toe reset by the tie rod (secant on its length). */
function alignedAt(
  hardpoints: Hardpoints,
  fitted: LinkageChange,
  adjusters: readonly [Adjuster, Adjuster],
  settings: readonly [number, number],
  toe: number,
  travel: number,
): Outcome<Aligned> {
  const moved = combine(fitted, adjusters, settings);
  let rod = fitted.tieRodLength ?? 0;
  let before = { rod: 0, error: 0 };
  for (let i = 0; i < 20; i++) {
    const change = { ...moved, tieRodLength: rod };
    const linkage = makeLinkage(hardpoints, change);
    if (!linkage.ok) return linkage;
    const pose = solvePose(linkage.value, travel);
    if (!pose.ok) return pose;
    const angles = wheelAngles(pose.value, pose.value.wheelCentre[2]);
    const error = angles.toe - toe;
    const { camber, caster } = angles;
    if (Math.abs(error) < 1e-12)
      return found({ change, linkage: linkage.value, pose: pose.value, reached: { camber, caster, toe: angles.toe } });
    const slope = i > 0 && rod !== before.rod ? (error - before.error) / (rod - before.rod) : 1 / linkage.value.steeringArmRadius;
    before = { rod, error };
    rod -= Math.max(-0.02, Math.min(0.02, error / slope));
  }
  return refused('tie_rod_outer: no length of tie rod sets the toe asked for');
}

type At = (a: number, b: number) => Outcome<Aligned>;

/** Undefined where the adjusters do not tell the two angles apart or the search leaves the linkage. */
function newton(at: At, targets: AlignmentTargets): readonly [number, number] | undefined {
  let [a, b] = [0, 0];
  const h = 1e-4;
  for (let i = 0; i < 15; i++) {
    const here = errors(at(a, b), targets);
    const da = errors(at(a + h, b), targets);
    const db = errors(at(a, b + h), targets);
    if (!here || !da || !db) return undefined;
    if (Math.abs(here[0]) + Math.abs(here[1]) < 1e-11) return [a, b];
    const [p, q, r, s] = [(da[0] - here[0]) / h, (db[0] - here[0]) / h, (da[1] - here[1]) / h, (db[1] - here[1]) / h];
    const det = p * s - q * r;
    if (Math.abs(det) < 1e-6) return undefined;
    a -= (s * here[0] - q * here[1]) / det;
    b -= (p * here[1] - r * here[0]) / det;
    // No adjuster moves a bush by this much: the targets are out of any reach.
    if (Math.abs(a) > 0.1 || Math.abs(b) > 0.1) return undefined;
  }
  return undefined;
}

function errors(aligned: Outcome<Aligned>, targets: AlignmentTargets): readonly [number, number] | undefined {
  if (!aligned.ok) return undefined;
  return [aligned.value.reached.camber - targets.camber, aligned.value.reached.caster - targets.caster];
}

/**
 * Least sum of squares of both angle errors inside the adjusters' range. The targets lie outside, so the best is on the
 * edge: each of the four is searched.
 */
function nearestInRange(at: At, adjusters: readonly [Adjuster, Adjuster], targets: AlignmentTargets): readonly [number, number] {
  const [x, y] = adjusters;
  const edges: { readonly way: (t: number) => readonly [number, number]; readonly from: Adjuster }[] = [
    { way: (t) => [x.least, t], from: y },
    { way: (t) => [x.most, t], from: y },
    { way: (t) => [t, y.least], from: x },
    { way: (t) => [t, y.most], from: x },
  ];
  let best: { readonly setting: readonly [number, number]; readonly value: number } | undefined;
  for (const { way, from } of edges) {
    const miss = (t: number): number => {
      const e = errors(at(...way(t)), targets);
      return e ? e[0] * e[0] + e[1] * e[1] : Number.POSITIVE_INFINITY;
    };
    const { at: t, value } = minimise(miss, from.least, from.most, 1e-3);
    if (!best || value < best.value) best = { setting: way(t), value };
  }
  return best!.setting;
}
