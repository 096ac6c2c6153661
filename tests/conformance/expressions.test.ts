/** The conformance cases of the rule language: data, read here and run through parser, checker and interpreter. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Bands } from '../../services/engine/band.ts';
import type { World } from '../../services/engine/bind.ts';
import { frameOf } from '../../services/engine/frame.ts';
import { EmptyFold, number, truth } from '../../services/engine/interpret.ts';
import { probe } from '../../services/engine/testing.ts';
import type { Rule } from '../../services/engine/tree.ts';
import { Texts, Values } from '../../services/engine/values.ts';
import { parseQuantity } from '../../services/units/index.ts';

interface Case {
  readonly expression: string;
  readonly is: string | boolean;
  readonly at?: string;
}

const cases = parse(readFileSync(new URL('./expressions.yaml', import.meta.url), 'utf8')) as Record<
  'numbers' | 'truths' | 'faults',
  readonly Case[]
>;

const HERE = 10;
const BEHIND = 11;
const known = new Map<string, number>([
  [`hose.length ${HERE}`, 0.4],
  [`hose.length ${BEHIND}`, 0.5],
]);

function world(): World {
  const values: Values = new Values(
    {
      signature: () => undefined,
      provider: () => undefined,
      candidates: (name, [subject]) => {
        const value = name === 'hose.end' ? values.intern('banjo') : known.get(`${name} ${subject}`);
        return value === undefined ? [] : [{ value, plusMinus: 0, rank: 'stated' }];
      },
    },
    new Texts(),
  );
  const front = (subject: number): boolean => subject === HERE;
  return {
    values,
    bands: new Bands(values),
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

const outcome = (ask: () => number): number | 'not-applicable' => {
  try {
    return ask();
  } catch (error) {
    if (error instanceof EmptyFold) return 'not-applicable';
    throw error;
  }
};

describe('numbers', () => {
  it.each(cases.numbers)('$expression is $is', ({ expression, is }) => {
    const rule = ruleOf('h.length >= 1 mm', `let:\n  x: >-\n    ${expression}\n`);
    const value = outcome(() => number(rule.lets.get('x')!, frameOf(rule.scope, [HERE], world())));
    if (is === 'unknown') expect(value).toBeNaN();
    else if (is === 'not-applicable') expect(value).toBe(is);
    else {
      const parsed = parseQuantity(String(is));
      expect(parsed.ok && parsed.unit.dimension).toBe(rule.lets.get('x')!.dimension);
      expect(value).toBeCloseTo(parsed.ok ? parsed.measure.value : Number.NaN, 9);
    }
  });
});

describe('truths', () => {
  it.each(cases.truths)('$expression is $is', ({ expression, is }) => {
    const rule = ruleOf(expression);
    const value = outcome(() => truth(rule.require, frameOf(rule.scope, [HERE], world())));
    if (is === 'unknown') expect(value).toBeNaN();
    else expect(value).toBe(is === 'yes' || is === true ? 1 : 0);
  });
});

describe('faults', () => {
  it.each(cases.faults)('$expression is $is', ({ expression, is, at }) => {
    expect(probe(expression).faults).toContainEqual({ code: is, text: at });
  });
});
