/** A small made-up dictionary, and generators over it, for the tests of the language. Nothing of the service uses it. */
import fc from 'fast-check';
import { Bands } from './band.ts';
import { bindRule, type World } from './bind.ts';
import { compileRule } from './compile.ts';
import { type Evaluation, evaluate } from './evaluate.ts';
import type { Formula } from './formula.ts';
import { loadLibrary } from './library.ts';
import { Ranges } from './proof.ts';
import type { Source } from './source.ts';
import { PLACE_FIXTURE } from './testing-places.ts';
import type { Library, Rule } from './tree.ts';
import { type Ask, Texts, Values } from './values.ts';

export const DICTIONARY: readonly Source[] = [
  { file: 'rules/sources.yaml', text: 'std-1: { title: A standard, kind: standard, read: memory }\n' },
  { file: 'rules/cautions.yaml', text: 'brakes: Mind the brakes.\n' },
  { file: 'rules/frames.yaml', text: 'chassis: { title: Chassis }\nbody: { title: Body, on: chassis }\n' },
  {
    file: 'rules/kinds/part.yaml',
    text: 'id: part\ntitle: Part\nabstract: yes\nfits: vehicle\nframe: chassis\nattributes:\n  mass: { title: Mass, unit: kg, meaning: its mass, range: { at_least: 0 kg } }\n',
  },
  {
    file: 'rules/kinds/hose.yaml',
    text: `id: hose
title: Hose
is: part
fits: corner
one_per_place: yes
frame: chassis
bridges_to: body
attributes:
  length: { title: Length, unit: mm, meaning: its length, range: { at_least: 0 mm, at_most: 3 m } }
  stretch: { title: Stretch, unit: mm, meaning: by how much it gives }
  end: { title: End, one_of: [banjo, straight], meaning: its end }
  braided: { title: Braided, truth: yes, meaning: whether it is }
`,
  },
  { file: 'rules/kinds/rack.yaml', text: 'id: rack\ntitle: Rack\nis: part\nfits: vehicle\nframe: body\n' },
  {
    file: 'rules/quantities/all.yaml',
    text: `route: { title: Route, unit: mm, per: hose, meaning: the way, comes: given, range: { at_least: 0 mm } }
load: { title: Load, unit: kg, per: axle, meaning: what it carries, comes: computed }
gap: { title: Gap, unit: mm, per: corner, meaning: the gap, comes: given }
slope: { title: Slope, unit: deg, per: vehicle, meaning: the slope, comes: given }
pull: { title: Pull, unit: kN, per: vehicle, meaning: the pull, comes: given }
trimmed: { title: Trimmed, unit: mm, per: corner, meaning: what is off, comes: state, initially: 0 mm }
`,
  },
  {
    file: 'rules/works/fit-hose.yaml',
    text: `id: fit-hose
title: "Fit {hose} of {length: mm}"
takes:
  hose: { part: hose }
  length: { unit: mm }
hours: { low: 1 h, likely: 1 h, high: 2 h }
effects:
  - set: hose.length
    to: length
basis: [{ kind: common-practice }]
`,
  },
];

/** The dictionary with more files laid beside it. */
export function libraryWith(files: readonly Source[]): ReturnType<typeof loadLibrary> {
  return loadLibrary([...DICTIONARY, ...files], PLACE_FIXTURE);
}

/** A rule around one requirement, right in everything else. */
export function ruleAround(require: string, more = ''): Source {
  return {
    file: 'rules/constraints/x/probe.yaml',
    text: `id: probe
title: A probe
hazard: damage
for:
  h: hose at front
${more}require: >-
  ${require}
unless_met:
  says: it is not met
basis: [{ kind: common-practice }]
examples: []
`,
  };
}

export function probe(require: string, more?: string): { library: Library; faults: readonly { code: string; text: string }[] } {
  const { library, diagnostics } = libraryWith([ruleAround(require, more)]);
  const faults = diagnostics
    .filter(({ code }) => code !== 'RULE_NO_EXAMPLE')
    .map(({ code, span }) => ({ code, text: span.source.text.slice(span.start, span.end) }));
  return { library, faults };
}

/** A value with its half-width, SI; a text, a truth, a model, or nothing known. */
export type Stated = number | readonly [value: number, plusMinus: number] | string | boolean | ((ask: Ask) => number) | Formula | null;

const isFormula = (stated: Stated | undefined): stated is Formula => typeof stated === 'object' && stated !== null && 'compute' in stated;

/**
 * A requirement judged on one hose at the front left. Values go by name alone, whomever they are about; of another hose, with `#1` and so on
 * behind it, there is what is said of that one.
 */
