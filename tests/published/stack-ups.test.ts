/** Chains of tolerances from published texts, through the search for bands. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Bands } from '../../services/engine/band.ts';
import { Values } from '../../services/engine/values.ts';

interface Term {
  readonly value: number;
  readonly plus_minus: number;
  /** What it goes in with; 1 when left out. */
  readonly times?: number;
  /** Terms of one number move together. */
  readonly shared?: number;
}
interface Chain {
  readonly name: string;
  readonly source: string;
  readonly terms: readonly Term[] | (Term & { readonly count: number });
  readonly value?: number;
  readonly worst?: number;
  readonly rss: number;
  readonly within: number;
}

const chains = parse(readFileSync(new URL('./stack-ups.yaml', import.meta.url), 'utf8')) as readonly Chain[];

function bandOf(terms: readonly Term[]) {
  const names = terms.map((_, i) => `x${i}`);
  const values: Values = new Values({
    signature: () => undefined,
    provider: (name) =>
      name === 'sum'
        ? { provides: name, model: name, compute: (ask) => terms.reduce((sum, { times = 1 }, i) => sum + times * ask.value(`x${i}`), 0) }
        : undefined,
    candidates: (name) => {
      const term = terms[names.indexOf(name)];
      const statement = term?.shared === undefined ? {} : { statement: term.shared };
      return term ? [{ value: term.value, plusMinus: term.plus_minus, rank: 'stated', ...statement }] : [];
    },
  });
  return new Bands(values).of(values.slot('sum', []));
}

describe.each(chains)('$name ($source)', ({ terms, value, worst, rss, within }) => {
  const list = 'count' in terms ? Array.from({ length: terms.count }, () => terms) : terms;
  const band = bandOf(list);
  const half = (low: number, high: number): number => (high - low) / 2;
  const near = (is: number, published: number): void => expect(Math.abs(is - published)).toBeLessThanOrEqual(within);

  it('has its root sum of squares', () => {
    near(half(band.rss?.low ?? Number.NaN, band.rss?.high ?? Number.NaN), rss);
    expect(band.rss?.nearLinear).toBe(true);
  });
  if (worst !== undefined) it('has its worst case', () => near(half(band.low, band.high), worst));
  if (value !== undefined) it('has its value', () => near(band.nominal, value));
});
