/**
 * Monte Carlo through the drawing: its numbers drawn one by one, each normal with its tolerance for two standard deviations and never beyond it,
 * the suspension built anew from them. A margin's spread has the drawing folded in: by root sum of squares, which claims nineteen in twenty and is
 * held to it from both sides; and with all its numbers at their worst at once, to first order, which hardly anything within its tolerances passes.
 */
import { describe, expect, it } from 'vitest';
import { clipped, random, thorough } from '../faults/random.ts';
import { type Behind, drawingOf, drawVehicles, ofAClass } from './drawn-vehicles.ts';

/** Every gap is searched anew for each: a sixth of a second. */
const WHOLE = thorough ? { modest: 1000, bolder: 200, bold: 400 } : { modest: 24 };
/** What a rebuilt linkage alone decides, no tyre being swept: some twenty milliseconds. */
const LINKAGE = thorough ? { modest: 8000, bold: 8000 } : { modest: 2000, bold: 2000 };
const OF_THE_LINKAGE = new Set([
  ...['anti-roll-link-angle', 'bump-stop-gap', 'coils-before-stop', 'droop-left'],
  ...['lower-ball-joint-swing', 'shaft-inner-joint', 'shaft-outer-joint', 'shaft-plunge'],
  ...['steering-axis-offset', 'upper-ball-joint-swing'],
]);
/**
 * What hangs on nothing but two lengths, of which one is in what is stated of the truck as it was built. That is drawn here apart from the drawing, as no
 * truck is; it is held where they are drawn together, of a class with nothing measured.
 */
const DRAWN_TOGETHER = 'damper-before-stop';
/** Turned about at nothing: no band by root sum of squares is claimed of them, and the ends that decide are. */
const FOLDED = new Set(['bump-steer', 'shaft-angle-at-ride']);
/** Root mean square of what nineteen in twenty keep within one. */
const RMS = 0.5;
/** A band as narrow as that, of what is compared, is a difference of two that a drawing cancels in; nobody could read what is left. */
const UNREADABLE = 0.02;
/** What bends is beyond a band that was added to first order, by less than such a part of it. */
const BENT = 0.5;

interface Seen {
  readonly of: Behind;
  draws: number;
  inside: number;
  beyond: number;
  /** Beyond the ends that decide, which have the drawing by root sum of squares among them. */
  pastDeciding: number;
  /** As a part of the band. */
  furthest: number;
  squares: number;
}

type Build = Parameters<typeof drawingOf>[0];

function seenOf(name: Build, draws: number, only?: (rule: string) => boolean, straight = true): Seen[] {
  const drawing = drawingOf(name, (rule) => rule !== DRAWN_TOGETHER && (only?.(rule) ?? true));
  const readable = drawing.margins.filter(
    ({ result: { rss, high, low, scale } }) => rss && (rss.nearLinear || !straight) && high - low > UNREADABLE * scale,
  );
  const all = new Map(
    readable.map((of): [string, Seen] => [of.name, { of, draws: 0, inside: 0, beyond: 0, pastDeciding: 0, furthest: 0, squares: 0 }]),
  );
  drawVehicles(drawing, draws, clipped, (margin, is) => {
    const seen = all.get(margin);
    // A drawing that cannot be put together is no vehicle.
    if (!seen || Number.isNaN(is)) return;
    const { rss, low, high, margin: middle, folded } = seen.of.result;
    if (!rss) return;
    const past = Math.max(low - folded - is, is - high - folded) / (high - low + 2 * folded);
    seen.pastDeciding += Number(is < low || is > high);
    seen.draws++;
    seen.inside += Number(is >= rss.low && is <= rss.high);
    seen.beyond += Number(past > 1e-9);
    seen.furthest = Math.max(seen.furthest, past);
    seen.squares += ((is - middle) / (is < middle ? middle - rss.low : rss.high - middle)) ** 2;
  });
  return [...all.values()];
}

const share = (all: readonly Seen[], of: 'inside' | 'beyond' | 'pastDeciding'): number =>
  all.reduce((sum, seen) => sum + seen[of], 0) / all.reduce((sum, { draws }) => sum + draws, 0);

const rmsOf = ({ squares, draws }: Seen): number => Math.sqrt(squares / draws);

/** Of margins that one drawing moves together, so that a draw is one in twenty for many at once. */
function keepsToItsBands(name: string, draws: number, all: readonly Seen[]): void {
  const sampling = 4 / Math.sqrt(2 * draws);
  const rms = all.map((seen) => [seen.of.name, rmsOf(seen)] as const);
  const mean = rms.reduce((sum, [, is]) => sum + is, 0) / rms.length;
  console.log(
    `${name}, ${draws} drawings: ${(100 * share(all, 'inside')).toFixed(1)} % of ${all.length} margins inside the band by root sum of squares, ` +
      `root mean square ${mean.toFixed(3)} of it (${Math.min(...rms.map(([, is]) => is)).toFixed(2)} to ${Math.max(...rms.map(([, is]) => is)).toFixed(2)}); ` +
      `${(100 * share(all, 'pastDeciding')).toFixed(2)} % beyond the ends that decide, ${(100 * share(all, 'beyond')).toFixed(3)} % beyond those with the drawing at its worst, by ${(100 * Math.max(...all.map(({ furthest }) => furthest))).toFixed(1)} % of a band at most`,
  );
  expect(rms.filter(([, is]) => is > RMS * (1.25 + sampling) || is < RMS * (0.7 - sampling))).toEqual([]);
  // Half as wide, or twice, would be seen of all of them together at few draws too.
  expect(mean).toBeGreaterThan(RMS * (0.88 - sampling / 2));
  expect(mean).toBeLessThan(RMS * (1.08 + sampling / 2));
  expect(share(all, 'inside')).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / draws));
  expect(share(all, 'pastDeciding')).toBeLessThan(0.02);
  expect(share(all, 'beyond')).toBeLessThan(4e-3);
  expect(all.filter(({ furthest }) => furthest > BENT).map((seen) => [seen.of.name, seen.furthest])).toEqual([]);
}