export function judged(require: string, said: Readonly<Record<string, Stated>>, more = ''): Evaluation {
  const { library, faults } = probe(require, more);
  if (faults.length > 0) throw new Error(JSON.stringify(faults));
  const texts = new Texts();
  const names = [...PLACE_FIXTURE.keys()];
  const [front, corner, hose] = [names.indexOf('front'), names.indexOf('front-left'), names.length];
  const values: Values = new Values(
    {
      signature: () => undefined,
      provider: (name) => {
        const model = said[name];
        if (typeof model === 'function') return { provides: name, model: name, compute: model };
        return isFormula(model) ? { provides: name, model: name, ...model } : undefined;
      },
      candidates: (name, subjects) => {
        const stated = said[`${name}#${(subjects[0] ?? 0) - hose}`] ?? said[name];
        if (stated === undefined || stated === null || typeof stated === 'function' || isFormula(stated)) return [];
        const [value, plusMinus] = typeof stated === 'object' ? stated : [stated, 0];
        return [{ value: typeof value === 'string' ? values.intern(value) : Number(value), plusMinus, rank: 'stated' }];
      },
    },
    texts,
  );
  const others = Object.keys(said).map((name) => Number(name.split('#')[1] ?? 0));
  const hoses = Array.from({ length: 1 + Math.max(0, ...others) }, (_, i) => hose + i);
  const world: World = {
    values,
    bands: new Bands(values),
    ranges: new Ranges(values),
    parts: () => hoses,
    partsAt: () => [hose],
    placed: (place) => names.indexOf(place.replaceAll('_', '-')),
    placeOf: (subject) => (subject >= hose ? corner : subject),
    step: (_, to) => (to === 'axle' ? front : corner),
  };
  const rule = compileRule(library.rules.get('probe') as Rule, (literal) => texts.intern(literal));
  const [evaluation, ...surplus] = evaluate(bindRule(rule, world), world);
  if (!evaluation || surplus.length > 0) throw new Error('the rule was not judged once');
  return evaluation;
}

const length: fc.Memo<string> = fc.memo((n) => {
  const leaves = fc.constantFrom(
    'h.length',
    'h.stretch',
    'route(h)',
    'gap(h.corner)',
    'gap(rear_left)',
    'trimmed(h.corner)',
    '25 mm',
    '1.5 in',
    '40 mm ± 3 mm',
  );
  if (n <= 1) return leaves;
  const of = length(n - 1);
  return fc.oneof(
    { weight: 3, arbitrary: leaves },
    fc.tuple(of, fc.constantFrom('+', '-'), of).map(([a, op, b]) => `(${a} ${op} ${b})`),
    fc.tuple(of, number(n - 1)).map(([a, b]) => `(${a} * ${b})`),
    fc.tuple(fc.constantFrom('min', 'max'), of, of).map(([f, a, b]) => `${f}(${a}, ${b})`),
    of.map((a) => `abs(${a})`),
    of.map((a) => `(-${a})`),
    fc.tuple(of, of).map(([a, b]) => `sqrt(${a} * ${b})`),
    fc.constantFrom(
      'sum(p.stretch for p in hose)',
      'sum(p.length - h.length for p in hose at front where p.stretch > 3 mm)',
      'max(p.length for p in hose)',
      'min(p.stretch for p in hose where p.braided)',
    ),
  );
});

const number: fc.Memo<string> = fc.memo((n) => {
  const leaves = fc.constantFrom('2', '0.5', 'count(p in hose)', 'count(p in hose where p.length > h.length)', 'sin(slope)', '3');
  if (n <= 1) return leaves;
  const of = length(n - 1);
  return fc.oneof(
    { weight: 2, arbitrary: leaves },
    fc.tuple(of, of).map(([a, b]) => `(${a} / ${b})`),
    number(n - 1).map((a) => `(${a} ^ 2)`),
  );
});

export const truth: fc.Memo<string> = fc.memo((n) => {
  const compared = fc.tuple(length(3), fc.constantFrom('>=', '<=', '>', '<'), length(3)).map(([a, op, b]) => `(${a} ${op} ${b})`);
  const simple = fc.constantFrom(
    'h.braided',
    "(h.end == 'banjo')",
    "(h.end != 'straight')",
    'every(p.length > 10 mm for p in hose)',
    'some(p.braided for p in hose at rear)',
    '(h.length within 5 mm of route(h))',
  );
  if (n <= 1) return fc.oneof({ weight: 3, arbitrary: compared }, simple);
  return fc.oneof(
    { weight: 3, arbitrary: compared },
    simple,
    fc.tuple(truth(n - 1), fc.constantFrom('and', 'or'), truth(n - 1)).map(([a, op, b]) => `(${a} ${op} ${b})`),
    truth(n - 1).map((a) => `(not ${a})`),
  );
});
