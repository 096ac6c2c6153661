/**
 * What else would cure a finding, and what each cure costs elsewhere. One mechanism for all: the work is done on paper with
 * the least amount that clears the finding at the worse end of its tolerances, and the whole vehicle is checked again; what
 * is worse than before is what it costs. `rules/cures.yaml` says what is tried, beside the works that the rule itself asks for.
 */
import { type AtomResult, type Evaluation, VERDICTS } from '../engine/evaluate.ts';
import type { Cure, Quantity, Work } from '../engine/tree.ts';
import { type Candidate, SLOT } from '../engine/values.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { isKind } from '../vehicle/library-view.ts';
import { AXLES, CORNERS, subjectOf } from '../vehicle/places.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import type { AlternativeChange, AlternativeCost, AnswerAlternative, Verdict } from './answer.ts';
import { type AskedWork, exceeds, mergeAsked } from './asked-work.ts';
import { nameSubjects } from './describe.ts';
import { applyEffects } from './effects.ts';
import { evaluationId } from './evaluation-id.ts';
import { basisOf, type Grouped, marginOf } from './findings.ts';
import { type Job, workFor } from './job.ts';
import { evaluateRule, type RuleSet } from './rule-set.ts';
import { type System, show } from './show.ts';
import { amountsOf, titleOf } from './steps.ts';
import { answerValue, valueId } from './values-out.ts';

/** Findings that are told alternatives, the worst first: each takes a check of the whole vehicle for each of them. */
const MOST_FINDINGS = 8;
/** Margins that fall without breaking, told with each cure, the largest loss first. */
const MOST_FALLS = 4;
/** A margin falls only if it loses more than this share of its scale. */
const FALLS = 0.02;

type Does = readonly AskedWork[];

interface Reached {
  readonly does: Does;
  readonly world: VehicleWorld;
  readonly clears: boolean;
  readonly after: readonly Evaluation[];
}

export class Cures {
  readonly #rules: RuleSet;
  readonly #assembly: Assembly;
  readonly #job: Job;
  readonly #system: System;
  /** What work costs does not hang on which finding asked for it. */
  readonly #costs = new Map<string, Pick<AnswerAlternative, 'breaks' | 'lowers' | 'clears_too' | 'changes'>>();
  #told = 0;

  constructor(rules: RuleSet, assembly: Assembly, job: Job, system: System) {
    this.#rules = rules;
    this.#assembly = assembly;
    this.#job = job;
    this.#system = system;
  }

