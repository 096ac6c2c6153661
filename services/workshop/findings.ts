/** Evaluations put into words and numbers. What holds alike on both sides is one finding that names both. */

import { slotOf } from '../engine/bind.ts';
import { type AtomResult, type Evaluation, VERDICTS } from '../engine/evaluate.ts';
import { messageOf, number, unlessEmpty } from '../engine/interpret.ts';
import { resolve } from '../engine/layout.ts';
import type { Basis, Library, Num, Rule } from '../engine/tree.ts';
import { LENGTH } from '../units/index.ts';
import { signatureOf, type VehicleWorld } from '../vehicle/world.ts';
import type { AnswerBasis, AnswerNumber, AnswerPart, AnswerWorkCall, Finding, Margin, OnDefaults, SettledBy, Verdict } from './answer.ts';
import { isBeyondReach } from './asked-work.ts';
import { disagreementAt, spanOfBoth } from './contradictions.ts';
import { type Deciding, decideText, decidingOf, type Listed, settlingText } from './deciding.ts';
import { describePart, fill, joinWords, lowerFirst, nameSubjects, unitOf, upperFirst } from './describe.ts';
import { evaluationId } from './evaluation-id.ts';
import { leanOf, onDefaults } from './on-defaults.ts';
import { onItsSide, prose, type Shown, type System, show } from './show.ts';
import type { Standing } from './standing.ts';
import { originOf, plainValue, toleranceOf, valueId } from './values-out.ts';

export interface Grouped {
  /** Alike but for the side; at least one. */
  readonly evaluations: readonly [Evaluation, ...Evaluation[]];
  readonly verdict: Verdict;
  /** The planned parts change nothing of it. */
  readonly asBefore: boolean;
}

/** Groups what is alike and orders worst first: by verdict, hazard, how far it is from met, and name. */
export function groupEvaluations(evaluations: readonly Evaluation[], world: VehicleWorld, standing: Pick<Standing, 'same'>): Grouped[] {
  const groups = new Map<string, Evaluation[]>();
  for (const evaluation of evaluations) {
    if (evaluation.verdict === 'not-applicable') continue;
    const key = likeness(evaluation, world) + standing.same(evaluation, world);
    groups.set(key, [...(groups.get(key) ?? []), evaluation]);
  }
  return [...groups.values()]
    .map((group) => {
      const [first] = group as [Evaluation];
      return {
        evaluations: group as unknown as Grouped['evaluations'],
        verdict: first.verdict as Verdict,
        asBefore: standing.same(first, world),
      };
    })
    .sort((a, b) => compareGroups(a, b, world));
}

function likeness(evaluation: Evaluation, world: VehicleWorld): string {
  const { rule, verdict, controlling, failed, missing, subjects } = evaluation;
  const roles = subjects.map((subject) => {
    const part = world.partOf(subject);
    return part ? [part.group, part.place.replace(/-(left|right)$/, '')] : [world.idOf(subject)];
  });
  const gaps = missing.map((slot) => world.values.node(slot).name).sort();
  return JSON.stringify([rule.id, verdict, controlling?.margin, controlling?.low, controlling?.high, failed, roles, gaps]);
}

const HAZARDS = ['safety', 'legal', 'damage', 'comfort'];

function compareGroups(a: Grouped, b: Grouped, world: VehicleWorld): number {
  const [first, second] = [a.evaluations[0], b.evaluations[0]];
  const share = ({ controlling }: Evaluation): number =>
    controlling && Number.isFinite(controlling.margin) ? controlling.margin / controlling.scale : 0;
  return (
    VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict) ||
    HAZARDS.indexOf(first.rule.hazard) - HAZARDS.indexOf(second.rule.hazard) ||
    share(first) - share(second) ||
    compareText(groupId(a, world), groupId(b, world))
  );
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export const groupId = ({ evaluations }: Grouped, world: VehicleWorld): string =>
  evaluations.map((evaluation) => evaluationId(evaluation, world)).join('+');

