/** The steps of a job as operations to be put in order: what set-ups they share, what comes before what, what is at risk. */
import { slotOf } from '../../engine/bind.ts';
import type { Evaluation } from '../../engine/evaluate.ts';
import { resolve } from '../../engine/layout.ts';
import { type Setup, withBelow } from '../../engine/planning.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import { evaluationId } from '../evaluation-id.ts';
import type { Job, JobStep } from '../job.ts';
import type { Edge } from './graph.ts';
import { findOrder, type OrderFound, type Rework } from './order.ts';
import { MOST_SETUPS, type SetupCost } from './setup-order.ts';

export interface Operation {
  readonly key: string;
  readonly step: JobStep;
  /** Keys of the set-ups it needs itself. */
  readonly setups: readonly string[];
}

/** A set-up of something of this vehicle. */
export interface SetupHere {
  readonly key: string;
  readonly setup: Setup;
  /** What it is of; undefined for the whole vehicle. */
  readonly of?: number;
}

export interface OrderedJob {
  /** In the shop, in order. */
  readonly operations: readonly Operation[];
  /** After it was driven, by distance. */
  readonly visits: readonly Visit[];
  readonly setups: readonly SetupHere[];
  /** Keys of the set-ups that stand while each operation is done. */
  readonly standing: readonly ReadonlySet<string>[];
  /** The same if none of the contingent operations is done; undefined for those. */
  readonly standingSure: readonly (ReadonlySet<string> | undefined)[];
  readonly found: OrderFound;
  /** What comes before an operation and why, by key; visits too. */
  readonly before: ReadonlyMap<string, readonly { readonly key: string; readonly why: string }[]>;
  /** Of what cannot be undone, by key: contingent operations that change what it was sized with, and are decided first. */
  readonly undecided: ReadonlyMap<string, readonly Operation[]>;
  /** Ways round by which operations wait for themselves, as keys with why each waits for the one before. */
  readonly rings: readonly (readonly { readonly key: string; readonly why: string }[])[];
}

export interface Visit {
  /** Metres driven since the hand-over. */
  readonly distance: number;
  readonly operations: readonly Operation[];
}

const SECONDS = 3600;

/** Puts the steps in one order. Contingent ones have their place in it too, so that it is known when to measure. */
export function orderJob(
  steps: ReadonlyMap<string, JobStep>,
  { before: evaluations, worldBefore: world }: Pick<Job, 'before' | 'worldBefore'>,
): OrderedJob {
  const here = new SetupsHere(world);
  const all = [...steps].map(([key, step]): Operation => ({ key, step, setups: here.neededBy(step) }));
  const shop = sortByArea(
    all.filter(({ step }) => step.asked.work.planning.visits.length === 0),
    world,
  );
  const number = new Map(shop.map(({ key }, i) => [key, i]));
  const before = precedences(steps);
  const edges = shop.flatMap(({ key }, to) =>
    (before.get(key) ?? []).flatMap(({ key: earlier, why }): Edge[] => {
      const from = number.get(earlier);
      return from === undefined ? [] : [{ from, to, why }];
    }),
  );
  const setups = here.used(shop);
  const bit = new Map(setups.map(({ key }, i) => [key, 1 << i]));
  const bits = (keys: Iterable<string>): number => [...keys].reduce((sum, key) => sum | (bit.get(key) ?? 0), 0);
  const found = findOrder({
    setups: setups.map((setup) => costOfSetup(setup, setups, here, bits)),
    operations: shop.map(({ setups: needs, step }) => ({ needs: bits(needs), without: bits(here.barredBy(step, setups)) })),
    edges,
    rework: reworkOf(shop, evaluations, world),
    kinds: kindsOf(shop),
    sure: shop.map(({ step }) => !step.contingent),
  });
  const keysIn = (stands: number): ReadonlySet<string> => new Set(setups.filter((_, i) => stands & (1 << i)).map(({ key }) => key));
  const keyAt = (i: number): string => (shop[i] as Operation).key;
  return {
    operations: found.order.map((i) => shop[i] as Operation),
    visits: visitsOf(all),
    setups,
    standing: found.standing.map(keysIn),
    standingSure: found.standingSure.map((stands) => (stands === undefined ? undefined : keysIn(stands))),
    found,
    before,
    undecided: undecidedOf(all, evaluations, world),
    rings: found.graph.rings.map((ring) => ring.map(({ to, why }) => ({ key: keyAt(to), why }))),
  };
}