  /** Alternatives to live with a finding, those that clear it first; undefined for what has none. */
  of(group: Grouped): AnswerAlternative[] | undefined {
    const { worldBefore: world } = this.#job;
    if (group.verdict !== 'conflict' && (group.verdict !== 'close' || group.asBefore)) return undefined;
    const cures = this.#curesOf(group);
    if (cures.length === 0 || this.#told >= MOST_FINDINGS) return undefined;
    this.#told++;
    const asked = byWork(group.evaluations.flatMap((evaluation) => workFor(evaluation, world)));
    const tried = cures.flatMap((cure) => this.#try(group, cure) ?? []);
    // What a rule asks for together with other work is told once, with the amount that does alone.
    const alone = new Set(tried.map(({ does }) => workOf(does)));
    const reached = [...asked.filter((does) => !alone.has(workOf(does))).map((does) => this.#do(group, does)), ...tried];
    const told = reached.map((one) => this.#tell(group, one));
    return [...told.filter(({ clears }) => clears), ...told.filter(({ clears }) => !clears)];
  }

  /** The first cure that has to do with the parts a finding is about, of each kind. */
  #curesOf({ evaluations: [first] }: Grouped): { readonly cure: Cure; readonly part: number }[] {
    const { worldBefore: world } = this.#job;
    return [...this.#rules.library.cures.values()].flatMap((cure) => {
      const part = first.subjects.find((subject) => {
        const of = world.partOf(subject);
        return of !== undefined && isKind(world.library, of.kind, cure.for) && (!cure.only || of.place.startsWith(cure.only));
      });
      return part === undefined ? [] : [{ cure, part }];
    });
  }

  /** The least amount that clears, on the grid of what the work comes in; the most there is where none does and it helps. */
  #try(group: Grouped, { cure, part }: { readonly cure: Cure; readonly part: number }): Reached | undefined {
    const { worldBefore: world } = this.#job;
    const work = world.library.works.get(cure.work) as Work;
    const subjects = subjectsOf(cure, part, world);
    const parameter = work.takes.find(({ type }) => type.is === 'number');
    if (!parameter || subjects.length === 0) return undefined;
    const step = parameter.step ?? cure.most / 20;
    const asked = (n: number): Does => subjects.map((each) => doing(work, parameter, each, n * step));
    let most = Math.floor(cure.most / step + 1e-9);
    while (most > 0 && asked(most).some((one) => exceeds(one, world))) most--;
    if (most === 0) return undefined;
    const at = (n: number): Reached => this.#do(group, asked(n));
    const before = lowest(group.evaluations);
    let best = at(most);
    const helps = lowest(best.after) > before + 1e-9;
    if (!helps) return undefined;
    if (!best.clears) return best;
    let [short, enough, low, high] = [0, most, before, lowest(best.after)];
    for (let i = 0; enough - short > 1 && i < 12; i++) {
      // Where it would be enough if margins went straight, kept off the ends so that each trial narrows.
      const guess = i % 3 === 2 ? (short + enough) / 2 : short + ((enough - short) * -low) / (high - low || 1);
      const n = Math.min(enough - 1, Math.max(short + 1, Math.ceil(Number.isFinite(guess) ? guess : (short + enough) / 2)));
      const tried = at(n);
      if (tried.clears) [enough, high, best] = [n, lowest(tried.after), tried];
      else [short, low] = [n, lowest(tried.after)];
    }
    return best;
  }

  /** The vehicle with that done, and the finding asked again. */
  #do(group: Grouped, does: Does): Reached {
    const done = new Map<string, Candidate>(this.#job.doneBefore);
    for (const asked of does) applyEffects(asked, this.#job.worldBefore, done);
    const world = createWorld(this.#assembly, this.#rules.library, this.#rules.texts, done);
    const [first] = group.evaluations;
    const compiled = this.#rules.compiled.find(({ rule }) => rule === first.rule);
    const about = new Set(group.evaluations.map(({ subjects }) => subjects.join()));
    const after = compiled ? evaluateRule(compiled, world).filter(({ subjects }) => about.has(subjects.join())) : [];
    const clears = after.length > 0 && after.every(({ verdict }) => verdict === 'clear' || verdict === 'not-applicable');
    return { does, world, clears, after };
  }

  #tell(group: Grouped, { does, world, clears, after }: Reached): AnswerAlternative {
    const [asked] = does as [AskedWork];
    const { work } = asked;
    const [{ rule }] = group.evaluations;
    const worst = controllingOf(after);
    const system = this.#system;
    const key = does.map((one) => `${one.key} ${[...one.amounts.values()].map(({ value }) => value).join()}`).join(';');
    const costs = this.#costs.get(key) ?? this.#costsIn(world);
    this.#costs.set(key, costs);
    const own = new Set(group.evaluations.map((evaluation) => evaluationId(evaluation, this.#job.worldBefore)));
    const others = <T extends { readonly id: string }>(list: readonly T[]): T[] => list.filter(({ id }) => !own.has(id));
    return {
      work: work.id,
      title: titleOf(asked, this.#job.worldBefore, system),
      amounts: amountsOf(asked, system),
      clears,
      margin: worst ? marginOf(worst, rule, world.library, system) : null,
      irreversible: work.irreversible,
      breaks: others(costs.breaks),
      lowers: others(costs.lowers).slice(0, MOST_FALLS),
      clears_too: costs.clears_too.filter((id) => !own.has(id)),
      changes: costs.changes,
      notes: basisOf(work.basis, world.library, system).flatMap(({ note }) => (note ? [note] : [])),
      cautions: work.cautions.map((caution) => world.library.cautions.get(caution) ?? caution),
    };
  }

  /** What is worse, and what is better, than with nothing done. */
  #costsIn(world: VehicleWorld): Pick<AnswerAlternative, 'breaks' | 'lowers' | 'clears_too' | 'changes'> {
    const { before, worldBefore } = this.#job;
    const [breaks, lowers, better]: [AlternativeCost[], { cost: AlternativeCost; by: number }[], string[]] = [[], [], []];
    for (const compiled of this.#rules.compiled) {
      const were = before.filter(({ rule }) => rule === compiled.rule);
      if (!were.some((was) => touches(was, worldBefore, world))) continue;
      const are = new Map(evaluateRule(compiled, world).map((is) => [is.subjects.join(), is]));
      for (const was of were) {
        const is = are.get(was.subjects.join());
        if (!is || is.verdict === 'not-applicable') continue;
        const cost = this.#costOf(was, is, world);
        if (badness(is) > badness(was)) breaks.push(cost);
        else if (badness(is) < badness(was)) better.push(cost.id);
        else if (fallOf(was, is) > FALLS) lowers.push({ cost, by: fallOf(was, is) });
      }
    }
    lowers.sort((a, b) => b.by - a.by || (a.cost.id < b.cost.id ? -1 : 1));
    return {
      breaks: sidesOnce(breaks),
      lowers: sidesOnce(lowers.map(({ cost }) => cost)),
      clears_too: better,
      changes: sidesOnce(this.#changesIn(world)),
    };
  }

  #costOf(was: Evaluation, is: Evaluation, world: VehicleWorld): AlternativeCost {
    const margin = (of: AtomResult | undefined) => (of ? marginOf(of, was.rule, world.library, this.#system) : null);
    return {
      id: evaluationId(was, this.#job.worldBefore),
      rule: was.rule.id,
      title: was.rule.title,
      hazard: was.rule.hazard,
      subject: nameSubjects(was.subjects.slice(0, 1), world),
      before: was.verdict === 'not-applicable' ? 'clear' : was.verdict,
      after: is.verdict as Verdict,
      margin_before: margin(was.controlling),
      margin_after: margin(is.controlling),
    };
  }

  /** Numbers that tell what a cure costs, where they change. */
  #changesIn(world: VehicleWorld): AlternativeChange[] {
    const { worldBefore } = this.#job;
    const asked = [...this.#rules.library.quantities.values()].filter(({ cost }) => cost);
    return asked.flatMap((quantity) =>
      subjectsFor(quantity, worldBefore).flatMap((subjects): AlternativeChange[] => {
        const [was, is] = [worldBefore.values.slot(quantity.name, subjects), world.values.slot(quantity.name, subjects)];
        const [a, b] = [worldBefore.values.read(was), world.values.read(is)];
        if (quantity.type.is !== 'number' || Number.isNaN(a + b) || Math.abs(a - b) <= 1e-6 * Math.max(1e-3, Math.abs(a))) return [];
        const shown = show(quantity.unit, quantity.type.dimension, this.#system);
        const { title, subject } = answerValue(was, worldBefore, this.#system);
        return [
          {
            id: valueId(was, worldBefore),
            name: quantity.name,
            title,
            subject,
            unit: shown.unit.symbol,
            before: shown.rounded(a, 'nearest'),
            after: shown.rounded(b, 'nearest'),
          },
        ];
      }),
    );
  }
}

const workOf = (does: Does): string | undefined => does[0]?.work.id;

/** What one work is asked to do, on either side; the same on the same thing is done once. */
function byWork(asked: readonly AskedWork[]): Does[] {
  const once = new Map<string, AskedWork>();
  for (const one of asked) {
    const known = once.get(one.key);
    once.set(one.key, known ? mergeAsked(known, one) : one);
  }
  const works = new Set([...once.values()].map(({ work }) => work));
  return [...works].map((work) => [...once.values()].filter((one) => one.work === work));
}

const doing = (work: Work, parameter: Work['takes'][number], subjects: readonly number[], value: number): AskedWork => ({
  key: `${work.id}|${subjects.join(',')}`,
  work,
  subjects,
  amounts: new Map([[parameter.name, { parameter, value, nominal: value, least: value }]]),
});

function subjectsOf({ on }: Cure, part: number, world: VehicleWorld): (readonly number[])[] {
  if (on.is === 'vehicle') return [[]];
  if (on.is !== 'every') return [[world.step(part, on.is)]];
  return world.present.filter(({ kind, state }) => state !== 'law' && isKind(world.library, kind, on.kind)).map(({ subject }) => [subject]);
}

/** Where a quantity that tells a cost has values: of the vehicle, its places, or its parts. */
function subjectsFor({ per: [of] }: Quantity, world: VehicleWorld): (readonly number[])[] {
  if (of === undefined) return [[]];
  if (of.is === 'part')
    return world.present
      .filter(({ kind, state }) => state !== 'law' && isKind(world.library, kind, of.kind))
      .map(({ subject }) => [subject]);
  return (of.is === 'axle' ? AXLES : CORNERS).map((place) => [subjectOf(place)]);
}

/** What is alike on both sides is told once. */
function sidesOnce<T extends { readonly id: string; readonly subject: string }>(told: readonly T[]): T[] {
  const once = new Map<string, T>();
  for (const one of told) {
    const { id, subject: _, ...rest } = one;
    const key = `${id.replace(/(left|right)/g, '')} ${JSON.stringify({ ...rest, id: undefined })}`;
    if (!once.has(key)) once.set(key, one);
  }
  return [...once.values()];
}

const badness = ({ verdict }: Evaluation): number => (verdict === 'not-applicable' ? 0 : VERDICTS.length - 1 - VERDICTS.indexOf(verdict));

const controllingOf = (evaluations: readonly Evaluation[]): AtomResult | undefined =>
  evaluations.flatMap(({ controlling }) => controlling ?? []).sort((a, b) => a.low - b.low)[0];

const lowest = (evaluations: readonly Evaluation[]): number => {
  const low = controllingOf(evaluations)?.low ?? Number.NEGATIVE_INFINITY;
  return Number.isNaN(low) ? Number.NEGATIVE_INFINITY : low;
};

/** How much of its scale a margin loses. */
const fallOf = ({ controlling: was }: Evaluation, { controlling: is }: Evaluation): number =>
  was && is && Number.isFinite(was.margin - is.margin) ? (was.margin - is.margin) / was.scale : 0;

/** Whether anything that an evaluation reads is another value then. */
function touches({ reads }: Evaluation, before: VehicleWorld, after: VehicleWorld): boolean {
  return reads.some((slot) => {
    if (slot <= SLOT.yes) return false;
    const { name, subjects } = before.values.node(slot);
    const [was, is] = [before.values.read(slot), after.values.read(after.values.slot(name, subjects))];
    return !Object.is(was, is) && !(Math.abs(was - is) <= 1e-9 * Math.max(1, Math.abs(was)));
  });
}
