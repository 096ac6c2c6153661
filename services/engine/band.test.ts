import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Band, Bands } from './band.ts';
import { type Ask, type Provider, Values } from './values.ts';

type Stated = readonly [value: number, plusMinus: number, statement?: number];

/** A graph whose values go by name; the last provider is what is asked about. */
function graph(said: Readonly<Record<string, Stated>>, models: Readonly<Record<string, (ask: Ask) => number>>) {
  let computed = 0;
  const providers = new Map(
    Object.entries(models).map(([name, model]): [string, Provider] => [
      name,
      {
        provides: name,
        model: name,
        compute: (ask) => {
          computed++;
          return model(ask);
        },
      },
    ]),
  );
  const values: Values = new Values({
    signature: () => undefined,
    provider: (name) => providers.get(name),
    candidates: (name) => {
      const stated = said[name];
      if (!stated) return [];
      const [value, plusMinus, statement] = stated;
      return [{ value, plusMinus, rank: 'stated', ...(statement !== undefined && { statement }) }];
    },
  });
  const bands = new Bands(values);
  const slot = (name: string): number => values.slot(name, []);
  return { values, bands, slot, band: (name: string) => bands.of(slot(name)), computed: () => computed };
}

const ends = ({ low, high }: Band) => [low, high];
const names = (n: number): readonly string[] => Array.from({ length: n }, (_, i) => `x${i}`);
const total = (ask: Ask, of: readonly string[]): number => of.reduce((sum, name) => sum + ask.value(name), 0);

describe('what reaches a number through one value alone', () => {
  const LOADS = names(200);
  const said = { ...Object.fromEntries(LOADS.map((name): [string, Stated] => [name, [2, 0.1]])), rating: [500, 5] as Stated };

  it('is moved as that value, which is searched once for all that rest on it', () => {
    const { band, computed } = graph(said, {
      load: (ask) => total(ask, LOADS),
      left: (ask) => ask.value('rating') - ask.value('load'),
      share: (ask) => ask.value('load') / ask.value('rating'),
    });
    const first = band('left');
    expect(ends(first).map((end) => Math.round(end * 1e6) / 1e6)).toEqual([75, 125]);
    const asked = computed();
    expect(asked).toBeLessThan(10 * LOADS.length);
    expect(ends(band('share')).map((end) => Math.round(end * 1e4) / 1e4)).toEqual(
      [380 / 505, 420 / 495].map((x) => Math.round(x * 1e4) / 1e4),
    );
    expect(computed() - asked).toBeLessThan(40);
  });

  it('has its doubt and its worst case told of what was given', () => {
    const { band, slot, values } = graph(said, {
      load: (ask) => total(ask, LOADS),
      left: (ask) => ask.value('rating') - ask.value('load'),
    });
    const { doubt, worst, low } = band('left');
    expect(doubt[0]?.slot).toBe(slot('rating'));
    expect(doubt[0]?.share).toBeCloseTo(0.2, 9);
    expect(doubt[1]?.share).toBeCloseTo(0.8 / 200, 9);
    for (const [given, part] of worst) values.lean(given, part);
    expect(values.read(slot('left'))).toBeCloseTo(low, 9);
  });

  it('is opened where something of it reaches the number on another way', () => {
    const { band } = graph(
      { a: [10, 3], b: [4, 1] },
      { sum: (ask) => ask.value('a') + ask.value('b'), twice: (ask) => ask.value('sum') - ask.value('a') },
    );
    expect(ends(band('twice'))).toEqual([3, 5]);
  });

  it('is opened where one statement is behind both', () => {
    const { band } = graph(
      { a: [10, 3, 7], b: [8, 3, 7], c: [0, 1], d: [0, 1] },
      {
        left: (ask) => ask.value('a') + ask.value('c'),
        right: (ask) => ask.value('b') + ask.value('d'),
        gap: (ask) => ask.value('left') - ask.value('right'),
      },
    );
    expect(ends(band('gap'))).toEqual([0, 4]);
  });

  it('carries what its model may be off by as that is where it is moved to', () => {
    const half = (ask: Ask): number => {
      const load = ask.value('load') / 2;
      ask.within(0.1 * load);
      return load;
    };
    const { band } = graph(
      { a: [10, 2], b: [10, 2] },
      { load: (ask) => ask.value('a') + ask.value('b'), half, left: (ask) => 20 - ask.value('half') },
    );
    expect(ends(band('left')).map((end) => Math.round(end * 1e9) / 1e9)).toEqual(
      [20 - 1.1 * 12, 20 - 0.9 * 8].map((x) => Math.round(x * 1e9) / 1e9),
    );
  });

  it('comes out as the corners of everything given do', () => {
    const input = fc.record({
      value: fc.integer({ min: -5, max: 5 }),
      by: fc.integer({ min: 0, max: 3 }),
      weight: fc.constantFrom(-2, -1, 1, 2),
      through: fc.constantFrom('p', 'q', 'r'),
    });
    fc.assert(
      fc.property(fc.array(input, { minLength: 5, maxLength: 5 }), (inputs) => {
        const of = (node: string, value: (i: number) => number): number =>
          inputs.reduce((sum, { weight, through }, i) => sum + (through === node ? weight * value(i) : 0), 0);
        const y = (p: number, q: number, r: number): number => 10 * Math.cbrt(p) - q + Math.atan(r);
        const { band } = graph(Object.fromEntries(inputs.map(({ value, by }, i): [string, Stated] => [`x${i}`, [value, by]])), {
          p: (ask) => of('p', (i) => ask.value(`x${i}`)),
          q: (ask) => of('q', (i) => ask.value(`x${i}`)),
          r: (ask) => of('r', (i) => ask.value(`x${i}`)),
          y: (ask) => y(ask.value('p'), ask.value('q'), ask.value('r')),
        });
        const corners = Array.from({ length: 2 ** 5 }, (_, k) => {
          const at = (i: number): number => (inputs[i]?.value ?? 0) + (inputs[i]?.by ?? 0) * ((k >> i) & 1 ? 1 : -1);
          return y(of('p', at), of('q', at), of('r', at));
        });
        const [low, high] = ends(band('y')) as [number, number];
        expect(low).toBeCloseTo(Math.min(...corners), 6);
        expect(high).toBeCloseTo(Math.max(...corners), 6);
      }),
      { numRuns: 300 },
    );
  });
});

