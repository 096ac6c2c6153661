import { describe, expect, it } from 'vitest';
import { Bands } from './band.ts';
import { type Candidate, type Provider, Texts, Values } from './values.ts';

const given = (value: number, plusMinus = 0, rank: Candidate['rank'] = 'stated'): Candidate => ({ value, plusMinus, rank });

function graph(said: Record<string, readonly Candidate[]>, providers: readonly Provider[] = []): Values {
  return new Values({
    signature: () => undefined,
    provider: (name) => providers.find(({ provides }) => provides === name),
    candidates: (name) => said[name] ?? [],
  });
}

const computes = (provides: string, compute: Provider['compute']): Provider => ({ provides, model: provides, compute });

describe('which statement stands', () => {
  const sum = computes('sum', (ask) => ask.value('a') + ask.value('b'));

  it('takes the best rank, whatever the order they were said in', () => {
    const values = graph({ x: [given(1, 0, 'typical'), given(2, 0, 'measured'), given(3, 0, 'catalogue')] });
    expect(values.read(values.slot('x', []))).toBe(2);
  });

  it('takes a computed value before a class default, and a stated one before a computed', () => {
    const defaults = graph({ sum: [given(9, 0, 'class-default')], a: [given(1)], b: [given(2)] }, [sum]);
    expect(defaults.read(defaults.slot('sum', []))).toBe(3);
    const stated = graph({ sum: [given(9)], a: [given(1)], b: [given(2)] }, [sum]);
    expect(stated.read(stated.slot('sum', []))).toBe(9);
  });

  it('takes a class default before what is computed from class defaults, folded in or not', () => {
    const said = { sum: [given(9, 1, 'class-default')], a: [given(1, 0.1, 'class-default')], b: [given(2)] };
    const values = graph(said, [sum]);
    expect(values.read(values.slot('sum', []))).toBe(9);
    const folding = graph(said, [computes('sum', (ask) => ask.folded('a').value + ask.value('b'))]);
    expect(folding.read(folding.slot('sum', []))).toBe(9);
  });

  it('takes what is computed from readings alone before a stated value', () => {
    const values = graph({ sum: [given(9)], a: [given(1, 0.1, 'measured')], b: [given(2, 0.1, 'measured')] }, [sum]);
    expect(values.read(values.slot('sum', []))).toBe(3);
  });

  it('falls back to a statement when the model has no answer', () => {
    const values = graph({ sum: [given(9, 0, 'class-default')], a: [given(1)] }, [sum]);
    expect(values.read(values.slot('sum', []))).toBe(9);
  });
});

describe('what a model folds in', () => {
  const folding = () =>
    graph({ a: [given(1, 0.3)], b: [given(2, 0.4)], c: [given(5, 0.1)] }, [
      computes('both', (ask) => ask.value('a') + ask.value('b')),
      computes('x', (ask) => {
        const both = ask.folded('both');
        ask.folds({ worst: 2 * both.off.worst, rss: 2 * both.off.rss });
        return 2 * both.value + ask.value('c');
      }),
    ]);

  it('comes with its half-widths, all below it at once and by root sum of squares, and is within the model’s own', () => {
    const values = folding();
    const x = values.slot('x', []);
    expect(values.read(x)).toBe(11);
    expect(values.toleranceOf(x)).toBeCloseTo(2 * Math.hypot(0.3, 0.4), 12);
    expect(values.toleranceOf(x) * values.timesAtWorst(x)).toBeCloseTo(2 * (0.3 + 0.4), 12);
    expect(values.givensOf([x]).map((slot) => values.node(slot).name)).toEqual(['x', 'c']);
    expect(values.givensOf([x], { folded: true }).map((slot) => values.node(slot).name)).toEqual(['x', 'a', 'b', 'c']);
  });

  it('has what its tool is off by too', () => {
    const read: Candidate = { ...given(1, 0.3, 'measured'), shared: { tool: 'tape', plusMinus: 0.4 } };
    const values = graph({ a: [read] }, [
      computes('x', (ask) => {
        const { value, off } = ask.folded('a');
        ask.folds(off);
        return value;
      }),
    ]);
    const x = values.slot('x', []);
    values.read(x);
    expect(values.toleranceOf(x)).toBeCloseTo(0.5, 12);
    expect(values.toleranceOf(x) * values.timesAtWorst(x)).toBeCloseTo(0.7, 12);
  });

  it('is moved all the same where it is asked for as a value too', () => {
    const values = graph({ a: [given(1, 0.3)] }, [
      computes('x', (ask) => {
        const { value, off } = ask.folded('a');
        ask.folds(off);
        return ask.value('a') - value;
      }),
    ]);
    const [x, a] = [values.slot('x', []), values.slot('a', [])];
    for (const by of [0.3, 0.1]) {
      values.nudge(a, by);
      expect(values.read(x)).toBeCloseTo(by, 12);
      expect(values.givensOf([x])).toEqual([x, a]);
    }
  });

  it('is not moved by a band, even where it is first asked for while one is moving it', () => {
    const values = folding();
    const a = values.slot('a', []);
    values.nudge(a, 0.3);
    expect(values.read(values.slot('x', []))).toBe(11);
    expect(values.read(values.slot('both', []))).toBe(3.3);
    values.nudge(a, 0);
    expect(values.read(values.slot('x', []))).toBe(11);
  });

  it('is named when it is missing', () => {
    const values = graph({ b: [given(1)] }, [computes('x', (ask) => ask.folded('a').value + ask.value('b'))]);
    const x = values.slot('x', []);
    expect(values.read(x)).toBeNaN();
    expect(values.missingOf(x).map((slot) => values.node(slot).name)).toEqual(['a']);
  });
});

