/**
 * The brake hose over all wheel positions.
 *
 * Straight span: the least length any hose could have; a hose shorter than the greatest span surely fails, and a
 * longer one is *not* thereby shown to reach, because it leaves its fittings in given directions and must not kink.
 * Route: length of arc, straight, arc from the chassis fitting to the caliper's, with the least bend radius: the
 * shortest smooth curve of that kind (Dubins' problem in space; shortest curves have this form when the ends are more
 * than some radii apart: Sussmann 1995, memory). An estimate: twist, stiffness and snagging are not in it.
 * Measured route: a string laid along the real route at one position carries everything the two above leave out; the
 * model only moves it to another position, by the change of the straight span.
 */
import { found, type Outcome, refused } from '../result.ts';
import { type HoseEnds, hoseEnds } from './attachments.ts';
import { type Linkage, steeredPose } from './double-wishbone.ts';
import type { BrakeHose, Sweep } from './geometry.ts';
import { add, addScaled, angleBetween, distance, length, scale, subtract, unit, type Vec3 } from './vector.ts';

export interface HoseReach {
  /** Greatest straight span and the position it is at. */
  readonly span: number;
  readonly travel: number;
  readonly rack: number;
  /** Free length less the greatest span: below 0 it is certain that the hose is too short. */
  readonly spareAtMost: number;
  /** Greatest smooth route, where directions and bend radius are known and the ends lie far enough apart. */
  readonly route?: number;
  /** Why there is no route. */
  readonly noRoute?: string;
}

/** Over the sweep; a grid, then halving steps about the worst position. */
export function hoseReach(linkage: Linkage, hose: BrakeHose, sweep: Sweep): Outcome<HoseReach> {
  const span = greatest(linkage, hose, sweep, (ends) => found(distance(ends.chassis, ends.caliper)));
  if (!span.ok) return span;
  const reach = { span: span.value.most, travel: span.value.travel, rack: span.value.rack, spareAtMost: hose.freeLength - span.value.most };
  const route = longestWay(linkage, hose, sweep);
  return found(route.ok ? { ...reach, route: route.value.most } : { ...reach, noRoute: route.reason });
}

/** The longest, over the sweep, of the shortest smooth ways between the fittings, and where that is. */
export function longestWay(linkage: Linkage, hose: BrakeHose, sweep: Sweep): Outcome<Most> {
  return greatest(linkage, hose, sweep, (ends) => smoothWay(ends, hose));
}

/** The shortest smooth way at one position. */
export function wayAt(linkage: Linkage, hose: BrakeHose, travel: number, rack: number): Outcome<number> {
  const pose = steeredPose(linkage, travel, rack);
  return pose.ok ? smoothWay(hoseEnds(linkage, pose.value, hose), hose) : pose;
}

function smoothWay({ chassis, chassisDirection, caliper, caliperDirection }: HoseEnds, { leastBendRadius }: BrakeHose): Outcome<number> {
  return chassisDirection && caliperDirection && leastBendRadius !== undefined
    ? smoothRoute(chassis, chassisDirection, caliper, caliperDirection, leastBendRadius)
    : refused('hose: the fittings’ directions and the least bend radius are not known');
}

export interface Most {
  readonly most: number;
  readonly travel: number;
  readonly rack: number;
}

function greatest(linkage: Linkage, hose: BrakeHose, sweep: Sweep, measure: (ends: HoseEnds) => Outcome<number>): Outcome<Most> {
  const at = (travel: number, rack: number): Outcome<Most> => {
    const pose = steeredPose(linkage, travel, rack);
    if (!pose.ok) return pose;
    const value = measure(hoseEnds(linkage, pose.value, hose));
    return value.ok ? found({ most: value.value, travel, rack }) : value;
  };
  const rows = 9;
  let best: Most | undefined;
  for (let i = 0; i < rows * rows; i++) {
    const travel = sweep.droop + ((sweep.bump - sweep.droop) * (i % rows)) / (rows - 1);
    const rack = sweep.rackRight + ((sweep.rackLeft - sweep.rackRight) * Math.floor(i / rows)) / (rows - 1);
    const here = at(travel, rack);
    if (!here.ok) return here;
    if (!best || here.value.most > best.most) best = here.value;
  }
  return found(climb(best!, sweep, at, (sweep.bump - sweep.droop) / (rows - 1), (sweep.rackLeft - sweep.rackRight) / (rows - 1)));
}

/** Pattern search uphill; the span is smooth in both directions. */
function climb(start: Most, sweep: Sweep, at: (travel: number, rack: number) => Outcome<Most>, travelStep: number, rackStep: number): Most {
  let best = start;
  let [a, b] = [travelStep, rackStep];
  while (a > 1e-7 || b > 1e-7) {
    let moved = false;
    for (const [da, db] of [
      [a, 0],
      [-a, 0],
      [0, b],
      [0, -b],
    ] as const) {
      const travel = Math.min(sweep.bump, Math.max(sweep.droop, best.travel + da));
      const rack = Math.min(sweep.rackLeft, Math.max(sweep.rackRight, best.rack + db));
      const here = at(travel, rack);
      if (here.ok && here.value.most > best.most + 1e-13) {
        best = here.value;
        moved = true;
      }
    }
    if (!moved) [a, b] = [a / 2, b / 2];
  }
  return best;
}

/**
 * Length of arc, straight and arc from `start`, leaving along `out`, to `end`, whose fitting the hose leaves along
 * `endOut` (so it arrives against it). Refused where the ends lie too near for two bends of that radius.
 */
export function smoothRoute(start: Vec3, out: Vec3, end: Vec3, endOut: Vec3, radius: number): Outcome<number> {
  const arrive = scale(endOut, -1);
  const tooTight = 'the ends lie too near each other for two bends of the least radius; a curve with a third bend is not computed';
  let s = unit(subtract(end, start));
  if (!s) return refused(tooTight);
  for (let i = 0; i < 400; i++) {
    const t1 = radius * Math.tan(angleBetween(out, s) / 2);
    const t2 = radius * Math.tan(angleBetween(s, arrive) / 2);
    const from = addScaled(start, add(out, s), t1);
    const to = addScaled(end, add(arrive, s), -t2);
    const next = unit(subtract(to, from));
    if (!next || t1 > 50 * radius || t2 > 50 * radius) return refused(tooTight);
    const moved = distance(next, s);
    if (moved < 1e-13) {
      const straight = length(subtract(to, from));
      return found(radius * (angleBetween(out, s) + angleBetween(s, arrive)) + straight);
    }
    // Half steps: whole ones swing to and fro where the straight is short against the bends.
    s = unit(add(s, next));
    if (!s) return refused(tooTight);
  }
  return refused(tooTight);
}
