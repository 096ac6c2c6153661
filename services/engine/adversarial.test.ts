/** Margins made to trip a search, with their true ends: every vertex, every kink and every turn inside is tried. */
import { describe, expect, it } from 'vitest';
import { judged, type Stated } from './testing.ts';

type Numbers = readonly number[];
interface Case {
  readonly require: string;
  /** Of `h.length`, `h.stretch` and `gap(h.corner)`. */
  readonly said: readonly (readonly [number, number])[];
  readonly margin: (x: Numbers) => number;
}

const NAMES = ['hose.length', 'hose.stretch', 'gap'];
const STEPS = 80;

/** The least and the greatest over a grid that has the vertices, the middle and what lies between, kinks on whole eighths included. */
function enumerated({ said, margin }: Case): readonly [number, number] {
  let all: Numbers[] = [[]];
  for (const [value, by] of said) {
    const steps = by === 0 ? [value] : Array.from({ length: STEPS + 1 }, (_, i) => value - by + (2 * by * i) / STEPS);
    all = all.flatMap((before) => steps.map((x) => [...before, x]));
  }
  const margins = all.map(margin);
  return [margins.reduce((a, b) => Math.min(a, b)), margins.reduce((a, b) => Math.max(a, b))];
}

const given = (said: Case['said']): Record<string, Stated> => Object.fromEntries(said.map((one, i) => [NAMES[i] as string, one]));

const CASES: Readonly<Record<string, Case>> = {
  'a difference’s size at its zero': {
    require: 'abs(h.length - h.stretch) * 1 >= 0.5 m',
    said: [
      [1, 0.25],
      [1, 0.25],
    ],
    margin: ([a = 0, b = 0]) => Math.abs(a - b) - 0.5,
  },
  'a difference’s size with its zero off the middle': {
    require: 'abs(h.length - h.stretch) * 1 >= 0.5 m',
    said: [
      [1, 0.5],
      [1.25, 0.25],
    ],
    margin: ([a = 0, b = 0]) => Math.abs(a - b) - 0.5,
  },
  'the lesser of two tied contacts': {
    require: 'min(h.length, h.stretch) * 1 >= 0.5 m',
    said: [
      [1, 0.25],
      [1, 0.5],
    ],
    margin: ([a = 0, b = 0]) => Math.min(a, b) - 0.5,
  },
  'the greater of two tied contacts that move against each other': {
    require: 'max(h.length - gap(h.corner), h.stretch + gap(h.corner)) * 1 >= 0.5 m',
    said: [
      [1, 0.25],
      [1, 0.25],
      [0, 0.5],
    ],
    margin: ([a = 0, b = 0, c = 0]) => Math.max(a - c, b + c) - 0.5,
  },
  'a least inside one range': {
    require: 'h.length * h.length >= 0.25 m * 1 m',
    said: [[0.25, 1]],
    margin: ([a = 0]) => a * a - 0.25,
  },
  'a least inside two ranges': {
    require: '(h.length - 0.25 m) * (h.length - 0.25 m) + h.stretch * h.stretch >= 0.25 m * 1 m',
    said: [
      [0.5, 1],
      [0.25, 0.5],
    ],
    margin: ([a = 0, b = 0]) => (a - 0.25) ** 2 + b ** 2 - 0.25,
  },
  'a saddle': {
    require: 'h.length * h.stretch >= 0.25 m * 1 m',
    said: [
      [0, 1],
      [0, 1],
    ],
    margin: ([a = 0, b = 0]) => a * b - 0.25,
  },
  'an input that another turns about': {
    // Alone, the shorter the worse; with the other at its worst, the longer.
    require: 'h.length * (h.stretch - 0.25 m) >= 0.25 m * 1 m',
    said: [
      [1, 0.5],
      [0.5, 1],
    ],
    margin: ([a = 0, b = 0]) => a * (b - 0.25) - 0.25,
  },
  'three that meddle in a ring': {
    require: 'h.length * h.stretch + h.stretch * gap(h.corner) - gap(h.corner) * h.length >= 0.25 m * 1 m',
    said: [
      [0.25, 1],
      [0.5, 1],
      [-0.25, 1],
    ],
    margin: ([a = 0, b = 0, c = 0]) => a * b + b * c - c * a - 0.25,
  },
  'two that turn each other about, and one that scales both': {
    require: '(h.length - 0.75 m) * (h.stretch - 0.25 m) * (gap(h.corner) + 0.5 m) >= 0.25 m * 1 m * 1 m',
    said: [
      [1, 0.5],
      [0.5, 0.5],
      [0, 0.25],
    ],
    margin: ([a = 0, b = 0, c = 0]) => (a - 0.75) * (b - 0.25) * (c + 0.5) - 0.25,
  },
  'one value on both sides': {
    require: 'h.length * 3 - gap(h.corner) >= h.length + h.stretch',
    said: [
      [1, 0.5],
      [0.5, 0.25],
      [0.5, 0.5],
    ],
    margin: ([a = 0, b = 0, c = 0]) => 2 * a - c - b,
  },
};