export function findingOf(group: Grouped, world: VehicleWorld, system: System, work: readonly AnswerWorkCall[], listed?: Listed): Finding {
  const [first] = group.evaluations;
  const { rule, controlling } = first;
  const all = group.evaluations;
  const deciding = decidingOf(first, world);
  const likely = onDefaults(first, deciding, world);
  const union = (slots: (evaluation: Evaluation) => readonly number[]): string[] => [
    ...new Set(all.flatMap(slots).map((slot) => valueId(slot, world))),
  ];
  return {
    id: groupId(group, world),
    rule: rule.id,
    title: rule.title,
    hazard: rule.hazard,
    verdict: group.verdict,
    as_before: group.asBefore,
    margin: controlling ? marginOf(controlling, rule, world.library, system) : null,
    subject: subjectText(all, world),
    parts: partsOf(all, world),
    ...toldOf(group, { deciding, likely, listed }, world, system),
    doubt: (controlling?.doubt ?? []).map(({ slot, share }) => ({ id: valueId(slot, world), share: Math.round(share * 1000) / 1000 })),
    ...(likely && { on_defaults: likely }),
    ...(group.verdict === 'close' && !first.contested && controlling?.atom.op === 'compare' && { leans: leanOf(controlling) }),
    ...(group.verdict === 'close' && !first.contested && { settled_by: settledBy(first, deciding, world, system) }),
    ...(first.contested && { contested: union((evaluation) => evaluation.contested ?? []) }),
    missing: union((evaluation) => evaluation.missing),
    ...anyOfIds(choicesOf(all, world), world),
    work,
    basis: basisOf([...lawOf(first, world), ...rule.basis], world.library, system),
    cautions: rule.cautions.map((caution) => prose(world.library.cautions.get(caution) ?? caution, system)),
  };
}

function settledBy(
  evaluation: Evaluation,
  { readings, remains, leaves, chance }: Deciding,
  world: VehicleWorld,
  system: System,
): SettledBy {
  const shown = marginShown(evaluation, world.library, system);
  return {
    readings,
    leaves: shown && Number.isFinite(leaves) ? { value: shown.rounded(leaves, 'up'), unit: shown.unit.symbol } : null,
    remains,
    chance: Math.round(chance * 100) / 100,
  };
}

/** The texts of law that the limits it ranges over are from. */
const lawOf = ({ subjects }: Evaluation, world: VehicleWorld): Basis[] => subjects.flatMap((subject) => world.partOf(subject)?.basis ?? []);

/** What its doubt is of, and what would take it away. */
interface Doubts {
  readonly deciding: Deciding;
  readonly likely: OnDefaults | undefined;
  readonly listed: Listed;
}

/** What a rule says and shows; a fault in that is told, and the verdict stands. */
function toldOf(group: Grouped, doubts: Doubts, world: VehicleWorld, system: System): Pick<Finding, 'says' | 'numbers'> {
  const [first] = group.evaluations;
  if (first.failed !== undefined) return { says: `This rule could not be evaluated, so nothing is known: ${first.failed}`, numbers: [] };
  const missing = group.evaluations.flatMap((evaluation) => evaluation.missing);
  try {
    return { says: saysOf(group, missing, doubts, world, system), numbers: numbersOf(first, world, system) };
  } catch (error) {
    return { says: `This rule could not be told in its own words: ${messageOf(error)}`, numbers: [] };
  }
}

function subjectText(evaluations: readonly Evaluation[], world: VehicleWorld): string {
  const [first] = evaluations;
  const roles = (first?.subjects ?? []).map((_, i) =>
    nameSubjects(
      evaluations.map(({ subjects }) => subjects[i] as number),
      world,
    ),
  );
  return roles.join(' and ') || world.assembly.name;
}

function partsOf(evaluations: readonly Evaluation[], world: VehicleWorld): AnswerPart[] {
  const subjects = new Set(evaluations.flatMap((evaluation) => evaluation.subjects));
  return [...subjects].map((subject) => describePart(subject, world)).filter((part) => part !== undefined);
}

