/**
 * Monte Carlo through the drawing: its numbers drawn one by one, each normal with its tolerance for two standard deviations, the suspension built
 * anew from them. A margin's spread has the drawing folded in by root sum of squares, and claims nineteen in twenty: held to it from both sides.
 * So is the worst case, which takes all else at its worst and the drawing by that spread.
 */
import { describe, expect, it } from 'vitest';
import { thorough } from '../faults/random.ts';
import { type Behind, drawingOf, drawVehicles } from './drawn-vehicles.ts';
import { normal } from './draws.ts';

const DRAWS = thorough ? { modest: 2000, bolder: 300, bold: 300 } : { modest: 24 };
/** Root mean square of what nineteen in twenty keep within one. */
const RMS = 0.5;
/** A band as narrow as that, of what is compared, is a difference of two that a drawing cancels in; nobody could read what is left. */
const UNREADABLE = 0.02;

interface Seen {
  readonly of: Behind;
  draws: number;
  inside: number;
  beyond: number;
  squares: number;
}

function seenOf(name: keyof typeof DRAWS, draws: number): Seen[] {
  const drawing = drawingOf(name);
  const readable = drawing.margins.filter(({ result: { rss, high, low, scale } }) => rss?.nearLinear && high - low > UNREADABLE * scale);
  const all = new Map(readable.map((of): [string, Seen] => [of.name, { of, draws: 0, inside: 0, beyond: 0, squares: 0 }]));
  drawVehicles(drawing, draws, normal, (margin, is) => {
    const seen = all.get(margin);
    const { rss, low, high, margin: middle } = seen?.of.result ?? {};
    if (!seen || !rss || low === undefined || high === undefined || middle === undefined) return;
    seen.draws++;
    seen.inside += Number(is >= rss.low && is <= rss.high);
    seen.beyond += Number(is < low || is > high);
    seen.squares += ((is - middle) / (is < middle ? middle - rss.low : rss.high - middle)) ** 2;
  });
  return [...all.values()];
}

const share = (all: readonly Seen[], of: 'inside' | 'beyond'): number =>
  all.reduce((sum, seen) => sum + seen[of], 0) / all.reduce((sum, { draws }) => sum + draws, 0);

describe.each(Object.entries(DRAWS) as [keyof typeof DRAWS, number][])('%s, drawn %i times over', { timeout: 3_600_000 }, (name, draws) => {
  const all = seenOf(name, draws);

  it('has a margin for each that is answered on the drawing in the middle', () => {
    expect(all.length).toBeGreaterThan(40);
    for (const seen of all) expect([seen.of.name, seen.draws]).toEqual([seen.of.name, draws]);
  });

  it('keeps to each band by root sum of squares as it claims, neither too narrow nor much too wide', () => {
    const sampling = 4 / Math.sqrt(2 * draws);
    const rms = all.map(({ of, squares }) => [of.name, Math.sqrt(squares / draws)] as const);
    expect(rms.filter(([, is]) => is > RMS * (1.15 + sampling) || is < (RMS / 2) * (1 - sampling))).toEqual([]);
    // One drawing moves most of them, so that a draw is one in twenty for many at once.
    expect(share(all, 'inside')).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / draws));
    console.log(
      `${name}, ${draws} drawings: ${(100 * share(all, 'inside')).toFixed(1)} % of ${all.length} margins inside the band by root sum of squares, ` +
        `${(100 * share(all, 'beyond')).toFixed(2)} % beyond the worst case`,
    );
  });

  it('hardly passes the worst case', () => {
    expect(share(all, 'beyond')).toBeLessThan(0.02);
  });
});