describe('the band by root sum of squares', () => {
  const half = ({ rss }: Band): readonly [number, number] => [(rss?.high ?? 0) - (rss?.low ?? 0), Number(rss?.nearLinear)];

  it('is three and four to five, through a value of their own as well', () => {
    const said = { a: [10, 3], b: [4, 4], c: [0, 12] } as const;
    const sums = graph(said, {
      sum: (ask) => ask.value('a') - ask.value('b'),
      all: (ask) => ask.value('sum') + ask.value('c'),
    });
    expect(half(sums.band('sum'))).toEqual([expect.closeTo(2 * 5, 9), 1]);
    expect(half(sums.band('all'))).toEqual([expect.closeTo(2 * 13, 9), 1]);
  });

  it('is near straight only where what it goes through is: a bend below a sum of two is told of the sum', () => {
    const through = (bent: (ask: Ask) => number): boolean | undefined =>
      graph({ a: [0, 1], b: [0, 1], c: [0, 1] }, { bent, sum: (ask) => ask.value('bent') + ask.value('c') }).band('sum').rss?.nearLinear;
    expect(through((ask) => ask.value('a') + ask.value('b'))).toBe(true);
    expect(through((ask) => Math.abs(ask.value('a') - ask.value('b')))).toBe(false);
    // Bent and turned about, and with hardly any swing of its own to be seen as bent by.
    expect(through((ask) => ask.value('a') + 3 * ask.value('a') ** 2 + ask.value('b') - 3 * ask.value('b') ** 2)).toBe(false);
  });

  it('is not straight where what does nothing alone takes over at an end: the greater of two, one let off', () => {
    const greater = (b: number): boolean | undefined =>
      graph({ a: [10, 3], b: [b, 3] }, { y: (ask) => Math.max(ask.value('a'), ask.value('b')) }).band('y').rss?.nearLinear;
    expect(greater(6.5)).toBe(false);
    expect(greater(2)).toBe(true);
  });

  it('takes what a model has folded together by its own, and tells how much further all of it would go', () => {
    const { band } = graph(
      { a: [10, 3], b: [7, 1] },
      {
        drawn: (ask) => {
          ask.folds({ worst: 12, rss: 4 });
          return ask.value('a');
        },
        gap: (ask) => ask.value('drawn') - ask.value('b'),
      },
    );
    expect(ends(band('drawn'))).toEqual([3, 17]);
    expect(band('drawn').folded).toBeCloseTo(8, 9);
    expect(half(band('drawn'))).toEqual([expect.closeTo(2 * 5, 9), 1]);
    expect(ends(band('gap'))).toEqual([3 - 8, 3 + 8]);
    expect(band('gap').folded).toBeCloseTo(8, 9);
    expect(half(band('gap'))).toEqual([expect.closeTo(2 * Math.hypot(5, 1), 9), 1]);
  });
});