const CASES = (draws: Readonly<Record<string, number>>) => Object.entries(draws) as [Build, number][];

describe.each(CASES(WHOLE))('%s, drawn %i times over', { timeout: 3_600_000 }, (name, draws) => {
  it('keeps to each band as it claims, neither too narrow nor much too wide', () => {
    const all = seenOf(name, draws);
    expect(all.length).toBeGreaterThan(40);
    for (const seen of all) expect([seen.of.name, seen.draws > 0.98 * draws]).toEqual([seen.of.name, true]);
    keepsToItsBands(name, draws, all);
  });
});

describe.each(CASES(LINKAGE))('the linkage of %s, drawn %i times over', { timeout: 3_600_000 }, (name, draws) => {
  it('keeps to each band as it claims', () => {
    const all = seenOf(name, draws, (rule) => OF_THE_LINKAGE.has(rule));
    expect(new Set(all.map(({ of }) => of.name.split(':')[0])).size).toBe(OF_THE_LINKAGE.size);
    for (const seen of all) expect([seen.of.name, seen.draws > 0.98 * draws]).toEqual([seen.of.name, true]);
    keepsToItsBands(name, draws, all);
    const folded = seenOf(name, draws / 8, (rule) => FOLDED.has(rule), false);
    expect(new Set(folded.map(({ of }) => of.name.split(':')[0]))).toEqual(FOLDED);
    expect(share(folded, 'pastDeciding')).toBeLessThan(0.02);
  });
});

/** Of what a class tells of a front whose coil-overs were lowered by 25 mm, and what is stated of it as it was built. */
const OF_A_CLASS: Readonly<Record<string, readonly string[]>> = {
  ...Object.fromEntries(
    [
      ...['full_droop', 'droop_left', 'bump_stop_gap', 'upper_joint_left', 'lower_joint_left', 'shaft_inner_left', 'shaft_outer_left'],
      ...['shaft_plunge_left', 'shaft_slope_at_ride', 'shaft_sweep_at_ride', 'anti_roll_link_left', 'spring_to_arm_gap', 'coil_bind_left'],
      ...['damper_left_at_stop', 'toe_gained_up', 'toe_gained_down', 'hose_span', 'hose_span_to_next_stop', 'tie_rod_angle'],
      ...[
        'camber_at_ride',
        'caster_at_ride',
        'inclination_at_ride',
        'steering_axis_offset',
        'roll_centre_height',
        'coil_over_motion_ratio',
      ],
    ].map((name) => [name, [name]]),
  ),
  shaft_angle_at_ride: ['shaft_slope_at_ride', 'shaft_sweep_at_ride'],
  toe_change: ['toe_gained_up', 'toe_gained_down'],
  hose_span_furthest: ['hose_span', 'hose_span_to_next_stop'],
};

describe.each(['midsize_independent_front', 'fullsize_independent_front'])('%s, nothing measured', { timeout: 3_600_000 }, (of) => {
  it('keeps to each band as it claims, in all trucks that are as the class states they are built', () => {
    const draws = thorough ? 3000 : 120;
    const seen = ofAClass(of, OF_A_CLASS, draws, random(7).next, clipped);
    let [all, inside, past] = [0, 0, 0];
    for (const [name, { band, drawn }] of Object.entries(seen)) {
      const { nominal, low, high, rss } = band;
      expect([name, drawn.length > draws / 60, rss !== undefined]).toEqual([name, true, true]);
      if (!rss) continue;
      const beyond = drawn.filter((is) => is < low || is > high).length;
      const within = drawn.filter((is) => is >= rss.low && is <= rss.high).length;
      const squares = drawn.reduce((sum, is) => sum + ((is - nominal) / (is < nominal ? nominal - rss.low : rss.high - nominal)) ** 2, 0);
      const sampling = Math.sqrt((0.95 * 0.05) / drawn.length);
      all += drawn.length;
      past += beyond;
      expect([name, beyond / drawn.length < 0.02 + 3 * sampling]).toEqual([name, true]);
      if (!rss.nearLinear) continue;
      inside += within - 0.95 * drawn.length;
      expect([name, within / drawn.length > 0.93 - 3 * sampling]).toEqual([name, true]);
      // What is stated as built may be anywhere within its tolerance: of an even spread it is 0.58.
      const rms = Math.sqrt(squares / drawn.length);
      const some = 2 / Math.sqrt(2 * drawn.length);
      expect([name, rms, rms < 0.64 + some && rms > 0.27 - some]).toEqual([name, rms, true]);
    }
    expect(inside).toBeGreaterThan(0);
    expect(past / all).toBeLessThan(0.01);
  });
});