/** The set-ups of one vehicle. */
class SetupsHere {
  readonly #world: VehicleWorld;
  readonly #known = new Map<string, SetupHere>();

  constructor(world: VehicleWorld) {
    this.#world = world;
  }

  neededBy({ asked: { work, subjects } }: JobStep): string[] {
    return work.planning.setups.flatMap(({ setup, of }) => {
      const subject = of && resolve(of, subjects, this.#world);
      return this.#at(setup, subject !== undefined && subject >= 0 ? subject : undefined)?.key ?? [];
    });
  }

  #at(id: string, of: number | undefined): SetupHere | undefined {
    const setup = this.#world.library.setups.get(id);
    if (!setup) return undefined;
    const subject = setup.per ? of : undefined;
    const key = subject === undefined ? id : `${id}:${this.#world.idOf(subject)}`;
    const known = this.#known.get(key) ?? { key, setup, ...(subject !== undefined && { of: subject }) };
    this.#known.set(key, known);
    return known;
  }

  /** With those that each stands on; of more than can be planned with, those that most operations share. */
  used(operations: readonly Operation[]): SetupHere[] {
    const times = new Map<string, number>();
    for (const { setups } of operations)
      for (const key of withBelow(setups, (one) => this.standsOn(one))) times.set(key, (times.get(key) ?? 0) + 1);
    const keys = [...times].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1)).map(([key]) => key);
    return keys.slice(0, MOST_SETUPS).map((key) => this.#known.get(key) as SetupHere);
  }

  standsOn(key: string): string[] {
    const { setup, of } = this.#known.get(key) as SetupHere;
    return setup.needs.flatMap((id) => this.#at(id, of)?.key ?? []);
  }

  /** Those of the job that must not stand while a step is done. */
  barredBy({ asked: { work } }: JobStep, setups: readonly SetupHere[]): string[] {
    return setups.filter(({ setup }) => work.planning.without.includes(setup.id)).map(({ key }) => key);
  }
}

function costOfSetup(
  { key, setup }: SetupHere,
  all: readonly SetupHere[],
  here: SetupsHere,
  bits: (keys: Iterable<string>) => number,
): SetupCost {
  const beside = all.filter((other) => setup.without.includes(other.setup.id) || other.setup.without.includes(setup.id));
  return {
    cost: setup.make.likely + setup.unmake.likely,
    needs: bits(here.standsOn(key)),
    without: bits(beside.map((other) => other.key)),
  };
}

/** Numbered so that what changes the same stands together where nothing else decides. */
function sortByArea(operations: readonly Operation[], world: VehicleWorld): Operation[] {
  const aspects = [...world.library.aspects.keys()];
  const area = ({ step }: Operation): number => {
    const at = aspects.indexOf(step.asked.work.planning.changes[0] ?? '');
    return at < 0 ? aspects.length : at;
  };
  const seen = new Map<string, number>();
  for (const { step } of operations) if (!seen.has(step.asked.work.id)) seen.set(step.asked.work.id, seen.size);
  const first = ({ step }: Operation): number => seen.get(step.asked.work.id) ?? 0;
  return [...operations].sort((a, b) => area(a) - area(b) || first(a) - first(b));
}

