/** The generated functions against the interpreter: the same answers on rules and vehicles made at random. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printAst } from './ast.ts';
import { Bands } from './band.ts';
import { bindRule, type World } from './bind.ts';
import { compileRule, QUICK } from './compile.ts';
import { Report } from './diagnostics.ts';
import { frameOf } from './frame.ts';
import { atomMargin, atomsOf, EmptyFold, truth as interpret } from './interpret.ts';
import { parseExpression } from './parser.ts';
import { Ranges } from './proof.ts';
import { probe, truth } from './testing.ts';
import type { Rule, Truth } from './tree.ts';
import { Texts, Values } from './values.ts';

const FRONT = 1;
const REAR = 2;
const CORNERS = [3, 4, 5, 6];
const PLACES = ['vehicle', 'front', 'rear', 'front-left', 'front-right', 'rear-left', 'rear-right'];

interface Made {
  /** Corner of each hose. */
  readonly hoses: readonly number[];
  readonly value: (name: string, subjects: readonly number[]) => number;
}

/** Some values are missing, and some are alike, so that ties and unknowns come up. */
const made: fc.Arbitrary<Made> = fc.record({
  hoses: fc.array(fc.constantFrom(...CORNERS), { minLength: 1, maxLength: 4 }),
  value: fc
    .func(
      fc.oneof({ weight: 6, arbitrary: fc.constantFrom(0, 0.005, 0.025, 0.04, 0.4, 1) }, { weight: 1, arbitrary: fc.constant(Number.NaN) }),
    )
    .map((f) => (name: string, subjects: readonly number[]) => f(name, subjects.join(','))),
});

function worldOf({ hoses, value }: Made, texts: Texts): World {
  const first = PLACES.length;
  const axle = (corner: number): number => (corner === 3 || corner === 4 ? FRONT : REAR);
  const placeOf = (subject: number): number => (subject < first ? subject : (hoses[subject - first] as number));
  const values: Values = new Values(
    {
      signature: () => undefined,
      provider: () => undefined,
      candidates: (name, subjects) => {
        const x = value(name, subjects);
        const text = name.endsWith('.end')
          ? values.intern(x > 0.02 ? 'banjo' : 'straight')
          : name.endsWith('.braided')
            ? Number(x > 0.02)
            : x;
        return Number.isNaN(x) ? [] : [{ value: text, plusMinus: 0, rank: 'stated' }];
      },
    },
    texts,
  );
  const all = hoses.map((_, i) => first + i);
  return {
    values,
    bands: new Bands(values),
    ranges: new Ranges(values),
    parts: () => all,
    placed: (place) => PLACES.indexOf(place.replaceAll('_', '-')),
    placeOf,
    partsAt: (_kind, place) => all.filter((part) => placeOf(part) === place || axle(placeOf(part)) === place || place === 0),
    step: (subject, to) => {
      const corner = placeOf(subject);
      return to === 'corner' ? (CORNERS.includes(corner) ? corner : -1) : axle(corner);
    },
  };
}

const attempt = (ask: () => number): number | 'empty' => {
  try {
    return ask();
  } catch (error) {
    if (error instanceof EmptyFold) return 'empty';
    throw error;
  }
};

describe('generated code and the interpreter', () => {
  it('agree on the truth and on every margin', () => {
    let compared = 0;
    let unknown = 0;
    fc.assert(
      fc.property(truth(3), made, (require, vehicle) => {
        const { library } = probe(require);
        const rule = library.rules.get('probe') as Rule | undefined;
        // A comparison of constants is refused as always or never true; there is no rule then.
        if (!rule) return;
        const texts = new Texts();
        const compiled = compileRule(rule, (literal) => texts.intern(literal));
        const world = worldOf(vehicle, texts);
        const bound = bindRule(compiled, world);
        for (const slot of bound.slots.keys())
          if ((bound.slots[slot] as number) < world.values.nodes.length) world.values.read(bound.slots[slot] as number);
        const quick = new Uint8Array(bound.tuples.length);
        compiled.quick(world.values.values, bound.slots, bound.starts, quick);
        bound.tuples.forEach((tuple, i) => {
          const frame = frameOf(rule.scope, tuple, world);
          const at = bound.starts[i] as number;
          const plain = attempt(() => interpret(rule.require as Truth, frame));
          const fast = attempt(() => compiled.met(world.values.values, bound.slots, at));
          expect(fast).toBe(plain);
          expect(quick[i]).toBe(
            plain === 'empty' ? QUICK.notApplicable : plain === 1 ? QUICK.clear : plain === 0 ? QUICK.conflict : QUICK.unknown,
          );
          compared++;
          if (Number.isNaN(plain)) unknown++;
          atomsOf(rule.require).forEach((atom, k) => {
            expect(attempt(() => (compiled.margins[k] as typeof compiled.met)(world.values.values, bound.slots, at))).toBe(
              attempt(() => atomMargin(atom, frame)),
            );
          });
        });
      }),
      { numRuns: 1500 },
    );
    expect(compared).toBeGreaterThan(500);
    expect(unknown).toBeGreaterThan(20);
  });

  it('a tree printed and read again is the same tree', () => {
    fc.assert(
      fc.property(truth(3), (require) => {
        const read = (text: string) =>
          parseExpression(
            {
              is: 'text',
              text,
              span: { source: { file: 'f', text }, start: 0, end: text.length },
              part: (start, end) => ({ source: { file: 'f', text }, start, end }),
            },
            new Report(),
          );
        const first = read(require);
        expect(first).toBeDefined();
        const printed = printAst(first!);
        expect(printAst(read(printed)!)).toBe(printed);
      }),
    );
  });
});
