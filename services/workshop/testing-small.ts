/** A made-up vehicle with a handful of quantities, parts and works, whose answers can be done by hand; for tests. */

import { loadLibrary } from '../engine/index.ts';
import type { Source } from '../engine/source.ts';
import type { Library } from '../engine/tree.ts';
import { type CheckRequest, type PartInput, PLACE_LEVELS } from '../vehicle/index.ts';
import { type Answer, createChecker } from './index.ts';

const FILES: Readonly<Record<string, string>> = {
  'sources.yaml': 'std-1: { title: A standard, kind: standard, read: memory }\n',
  'cautions.yaml': 'steering: Mind the steering.\n',
  'frames.yaml': 'chassis: { title: Chassis }\n',
  'kinds/part.yaml': `id: part
title: Part
abstract: yes
fits: vehicle
frame: chassis
attributes:
  mass: { title: Mass, unit: kg, meaning: its mass }
`,
  'kinds/shaft.yaml': `id: shaft
title: Shaft
is: part
fits: vehicle
one_per_place: yes
frame: chassis
attributes:
  engagement: { title: Engagement, unit: mm, meaning: how far its ends overlap, measure: { how: with a rule, tool: rule, accuracy: 2 mm } }
  splined: { title: Splined, truth: yes, meaning: whether it has splines }
`,
  'kinds/winch.yaml': 'id: winch\ntitle: Winch\nis: part\nfits: vehicle\nframe: chassis\n',
  'quantities/all.yaml': `roof_gap: { title: Gap at the roof, unit: mm, per: vehicle, meaning: room above the tyre, comes: given }
floor_gap: { title: Gap at the floor, unit: mm, per: vehicle, meaning: room beside the tyre, comes: given }
raised: { title: Raised, unit: mm, per: vehicle, meaning: how far the body was raised, comes: state, initially: 0 mm }
braked: { title: Braked, truth: yes, per: vehicle, meaning: whether it has a brake, comes: given }
drive: { title: Drive, one_of: [front, rear], per: vehicle, meaning: which axle drives, comes: given }
margin: { title: Margin, unit: mm, per: vehicle, meaning: what is left, comes: computed }
trimmed: { title: Trimmed, unit: mm, per: vehicle, meaning: how much is off the floor, comes: state, initially: 0 mm }
`,
  'works/raise-body.yaml': `id: raise-body
title: "Raise the body by {height: mm}"
takes: { height: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
effects: [{ add: height, to: raised }]
basis: [{ kind: common-practice }]
`,
  'works/extend-shaft.yaml': `id: extend-shaft
title: "Extend {shaft} by {amount: mm}"
takes: { shaft: { part: shaft }, amount: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
effects: [{ add: amount, to: shaft.engagement }]
basis: [{ kind: common-practice }]
`,
  'works/trim-floor.yaml': `id: trim-floor
title: "Trim the floor by {amount: mm}"
takes: { amount: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
effects: [{ add: amount, to: trimmed }]
basis: [{ kind: common-practice }]
`,
  'classes/small.yaml': 'id: small\ntitle: Small\nvalues: { floor_gap: 100 mm ± 0 }\npositions: [{ kind: shaft }]\nfitted: []\n',
};

export interface SmallRule {
  readonly id: string;
  readonly hazard?: string;
  /** Lines between `hazard` and `unless_met`, as in a file. */
  readonly body: string;
  readonly says?: string;
  readonly work?: string;
}

export const ROOF: SmallRule = {
  id: 'roof',
  body: 'require: "roof_gap + raised >= 0 mm"',
  work: '- raise-body: { height: "-roof_gap - raised" }',
};
export const SHAFT: SmallRule = {
  id: 'shaft-engaged',
  hazard: 'safety',
  body: 'for: { shaft: shaft }\nrequire: "shaft.engagement - raised >= 25 mm"',
  work: '- extend-shaft: { shaft: shaft, amount: "25 mm + raised - shaft.engagement" }',
};

function ruleFile({ id, hazard = 'damage', body, says = 'it is not met', work }: SmallRule): Source {
  const asks = work === undefined ? '' : `\n  work:\n${work.replace(/^/gm, '    ')}`;
  return {
    file: `rules/constraints/x/${id}.yaml`,
    text: `id: ${id}\ntitle: ${id}\nhazard: ${hazard}\n${body}\nunless_met:\n  says: "${says}"${asks}\nbasis: [{ kind: common-practice }]\nexamples: []\n`,
  };
}

/** Files laid over the library's own by path below `rules/`. */
export function smallLibrary(rules: readonly SmallRule[], files: Readonly<Record<string, string>> = {}): Library {
  const dictionary = Object.entries({ ...FILES, ...files }).map(([file, text]) => ({ file: `rules/${file}`, text }));
  const { library, diagnostics } = loadLibrary([...dictionary, ...rules.map(ruleFile)], PLACE_LEVELS);
  const faults = diagnostics.filter(({ code }) => code !== 'RULE_NO_EXAMPLE');
  if (faults.length > 0) throw new Error(faults.map(({ message, span }) => `${span.source.file}: ${message}`).join('\n'));
  return library;
}

export interface SmallBuild {
  readonly values?: Readonly<Record<string, string>>;
  readonly fitted?: readonly PartInput[];
  readonly parts?: readonly PartInput[];
}

export function checkSmall(library: Library, { values = {}, fitted = [], parts = [] }: SmallBuild): Answer {
  const request: CheckRequest = { vehicle: { from: 'inline', class: 'small', values, fitted }, parts, values: 'all' };
  const checked = createChecker(library).check(request, { vehicles: new Map(), parts: new Map(), hash: 'small' });
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults, null, 1));
  return checked.answer;
}

export const shaft = (engagement: string): PartInput => ({ from: 'inline', kind: 'shaft', attributes: { engagement } });