function kindsOf(operations: readonly Operation[]): number[] {
  const numbers = new Map<string, number>();
  return operations.map(({ step }) => {
    const { id } = step.asked.work;
    if (!numbers.has(id)) numbers.set(id, numbers.size);
    return numbers.get(id) as number;
  });
}

/** What comes before each step: what works say of each other, and what brings a step with it. */
function precedences(steps: ReadonlyMap<string, JobStep>): Map<string, { readonly key: string; readonly why: string }[]> {
  const byWork = new Map<string, string[]>();
  for (const [key, { asked }] of steps) byWork.set(asked.work.id, [...(byWork.get(asked.work.id) ?? []), key]);
  return new Map(
    [...steps].map(([key, { asked, broughtBy }]) => {
      const brought = [...broughtBy].filter((other) => steps.has(other)).map((other) => ({ key: other, why: 'it follows from this work' }));
      const said = asked.work.after.flatMap(({ work, otherwise }) =>
        (byWork.get(work) ?? []).map((other) => ({ key: other, why: otherwise ?? 'this order saves doing it twice' })),
      );
      const named = new Set(said.filter(({ why }) => why !== 'this order saves doing it twice').map((one) => one.key));
      const all = [...said, ...brought.filter((one) => !named.has(one.key))].filter((one) => one.key !== key);
      return [key, all] as const;
    }),
  );
}

/**
 * Where doing one operation changes a value that another was decided with, the other comes second, or may be done twice;
 * what cannot be undone comes after what can.
 */
function reworkOf(operations: readonly Operation[], evaluations: readonly Evaluation[], world: VehicleWorld): Rework[] {
  const reads = new Map(evaluations.map((evaluation) => [evaluationId(evaluation, world), evaluation.reads]));
  const rests = operations.map(({ step }) => world.values.below([...step.findings].flatMap((id) => reads.get(id) ?? [])));
  const changes = operations.map(({ step: { asked } }) => asked.work.effects.map(({ target }) => slotOf(target, asked.subjects, world)));
  const own = operations.map(({ step }) => step.asked.work.hours.likely / SECONDS);
  return operations.flatMap(({ step: { asked } }, later) =>
    operations.flatMap((other, earlier): Rework[] => {
      if (other.step.asked.work.id === asked.work.id) return [];
      const decided = (changes[earlier] as number[]).some((slot) => (rests[later] as ReadonlySet<number>).has(slot));
      const cut = asked.work.irreversible && !other.step.asked.work.irreversible;
      const weight = (own[later] as number) * ((decided ? 1 : 0) + (cut ? 0.1 : 0));
      return weight > 0 ? [{ earlier, later, weight }] : [];
    }),
  );
}

function undecidedOf(
  operations: readonly Operation[],
  evaluations: readonly Evaluation[],
  world: VehicleWorld,
): ReadonlyMap<string, readonly Operation[]> {
  const reads = new Map(evaluations.map((evaluation) => [evaluationId(evaluation, world), evaluation.reads]));
  const perhaps = operations.filter(({ step }) => step.contingent);
  return new Map(
    operations
      .filter(({ step }) => step.asked.work.irreversible)
      .map(({ key, step }) => {
        const rests = world.values.below([...step.findings].flatMap((id) => reads.get(id) ?? []));
        const moves = ({ step: { asked } }: Operation): boolean =>
          asked.work.id !== step.asked.work.id && asked.work.effects.some(({ target }) => rests.has(slotOf(target, asked.subjects, world)));
        return [key, perhaps.filter(moves)] as const;
      }),
  );
}

function visitsOf(operations: readonly Operation[]): Visit[] {
  const byDistance = new Map<number, Operation[]>();
  for (const operation of operations)
    for (const distance of operation.step.asked.work.planning.visits)
      byDistance.set(distance, [...(byDistance.get(distance) ?? []), operation]);
  return [...byDistance].sort(([a], [b]) => a - b).map(([distance, due]) => ({ distance, operations: due }));
}
