import { describe, expect, it } from 'vitest';
import { judged } from './testing.ts';
import type { Ask } from './values.ts';

describe('how sure an end is', () => {
  const sure = (require: string, said: Parameters<typeof judged>[1]) => {
    const { controlling } = judged(require, said);
    return [controlling?.low, controlling?.high, controlling?.lowIs, controlling?.highIs];
  };

  it('is proved where everything the rule reads was given and stands in it once', () => {
    expect(sure('h.length - route(h) >= 0 mm', { 'hose.length': [0.5, 0.125], route: [0.25, 0.125] })).toEqual([
      0,
      0.5,
      'proven',
      'proven',
    ]);
    expect(sure('max(h.length, route(h)) >= 0.25 m ± 0.125 m', { 'hose.length': 0.5, route: [0.25, 0.125] })).toEqual([
      0.125,
      0.375,
      'proven',
      'proven',
    ]);
  });

  it('is proved of a computed value that has nothing open', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': [0.5, 0.25], route: () => 0.25 })).toEqual([0, 0.5, 'proven', 'proven']);
  });

  it('is searched where a model stands in between, and where one value stands twice', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': [0.5, 0.25], route: (ask) => ask.value('gap'), gap: [0.25, 0.125] })).toEqual([
      -0.125,
      0.625,
      'searched',
      'searched',
    ]);
    expect(sure('2 * h.length - h.length >= 0 mm', { 'hose.length': [0.5, 0.25] })).toEqual([0.25, 0.75, 'searched', 'searched']);
  });

  it('is searched where a model hides what it does between the ends', () => {
    const route = (ask: Ask): number => 0.25 + ask.value('gap') * (ask.value('gap') ** 2 - 1);
    expect(sure('h.length >= route(h)', { 'hose.length': 0.5, route, gap: [0, 1] }).slice(2)).toEqual(['searched', 'searched']);
  });

  it('is searched at an end that a model takes past what it can answer', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': 0.5, route: (ask) => Math.sqrt(ask.value('gap')), gap: [0.25, 0.5] })).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      'searched',
      'searched',
    ]);
  });
});