describe('what is not known', () => {
  it('names the inputs at the bottom that are missing', () => {
    const values = graph({ a: [given(1)] }, [
      computes('sum', (ask) => ask.value('a') + ask.value('b')),
      computes('top', (ask) => 2 * ask.value('sum')),
    ]);
    const top = values.slot('top', []);
    expect(values.read(top)).toBeNaN();
    expect(values.missingOf(top).map((slot) => values.node(slot).name)).toEqual(['b']);
  });

  it('names the value itself when its inputs are known and the model still has no answer', () => {
    const values = graph({ a: [given(1)] }, [computes('x', (ask) => (ask.value('a') > 0 ? ask.unknown('no table for this') : 1))]);
    const x = values.slot('x', []);
    expect(values.missingOf(x).map((slot) => [values.node(slot).name, values.node(slot).reason])).toEqual([['x', 'no table for this']]);
  });

  it('says so when a model throws, answers infinity, or depends on itself', () => {
    const values = graph({}, [
      computes('throws', () => {
        throw new Error('no such tyre');
      }),
      computes('endless', () => Number.POSITIVE_INFINITY),
      computes('ring', (ask) => ask.value('ring') + 1),
    ]);
    const reasons = ['throws', 'endless', 'ring'].map((name) => {
      const slot = values.slot(name, []);
      expect(values.read(slot)).toBeNaN();
      return values.node(slot).reason;
    });
    expect(reasons).toEqual(['the model failed: no such tyre', 'the model has no finite answer here', 'it depends on itself']);
  });
});

describe('moving a value', () => {
  it('computes anew only what rests on it, and puts everything back', () => {
    let asked = 0;
    const values = graph({ a: [given(1)], b: [given(10)] }, [
      computes('left', (ask) => ask.value('a') * 2),
      computes('right', (ask) => {
        asked++;
        return ask.value('b') * 3;
      }),
      computes('both', (ask) => ask.value('left') + ask.value('right')),
    ]);
    const [a, both] = [values.slot('a', []), values.slot('both', [])];
    expect(values.read(both)).toBe(32);
    values.nudge(a, 1);
    expect(values.read(both)).toBe(34);
    values.nudge(a, 0);
    expect(values.read(both)).toBe(32);
    expect(asked).toBe(1);
  });
});

describe('the band that tolerances leave', () => {
  const bandOf = (said: Record<string, readonly Candidate[]>, compute: Provider['compute']) => {
    const values = graph(said, [computes('x', compute)]);
    const x = values.slot('x', []);
    return new Bands(values).of(x);
  };

  it('adds up for a sum, and shares the doubt by how much each input moves it', () => {
    const band = bandOf({ a: [given(10, 3)], b: [given(4, 1)] }, (ask) => ask.value('a') - ask.value('b'));
    expect([band.nominal, band.low, band.high]).toEqual([6, 2, 10]);
    expect(band.doubt.map(({ share }) => share)).toEqual([0.75, 0.25]);
  });

  it('finds the ends of a product of signed factors, where no single input alone points at them', () => {
    const band = bandOf({ a: [given(0, 2)], b: [given(0, 3)] }, (ask) => ask.value('a') * ask.value('b'));
    expect([band.low, band.high]).toEqual([-6, 6]);
  });

  it('counts an input once however often it is used', () => {
    const band = bandOf({ a: [given(10, 3)] }, (ask) => ask.value('a') - ask.value('a'));
    expect([band.low, band.high]).toEqual([0, 0]);
  });

  it('adds what the model itself may be off by', () => {
    const band = bandOf({ a: [given(10, 1)] }, (ask) => {
      ask.within(2);
      return ask.value('a');
    });
    expect([band.low, band.high]).toEqual([7, 13]);
  });

  it('has no end where a tolerance reaches past what the model can answer', () => {
    const band = bandOf({ a: [given(1, 2)] }, (ask) => Math.sqrt(ask.value('a')));
    expect([band.nominal, band.low, band.high]).toEqual([1, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
  });
});

describe('texts', () => {
  it('share numbers with the table they stand on', () => {
    const base = new Texts();
    const conical = base.intern('conical');
    const own = new Texts(base);
    expect(own.intern('conical')).toBe(conical);
    const ball = own.intern('ball');
    expect(own.at(ball)).toBe('ball');
    expect(own.at(conical)).toBe('conical');
    expect(base.find('ball')).toBeUndefined();
  });
});