/** A finding that is met says its margin; one that is not says what the rule says, and a close one both stories. */
function saysOf(
  { evaluations, verdict }: Grouped,
  missing: readonly number[],
  { deciding, likely, listed }: Doubts,
  world: VehicleWorld,
  system: System,
): string {
  const [first] = evaluations;
  const { rule, controlling } = first;
  if (verdict === 'unknown') return `Cannot be told yet. Not known: ${missingText(missing, choicesOf(evaluations, world), world)}`;
  if (verdict === 'clear') return 'Met';
  const told = (): string =>
    fill(rule.says, {
      frame: first.frame,
      world,
      system,
      scope: rule.scope,
      givenUnits: unitsOf(rule),
      nameOf: (ref) =>
        nameSubjects(
          evaluations.map(({ subjects }) => resolve(ref, subjects, world)),
          world,
        ),
      ...(controlling?.atom.op === 'compare' && {
        margin: {
          value: verdict === 'close' ? controlling.low : controlling.margin,
          unit: marginUnit(controlling, rule, world.library),
          of: controlling.atom.a,
        },
      }),
    });
  if (first.contested)
    return `${contestedText(first.contested, world, system)}. ${first.contested.every((slot) => spanOfBoth(slot, world)) ? 'Over both' : 'As the first of each stands'}: ${asItStands(controlling, told)}`;
  if (verdict !== 'close') {
    const decided = likely && decideText(likely.decide, listed);
    const after = decided ? `. It rests on defaults of the class; ${decided}` : '';
    const cure = rule.work.length > 0 && isPastCure(evaluations, world) ? `. ${PAST_CURE}` : '';
    return `${likely ? 'Likely: ' : ''}${told()}${cure}${after}`;
  }
  const lean = likely && controlling ? `, ${leanOf(controlling)}` : '';
  const stories = `${atWorst(controlling, world, told)}. ${betterEnd(controlling, rule, world, system)}`;
  const settling = settlingOf(first, { deciding, listed }, world, system);
  const rests = likely ? `It rests on defaults of the class; ${settling}` : upperFirst(settling);
  return `Too close to call${lean}. At the worse end of the tolerances: ${stories}${settling === '' ? '' : ` ${rests}`}`;
}

function settlingOf(
  evaluation: Evaluation,
  { deciding, listed }: Pick<Doubts, 'deciding' | 'listed'>,
  world: VehicleWorld,
  system: System,
): string {
  const shown = marginShown(evaluation, world.library, system);
  if (!shown) return decideText(deciding.readings, listed);
  return settlingText(deciding, (si) => shown.text(si, 'up'), shown.unit.dimension === LENGTH, listed);
}

/** How its margin is shown; nothing, where what it requires is not a matter of more or less. */
function marginShown({ rule, controlling }: Evaluation, library: Library, system: System): Shown | undefined {
  if (controlling?.atom.op !== 'compare') return undefined;
  return show(marginUnit(controlling, rule, library), controlling.atom.a.dimension, system);
}

/** What would hold if the statements that are used were the true ones. */
const asItStands = (controlling: AtomResult | undefined, told: () => string): string =>
  controlling && controlling.low >= 0 ? 'met' : told();

function contestedText(contested: readonly number[], world: VehicleWorld, system: System): string {
  const named = contested.map((slot) => {
    const { signature, name, subjects, candidates, chosen } = world.values.node(slot);
    const shown = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
    const all = candidates.length > 0 ? candidates : chosen !== 'computed' && chosen ? [chosen] : [];
    const said = all.filter(({ rank }) => rank !== 'class-default' && rank !== 'typical').map(({ value }) => shown?.text(value));
    const of = nameSubjects(subjects, world);
    return `${lowerFirst(signature?.title ?? name)}${of ? ` of ${of}` : ''} (${said.join(' and ')})`;
  });
  const against = (from: string): boolean => contested.every((slot) => disagreementAt(slot, world)?.pair[1].from === from);
  const again = contested.length > 1 ? 'them' : 'it';
  if (against('kind'))
    return `Too close to call: what was read of ${joinWords(named)} is on the other side of the tyre than such a part; read ${again} again, with the sign`;
  if (against('class'))
    return `Too close to call: what was read of ${joinWords(named)} lies outside all that a vehicle of this class is taken to have; read ${again} again`;
  return `Too close to call: what was said of ${joinWords(named)} contradicts ${contested.length > 1 ? 'each other' : 'itself'}; read ${again} again`;
}