describe('an input whose best lies between its ends', () => {
  const reached = (of: (a: number, b: number) => number) =>
    ends(graph({ a: [0, 1], b: [0, 1] }, { y: (ask) => of(ask.value('a'), ask.value('b')) }).band('y'));

  it('is followed there', () => {
    expect(reached((a) => (a - 0.6) ** 2)[0]).toBeCloseTo(0, 6);
    expect(reached((a) => 1 - (a + 0.3) ** 2)[1]).toBeCloseTo(1, 6);
    expect(reached((a) => Math.abs(a - 0.4))[0]).toBeCloseTo(0, 3);
  });

  it('is followed where it lies close to an end, off the middle: within 1 of 0 at -4 ± 6 is met at best', () => {
    const band = graph({ x: [-4, 6] }, { y: (ask) => 1 - Math.abs(ask.value('x')) }).band('y');
    expect(band.high).toBeCloseTo(1, 3);
    expect(band.low).toBe(-9);
    // A dense search of the same, from the middle of the tolerance to its very end.
    for (let turn = -0.98; turn < 1; turn += 0.07) {
      const of = (a: number): number => (a < turn ? a : 2 * turn - a);
      expect(reached((a) => of(a))[1], `${turn}`).toBeCloseTo(turn, 2);
      expect(reached((a, b) => of(a) + 0.3 * b)[1], `${turn}`).toBeCloseTo(turn + 0.3, 2);
      expect(reached((a) => -of(a))[0], `${turn}`).toBeCloseTo(-turn, 2);
    }
  });

  it('is followed again where another one lets it: the greater of two distances from nothing', () => {
    const least = graph(
      { a: [-0.14, 0.18], b: [0.13, 0.19] },
      { y: (ask) => Math.max(Math.abs(ask.value('a')), Math.abs(ask.value('b'))) },
    );
    expect(least.band('y').low).toBeCloseTo(0, 3);
    expect(least.band('y').high).toBeCloseTo(0.32, 9);
  });

  it('is found where only a sum of several turns', () => {
    const best = (said: Readonly<Record<string, Stated>>, of: (x: readonly number[]) => number): number =>
      graph(said, { y: (ask) => of(Object.keys(said).map((name) => ask.value(name))) }).band('y').high;
    const sum = (x: readonly number[]): number => x.reduce((total, each) => total + each, 0);
    expect(best({ a: [2, 3], b: [-2, 3] }, ([a = 0, b = 0]) => 0.9 - Math.abs(a - b))).toBeCloseTo(0.9, 2);
    expect(best({ a: [-2, 3], b: [-2, 3] }, (x) => 1 - Math.abs(sum(x)))).toBeCloseTo(1, 2);
    expect(best({ a: [0, 2], b: [0, 2] }, (x) => -((sum(x) - 3) ** 2))).toBeCloseTo(0, 2);
    expect(best({ a: [-2, 1.5], b: [-2, 1.5], c: [-2, 3.6] }, (x) => 1 - Math.abs(sum(x)))).toBeCloseTo(1, 2);
  });

  it('is followed with the others at their worst', () => {
    expect(reached((a, b) => (a - 0.5 - 0.2 * b) ** 2 + 3 * b)[0]).toBeCloseTo(-3, 6);
    expect(reached((a, b) => b - (a + 0.3) ** 2)[1]).toBeCloseTo(1, 6);
  });
});

describe('how often is asked', () => {
  it('grows with the number of inputs alone, even where they all meddle with each other', () => {
    const asked = (n: number): number => {
      const xs = names(n);
      const { band, computed } = graph(Object.fromEntries(xs.map((x): [string, Stated] => [x, [0, 1]])), {
        y: (ask) => xs.reduce((sum, x, i) => sum + ask.value(x) * ask.value(xs[(i + 1) % n] as string), 0),
      });
      const { low, high } = band('y');
      expect(high).toBe(n);
      expect(low).toBeLessThan(-0.9 * n);
      return computed();
    };
    expect(asked(400)).toBeLessThan(10 * 400 + 1000);
  });

  it('takes no nearer an end than what each does alone adds up to, where too many meddle to look at them all', () => {
    const xs = names(60);
    const { band } = graph(Object.fromEntries(xs.map((x): [string, Stated] => [x, [0, 1]])), {
      y: (ask) => {
        const sum = total(ask, xs);
        return sum > 2 ? 0 : sum;
      },
    });
    expect(band('y').high).toBeGreaterThanOrEqual(2);
    expect(band('y').low).toBe(-60);
  });
});