describe('the ends of a band', () => {
  it.each(Object.entries(CASES))('%s: as every vertex and turn has them', (_, trap) => {
    const [result] = judged(trap.require, given(trap.said)).atoms;
    const [low, high] = enumerated(trap);
    expect(result?.low).toBeCloseTo(low, 3);
    expect(result?.high).toBeCloseTo(high, 3);
    // What is called proven leaves nothing outside.
    if (result?.lowIs === 'proven') expect(low).toBeGreaterThanOrEqual(result.low - 1e-9);
    if (result?.highIs === 'proven') expect(high).toBeLessThanOrEqual(result.high + 1e-9);
  });
});

describe('a requirement of several parts', () => {
  const of = (require: string, length: readonly [number, number]) => judged(require, { 'hose.length': length });

  it('is clear where whatever fails one alternative meets the other', () => {
    expect(of('h.length <= 0.6 m or h.length >= 0.4 m', [0.5, 0.25]).verdict).toBe('clear');
  });
  it('is in conflict where no value meets both demands, though each may be met', () => {
    const { verdict, controlling } = of('h.length >= 0.6 m and h.length <= 0.4 m', [0.5, 0.25]);
    expect(verdict).toBe('conflict');
    expect(controlling?.high).toBeCloseTo(-0.1, 6);
  });
  it('is close where the whole is, with the end at which the whole is at its worst', () => {
    const { verdict, controlling } = of('h.length <= 0.4 m or h.length >= 0.6 m', [0.45, 0.25]);
    expect(verdict).toBe('close');
    expect(controlling?.low).toBeCloseTo(-0.1, 3);
    expect(controlling?.high).toBeCloseTo(0.2, 6);
  });
  it('is close within a stretch narrower than what is open', () => {
    const { verdict, controlling } = of('h.length within 0.1 m of 0.5 m', [0.5, 0.25]);
    expect([verdict, controlling?.margin]).toEqual(['close', 0.1]);
    expect(controlling?.low).toBeCloseTo(-0.15, 9);
    expect(controlling?.high).toBeCloseTo(0.1, 6);
  });
  it('compares parts of different dimensions by their size', () => {
    const { verdict } = judged('h.length >= 0.5 m or slope >= 0.1 rad', { 'hose.length': [0.5, 0.1], slope: [0.1, 0.05] });
    expect(verdict).toBe('close');
  });
});

describe('a statement about all or some parts', () => {
  it('is close where one tolerance turns it', () => {
    expect(judged('every(p.length > 0.5 m for p in hose)', { 'hose.length': [0.52, 0.1] }).verdict).toBe('close');
    expect(judged('some(p.length > 0.5 m for p in hose)', { 'hose.length': [0.48, 0.1] }).verdict).toBe('close');
  });
  it('is close where only two tolerances together turn it', () => {
    const said = { 'hose.length': [1, 0.3], 'hose.stretch': [0.6, 0.3] } as const;
    expect(judged('every(p.length > p.stretch for p in hose)', said).verdict).toBe('close');
    expect(judged('every(p.stretch < p.length for p in hose)', { ...said, 'hose.stretch': [0.6, 0.05] }).verdict).toBe('clear');
  });
  it('is in conflict where no tolerance can turn it', () => {
    expect(judged('some(p.length > p.stretch for p in hose)', { 'hose.length': [0.2, 0.1], 'hose.stretch': [0.6, 0.2] }).verdict).toBe(
      'conflict',
    );
  });
});