const PAST_CURE = 'No work that is stated here goes far enough to cure it: choose other parts';

/** No stated work goes far enough to cure it, or none is stated. */
export const isPastCure = (evaluations: readonly Evaluation[], world: VehicleWorld): boolean =>
  evaluations.every(({ rule, subjects }) => rule.work.every((call) => isBeyondReach(call, rule.scope, subjects, world)));

/** Tells the worse story with the numbers it has there. */
function atWorst(controlling: AtomResult | undefined, { values }: VehicleWorld, tell: () => string): string {
  const moves = [...(controlling?.worst ?? [])];
  for (const [slot, part] of moves) values.lean(slot, part);
  const text = tell();
  for (const [slot] of moves) values.lean(slot, 0);
  return text;
}

function betterEnd(controlling: AtomResult | undefined, rule: Rule, world: VehicleWorld, system: System): string {
  if (controlling && controlling.high < 0) return 'At the better end it does not apply.';
  if (controlling?.atom.op !== 'compare') return 'At the better end it is met.';
  if (!Number.isFinite(controlling.high)) return 'How good it may be cannot be told: the tolerances reach past what the model answers.';
  const shown = show(marginUnit(controlling, rule, world.library), controlling.atom.a.dimension, system);
  return `At the better end it is met with ${shown.text(controlling.high, 'down')} to spare.`;
}

/** Each missing value once, with all it is missing of. */
function missingText(missing: readonly number[], choices: Choices, world: VehicleWorld): string {
  const chosen = new Set(choices.flat());
  const each = eachMissing(
    missing.filter((slot) => !chosen.has(slot)),
    world,
  );
  const anyOf = choices.map((group) => `any one of these: ${eachMissing(group, world).join(', or ')}`);
  return [...anyOf, ...each].join('; ') || 'something it needs';
}

const anyOfIds = (choices: Choices, world: VehicleWorld): Pick<Finding, 'any_of'> =>
  choices.length === 0 ? {} : { any_of: choices.map((group) => group.map((slot) => valueId(slot, world))) };

/** Groups of missing values of which any one would do, each once. */
type Choices = readonly (readonly number[])[];

function choicesOf(evaluations: readonly Evaluation[], { values }: VehicleWorld): Choices {
  const found = evaluations
    .filter(({ verdict }) => verdict === 'unknown')
    .flatMap(({ reads }) => reads.flatMap((slot) => values.choicesOf(slot)));
  return [...new Map(found.map((group) => [group.join(), group])).values()];
}

function eachMissing(missing: readonly number[], world: VehicleWorld): string[] {
  const byName = new Map<string, number[]>();
  for (const slot of missing) {
    const { name, reason } = world.values.node(slot);
    const key = `${name} ${reason}`;
    byName.set(key, [...(byName.get(key) ?? []), slot]);
  }
  return [...byName.values()].map((slots) => {
    const { signature, name, reason } = world.values.node(slots[0] as number);
    const title = lowerFirst(signature?.title ?? name);
    const of = nameSubjects(
      slots.flatMap((slot) => world.values.node(slot).subjects),
      world,
    );
    const whose = of ? ` of ${of}` : '';
    const why = reason && reason !== 'nothing given' ? `: ${reason}` : '';
    return signature?.type.is === 'truth' ? `whether this holds${whose}: ${title}${why}` : `${title}${whose}${why}`;
  });
}

