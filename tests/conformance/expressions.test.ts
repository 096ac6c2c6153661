/** The conformance cases of the rule language: data, read here and run through parser, checker, interpreter and generated code. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Bands } from '../../services/engine/band.ts';
import { bindRule, type World } from '../../services/engine/bind.ts';
import { compileRule } from '../../services/engine/compile.ts';
import { frameOf, slotsOf } from '../../services/engine/frame.ts';
import { EmptyFold, number, truth } from '../../services/engine/interpret.ts';
import { Ranges } from '../../services/engine/proof.ts';
import { probe } from '../../services/engine/testing.ts';
import type { Rule } from '../../services/engine/tree.ts';
import { Texts, Values } from '../../services/engine/values.ts';
import { parseQuantity } from '../../services/units/index.ts';

/** Of a hose, by attribute: a quantity, a text, `yes` or `no`; null where nothing is known. */
type Given = Readonly<Partial<Record<'h' | 'rear', Readonly<Record<string, string | null>>>>>;

interface Case {
  readonly expression: string;
  readonly is: string | boolean;
  readonly at?: string;
  readonly given?: Given;
}

const { given: GIVEN, ...cases } = parse(readFileSync(new URL('./expressions.yaml', import.meta.url), 'utf8')) as Record<
  'numbers' | 'truths' | 'faults',
  readonly Case[]
> & { readonly given: Given };

const HERE = 10;
const BEHIND = 11;

function readGiven(text: string, values: Values): number {
  if (text === 'yes' || text === 'no') return Number(text === 'yes');
  const parsed = parseQuantity(text);
  return parsed.ok ? parsed.measure.value : values.intern(text);
}

function worldOf(own: Given = {}): World & { readonly texts: Texts } {
  const texts = new Texts();
  const values: Values = new Values(
    {
      signature: () => undefined,
      provider: () => undefined,
      candidates: (name, [subject]) => {
        const of = subject === HERE ? 'h' : 'rear';
        const text = { ...GIVEN[of], ...own[of] }[name.replace('hose.', '')];
        return typeof text === 'string' ? [{ value: readGiven(text, values), plusMinus: 0, rank: 'stated' }] : [];
      },
    },
    texts,
  );
  const front = (subject: number): boolean => subject === HERE;
  return {
    texts,
    values,
    bands: new Bands(values),
    ranges: new Ranges(values),
    parts: (kind) => (kind === 'hose' ? [HERE, BEHIND] : []),
    placed: (place) => (place === 'front' ? 1 : 2),
    placeOf: (subject) => subject,
    partsAt: (kind, place) => (kind === 'hose' ? [HERE, BEHIND].filter((part) => front(part) === (place === 1)) : []),
    step: (subject, to) => (to === 'axle' ? (front(subject) ? 1 : 2) : subject + 100),
  };
}

const ruleOf = (require: string, more = ''): Rule => {
  const { library, faults } = probe(require, more);
  expect(faults.filter(({ code }) => code !== 'RULE_UNUSED')).toEqual([]);
  return library.rules.get('probe') as Rule;
};

/** What the generated code says of a requirement: 1, 0, NaN. */
function generated(require: string, given: Given | undefined): number | 'not-applicable' {
  const world = worldOf(given);
  const compiled = compileRule(ruleOf(require), (literal) => world.values.intern(literal));
  const { slots, starts } = bindRule(compiled, world);
  const at = starts[0] as number;
  for (const slot of slotsOf(compiled.layout, slots, at)) world.values.read(slot);
  return outcome(() => compiled.met(world.values.values, slots, at));
}

const outcome = (ask: () => number): number | 'not-applicable' => {
  try {
    return ask();
  } catch (error) {
    if (error instanceof EmptyFold) return 'not-applicable';
    throw error;
  }
};

describe('numbers', () => {
  it.each(cases.numbers)('$expression is $is', ({ expression, is, given }) => {
    const rule = ruleOf('h.length >= 1 mm', `let:\n  x: >-\n    ${expression}\n`);
    const value = outcome(() => number(rule.lets.get('x')!, frameOf(rule.scope, [HERE], worldOf(given))));
    if (is === 'unknown') expect(value).toBeNaN();
    else if (is === 'not-applicable') expect(value).toBe(is);
    else {
      const parsed = parseQuantity(String(is));
      expect(parsed.ok && parsed.unit.dimension).toBe(rule.lets.get('x')!.dimension);
      expect(value).toBeCloseTo(parsed.ok ? parsed.measure.value : Number.NaN, 9);
    }
    const hasValue = is !== 'unknown' && is !== 'not-applicable';
    // Times one, which no check can see through: a rule that can come out one way only would be refused.
    const asked = hasValue ? [`>= (${is}) * (h.length / h.length)`, `<= (${is}) * (h.length / h.length)`] : [`>= (${expression})`];
    const met = { unknown: Number.NaN, 'not-applicable': 'not-applicable' }[String(is)] ?? 1;
    for (const how of asked) expect(generated(`(${expression}) ${how}`, given)).toBe(met);
  });
});

describe('truths', () => {
  it.each(cases.truths)('$expression is $is', ({ expression, is, given }) => {
    const rule = ruleOf(expression);
    const value = outcome(() => truth(rule.require, frameOf(rule.scope, [HERE], worldOf(given))));
    const expected = is === 'unknown' ? Number.NaN : is === 'yes' || is === true ? 1 : 0;
    expect(value).toBe(expected);
    expect(generated(expression, given)).toBe(expected);
  });
});

describe('faults', () => {
  it.each(cases.faults)('$expression is $is', ({ expression, is, at }) => {
    expect(probe(expression).faults).toContainEqual({ code: is, text: at });
  });
});