const unitsOf = (rule: Rule): ReadonlyMap<string, string> => new Map([...rule.givens].map(([name, { unit }]) => [name, unit]));

function marginUnit({ atom }: AtomResult, rule: Rule, library: Library): string | undefined {
  if (atom.op !== 'compare') return undefined;
  const side = (node: Num): string | undefined => unitOf(node, rule.scope, library, unitsOf(rule));
  return side(atom.a) ?? side(atom.b);
}

export function marginOf(result: AtomResult, rule: Rule, library: Library, system: System): Margin | null {
  const { atom, margin, low, high, lowIs, highIs, rss, folded } = result;
  if (atom.op !== 'compare' || !Number.isFinite(margin)) return null;
  const shown = show(marginUnit(result, rule, library), atom.a.dimension, system);
  const end = (x: number): number | null => (Number.isFinite(x) ? shown.rounded(x, 'down') : null);
  const widest = Math.max(margin - low, high - margin);
  const plusMinus = Number.isFinite(widest) ? widest : 0;
  return {
    ...onItsSide(shown.amount(margin, plusMinus, 'down'), margin, plusMinus),
    low: end(low),
    high: end(high),
    low_is: lowIs,
    high_is: highIs,
    rss: rss ? { low: shown.rounded(rss.low, 'down'), high: shown.rounded(rss.high, 'down'), near_linear: rss.nearLinear } : null,
    drawing_at_worst:
      folded > 0 && Number.isFinite(low + high)
        ? { low: shown.rounded(low - folded, 'down'), high: shown.rounded(high + folded, 'down') }
        : null,
  };
}

function numbersOf({ rule, subjects, frame }: Evaluation, world: VehicleWorld, system: System): AnswerNumber[] {
  const leaves = rule.scope.leaves.map((leaf): AnswerNumber => {
    const slot = slotOf(leaf, subjects, world);
    const signature = signatureOf(world.library, leaf.name);
    const common = {
      name: leaf.text,
      title: signature ? prose(signature.title, system) : leaf.text,
      origin: originOf(world.values.node(slot)).kind,
      id: valueId(slot, world),
    };
    const plain = plainValue(world.values.read(slot), signature?.type, world);
    if (typeof plain !== 'number' || signature?.type.is !== 'number') return { ...common, value: plain };
    const tolerance = toleranceOf(slot, world);
    return {
      ...common,
      ...show(signature.unit, signature.type.dimension, system).amount(plain, Number.isFinite(tolerance) ? tolerance : 0),
    };
  });
  const givens = [...rule.givens].map(([name, { value, plusMinus, dimension, unit, note }]): AnswerNumber => {
    return {
      name,
      title: prose(note ?? name.replaceAll('_', ' '), system),
      origin: 'rule',
      ...show(unit, dimension, system).amount(value, plusMinus),
    };
  });
  const lets = [...rule.lets].map(([name, node]): AnswerNumber => {
    const value = unlessEmpty(() => number(node, frame));
    const shown = show(unitOf(node, rule.scope, world.library, unitsOf(rule)), node.dimension, system);
    return { name, title: name.replaceAll('_', ' '), origin: 'computed', ...(Number.isNaN(value) ? { value: null } : shown.amount(value)) };
  });
  return [...leaves, ...lets, ...givens];
}

export function basisOf(basis: readonly Basis[], library: Library, system: System = 'metric'): AnswerBasis[] {
  return basis.map(({ source, clause, note: written }): AnswerBasis => {
    const note = written && prose(written, system);
    const known = source === undefined ? undefined : library.sources.get(source);
    if (!known) return { kind: 'common-practice', title: 'common practice, no source', ...(note && { note }) };
    const where = clause ?? known.clause;
    return {
      kind: known.kind,
      source: known.id,
      title: known.title,
      ...(where && { clause: where }),
      read: known.read,
      ...(known.on && { on: known.on }),
      ...(note && { note }),
    };
  });
}
