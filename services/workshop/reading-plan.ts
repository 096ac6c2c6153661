/**
 * The shortest list of readings that would settle what is open: again and again the first of those readings that together
 * are expected to settle most for the minutes they take, laid over the values on trial, until nothing more is to be gained.
 * One reading alone seldom settles anything, so that readings are weighed by the findings they finish between them (`reading-sets.ts`).
 * What is read in one position shares the time it takes to get there.
 */
import { EQUAL_WITHIN } from '../engine/interpret.ts';
import type { MeasuringPosition, Signature } from '../engine/tree.ts';
import type { ValueNode } from '../engine/values.ts';
import { asItStands } from '../vehicle/library-view.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { doubtedReadings } from './contradictions.ts';
import { decidingOf } from './deciding.ts';
import { type Grouped, isPastCure } from './findings.ts';
import { onDefaults } from './on-defaults.ts';
import { bestSet, LIKELY, standOf } from './reading-sets.ts';
import type { RuleSet } from './rule-set.ts';
import { OpenFinding, type Reading, Trial } from './trial-readings.ts';

export interface Effect {
  readonly finding: OpenFinding;
  /** The chance that it is settled, before this reading and with it. */
  readonly before: number;
  readonly after: number;
}

export interface PlannedReading extends Reading {
  readonly signature: Signature;
  readonly position: MeasuringPosition;
  /** `front` or `rear` where it is read at one end. */
  readonly end: string;
  /** Its own, in its position. */
  readonly minutes: number;
  /** Read with the planned parts on. */
  readonly later: boolean;
  /** Not known at all so far, and a finding cannot be told without it. */
  readonly isMissing: boolean;
  readonly effects: readonly Effect[];
  /** Conflicts that rest on defaults of the class, of whose doubt this is among what decides: read otherwise than the class has it, it ends them. */
  readonly overturns: readonly Grouped[];
}

export interface ReadingPlan {
  readonly readings: readonly PlannedReading[];
  readonly findings: readonly OpenFinding[];
}

const LEAST_SHARE = 0.03;
/** A reading that takes less of a band, and raises no chance by more, does nothing. */
const LEAST_EFFECT = 0.025;
const USUAL_MINUTES = 10;
/** What may turn out to be of no matter is asked for only where it takes no longer. */
const QUICK = 15;
/** What of a reading's minutes remains where its position is taken already, at least. */
const LEAST_OWN = 0.25;

/** No more than so many, the first of the list: each costs asking again what it touches. */
export function planReadings(
  groups: readonly Grouped[],
  rules: RuleSet,
  world: VehicleWorld,
  most = Number.POSITIVE_INFINITY,
): ReadingPlan {
  const findings = openGroups(groups).map((group) => new OpenFinding(group, world));
  const candidates = new Candidates(world);
  for (const finding of findings) candidates.of(finding);
  const again = [...new Set(doubtedReadings(world).flatMap((slot) => candidates.at(slot) ?? []))];
  const overturning = overturningOf(groups, candidates, world, Number.isFinite(most));
  const plan = new Plan(findings, new Trial(rules, world), most);
  for (const one of again) plan.put({ ...one, isMissing: true, effects: [], overturns: [] });
  for (const [one, overturns] of overturning) if (!again.includes(one)) plan.take(one, overturns);
  const left = new Set(candidates.all.filter((one) => !again.includes(one) && !overturning.has(one)));
  for (const later of [false, true]) {
    while (!plan.isFull) {
      const best = bestOf([...left], findings, later, plan.stands);
      if (!best?.tells.size) plan.takeBeside(left);
      if (!best || plan.isFull) break;
      left.delete(best);
      plan.take(best);
    }
  }
  plan.end();
  return { readings: plan.readings, findings };
}

/** The list as it grows, each reading laid over the values before the next is chosen. */
class Plan {
  readonly readings: PlannedReading[] = [];
  readonly stands = new Set<string>();
  readonly #findings: readonly OpenFinding[];
  readonly #trial: Trial;
  readonly #most: number;

  constructor(findings: readonly OpenFinding[], trial: Trial, most: number) {
    this.#findings = findings;
    this.#trial = trial;
    this.#most = most;
  }

  get isFull(): boolean {
    return this.readings.length >= this.#most;
  }

  put(reading: PlannedReading): void {
    if (this.isFull) return;
    this.readings.push(reading);
    this.stands.add(standOf(reading));
  }

  /** Only what does something is put on the list: with the planned parts on, what settles; before, what narrows too. */
  take(one: Candidate, overturns: readonly Grouped[] = []): void {
    const effects = this.#effectsOf(one);
    const settles = effects.some(({ before, after }) => before < LIKELY && after >= LIKELY);
    if (overturns.length > 0 || (one.later ? settles : effects.length > 0))
      this.put({ ...one, isMissing: one.tells.size > 0, effects, overturns });
  }

  /** What goes into a margin beside a planned part's own number that nobody has given: it can be read before that is chosen. */
  takeBeside(left: Set<Candidate>): void {
    const told = this.#findings.filter(({ isUnknown, missing }) => isUnknown && missing.size === 0);
    const beside = [...left].filter(({ beside: of }) => told.some((finding) => of.has(finding)));
    for (const one of beside.sort(safetyThenCheap)) {
      left.delete(one);
      const effects = this.#effectsOf(one);
      const also = told.filter((finding) => one.beside.has(finding)).map((finding) => ({ finding, before: 1, after: 1 }));
      this.put({
        ...one,
        isMissing: false,
        effects: [...also, ...effects.filter(({ finding }) => !one.beside.has(finding))],
        overturns: [],
      });
    }
  }

  end(): void {
    this.#trial.end();
  }

  #effectsOf(one: Candidate): Effect[] {
    const before = this.#findings.map((finding) => ({ finding, chance: finding.chance, worst: finding.left.worst }));
    this.#trial.lay(one, this.#findings);
    return before
      .filter(
        ({ finding, chance, worst }) =>
          finding.chance > chance + LEAST_EFFECT ||
          finding.left.worst < worst * (1 - LEAST_EFFECT) ||
          (finding.isUnknown && one.tells.has(finding)),
      )
      .map(({ finding, chance }) => ({ finding, before: chance, after: finding.chance }));
  }
}

const safetyThenCheap = (a: Candidate, b: Candidate): number =>
  Number([...b.beside].some(isSafety)) - Number([...a.beside].some(isSafety)) || a.minutes - b.minutes || firstOf(a) - firstOf(b);

const firstOf = ({ slots }: Reading): number => slots[0] as number;

/**
 * What decides conflicts that rest on defaults of the class: first of those that no work cures, since they end the build, then of those whose
 * work it saves, but for comfort alone and for what is read only with the planned parts on.
 */
function overturningOf(
  groups: readonly Grouped[],
  candidates: Candidates,
  world: VehicleWorld,
  isShort: boolean,
): Map<Candidate, Grouped[]> {
  const overturning = new Map<Candidate, Grouped[]>();
  const likely = groups.filter(
    ({ verdict, evaluations: [first] }) => verdict === 'conflict' && onDefaults(first, decidingOf(first, world), world),
  );
  const [ending, curable] = [true, false].map((ends) => likely.filter(({ evaluations }) => isPastCure(evaluations, world) === ends));
  const add = (group: Grouped, isWorthIt: (one: Candidate) => boolean): void => {
    const found = decidingOf(group.evaluations[0], world).slots.flatMap((slot) => candidates.at(slot) ?? []);
    for (const one of found.filter(isWorthIt)) overturning.set(one, [...(overturning.get(one) ?? []), group]);
  };
  for (const group of ending ?? []) add(group, () => true);
  // A list of a few has no room for what work cures.
  for (const group of isShort ? [] : (curable ?? [])) add(group, ({ later }) => !later && group.evaluations[0].rule.hazard !== 'comfort');
  return overturning;
}

/** All that could be read of what is open, in no order. */
export function candidateReadings(groups: readonly Grouped[], world: VehicleWorld): readonly Candidate[] {
  const candidates = new Candidates(world);
  for (const group of openGroups(groups)) candidates.of(new OpenFinding(group, world));
  return candidates.all;
}

const openGroups = (groups: readonly Grouped[]): Grouped[] => groups.filter(({ verdict }) => verdict === 'unknown' || verdict === 'close');

export interface Candidate extends Omit<PlannedReading, 'isMissing' | 'effects' | 'overturns'> {
  /** Findings that cannot be told without it. */
  readonly tells: Set<OpenFinding>;
  /** Findings whose doubt it takes away, with what of it a perfect reading would. */
  readonly reaches: Set<OpenFinding>;
  /** Findings that want a planned part's own number, and that this goes into as well. */
  readonly beside: Set<OpenFinding>;
  /** All it would stand in for. */
  readonly below: ReadonlySet<number>;
  /** What part of its own doubt is left by a reading of usual accuracy. */
  readonly kept: number;
}

/** The best of them: those first without which something cannot be told at all, of these those of safety. */
function bestOf(
  candidates: readonly Candidate[],
  findings: readonly OpenFinding[],
  later: boolean,
  stands: ReadonlySet<string>,
): Candidate | undefined {
  const allowed = candidates.filter((one) => later || !one.later || isOnlyWay(one, candidates));
  const telling = allowed.filter(tellsOfAny);
  const safety = telling.filter(tellsOfSafety);
  for (const first of [safety, telling]) {
    const [one] = (first.length > 0 && bestSet(first, findings, stands, later)) || [];
    if (one) return one;
  }
  return bestSet(allowed, findings, stands, later)?.[0];
}

const isSafety = ({ group }: OpenFinding): boolean => group.evaluations[0].rule.hazard === 'safety';
const tellsOfAny = ({ tells }: Candidate): boolean => [...tells].some(({ missing }) => missing.size > 0);
const tellsOfSafety = ({ tells }: Candidate): boolean => [...tells].some((finding) => isSafety(finding) && finding.missing.size > 0);

/** With the planned parts on is the last way to read: it is asked for first only where a finding has no other. */
const isOnlyWay = (one: Candidate, candidates: readonly Candidate[]): boolean =>
  [...one.tells, ...one.reaches].some(
    (finding) => !candidates.some((other) => !other.later && (other.tells.has(finding) || other.reaches.has(finding))),
  );

/** What could be read, each once for all parts of one input, which are alike. */
class Candidates {
  readonly #world: VehicleWorld;
  readonly #byKey = new Map<string, Candidate>();

  constructor(world: VehicleWorld) {
    this.#world = world;
  }

  get all(): Candidate[] {
    return [...this.#byKey.values()];
  }

  of(finding: OpenFinding): void {
    const { values } = this.#world;
    if (finding.isUnknown) {
      for (const group of finding.group.evaluations.flatMap(({ reads }) => reads.flatMap((slot) => values.choicesOf(slot))))
        for (const other of group.slice(1)) finding.missing.delete(other);
      finding.missing = new Set([...finding.missing].map((slot) => this.#missing(slot, finding)));
      this.#besides(finding);
      return;
    }
    for (const { slot, share } of finding.now.controlling?.doubt ?? [])
      if (share >= LEAST_SHARE) for (const at of this.#above(slot, finding)) this.#add(at)?.reaches.add(finding);
  }

  /** Where only numbers of planned parts are missing, which are chosen, not found: what else the rule asks for, and that the class stands in for. */
  #besides(finding: OpenFinding): void {
    const { values, library } = this.#world;
    const isChosen = (slot: number): boolean => {
      const { subjects, signature } = values.node(slot);
      return signature?.type.is === 'number' && subjects.some((subject) => this.#world.partOf(subject)?.state === 'planned');
    };
    if (finding.missing.size === 0 || ![...finding.missing].every(isChosen)) return;
    for (const slot of finding.group.evaluations.flatMap(({ reads }) => reads)) {
      const { chosen, signature, name } = values.node(slot);
      if (!signature?.measure || signature.measure.with || asItStands(library, name) !== name) continue;
      const isDefault = chosen !== undefined && chosen !== 'computed' && (chosen.rank === 'class-default' || chosen.rank === 'typical');
      if ((signature.measure.minutes ?? USUAL_MINUTES) > QUICK) continue;
      if (isDefault && values.toleranceOf(slot) > (signature.measure.accuracy ?? 0)) this.#add(slot)?.beside.add(finding);
    }
  }

  /** What is read for a missing value, told as missing from now on. */
  #missing(slot: number, finding: OpenFinding): number {
    const above = this.#above(slot, finding);
    const read = above.find((at) => !this.#signature(at)?.measure?.with) ?? above[0] ?? slot;
    this.#add(read)?.tells.add(finding);
    return read;
  }

  /** The slot and what it goes into, nearest first, as far as a person can read it. A part's attribute can be stated by its maker. */
  #above(slot: number, { below }: OpenFinding): number[] {
    const { values, library } = this.#world;
    const seen = new Set([slot]);
    for (const at of seen) for (const dependent of values.node(at).dependents) if (below.has(dependent)) seen.add(dependent);
    // What is known both as it stands and as planned is read as it stands: people measure before they buy.
    const canBeRead = ({ name, signature }: ValueNode): boolean => signature?.measure !== undefined && asItStands(library, name) === name;
    const read = [...seen].filter((at) => canBeRead(values.node(at)));
    return read.length > 0 || library.quantities.has(values.node(slot).name) ? read : [slot];
  }

  #signature(slot: number): Signature | undefined {
    return this.#world.values.node(slot).signature;
  }

  /** What is read of a value, whatever it would settle. */
  at(slot: number): Candidate | undefined {
    return this.#add(slot);
  }

  #add(slot: number): Candidate | undefined {
    const { name, signature } = this.#world.values.node(slot);
    if (!signature || !this.#canBeGiven(name, signature) || asItStands(this.#world.library, name) !== name) return undefined;
    const slots = this.#alike(slot);
    const known = this.#byKey.get(slots.join()) ?? this.#make(slot, slots, signature);
    this.#byKey.set(slots.join(), known);
    return known;
  }

  /** What is only computed and nobody can read is not asked for: what is wrong with it stands in the finding. */
  #canBeGiven(name: string, { measure }: Signature): boolean {
    return measure !== undefined || this.#world.library.quantities.get(name)?.comes !== 'computed';
  }

  #make(slot: number, slots: readonly number[], signature: Signature): Candidate {
    const { library, values } = this.#world;
    const { measure } = signature;
    const position = positionOf(signature, library.measuringPositions);
    const alone = measure?.minutes ?? USUAL_MINUTES;
    const accuracy = measure?.accuracy ?? 0;
    const open = this.#openOf(slot);
    const { subjects } = values.node(slot);
    return {
      slots,
      signature,
      accuracy,
      position,
      end: position.title.includes('{of}') ? this.#endOf(subjects[0]) : '',
      minutes: Math.max(alone - position.minutes, LEAST_OWN * alone),
      later: measure?.with !== undefined,
      tells: new Set(),
      reaches: new Set(),
      beside: new Set(),
      below: values.below([slot]),
      kept: open > 0 ? Math.min(1, accuracy / open) : 1,
    };
  }

  /** The slot and those of the other parts of its input; none, where they are not all alike, as what hangs on where each is mounted. */
  #alike(slot: number): number[] {
    const { values, assembly } = this.#world;
    const { name, subjects } = values.node(slot);
    const group = subjects.length === 1 ? this.#world.partOf(subjects[0] as number)?.group : undefined;
    if (group === undefined) return [slot];
    const others = assembly.parts.filter((part) => part.group === group).map(({ subject }) => values.slot(name, [subject]));
    const [is, open] = [values.read(slot), this.#openOf(slot)];
    const same = (a: number, b: number): boolean => Object.is(a, b) || Math.abs(a - b) <= EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b));
    if (!others.every((other) => same(values.read(other), is) && same(this.#openOf(other), open))) return [slot];
    return [...new Set([slot, ...others])].sort((a, b) => a - b);
  }

  /** Half-width of what is open of a value. */
  #openOf(slot: number): number {
    const { values, bands } = this.#world;
    const { chosen, signature } = values.node(slot);
    if (signature?.type.is !== 'number') return 0;
    if (chosen !== 'computed') return values.toleranceOf(slot);
    const { low, high } = bands.of(slot);
    return (high - low) / 2;
  }

  #endOf(subject: number | undefined): string {
    const axle = subject === undefined ? -1 : this.#world.step(subject, 'axle');
    return axle < 0 ? '' : this.#world.idOf(axle);
  }
}

/** Where something is read: by what it says of the suspension, else by its tool. */
export function positionOf({ measure }: Signature, positions: ReadonlyMap<string, MeasuringPosition>): MeasuringPosition {
  const all = [...positions.values()];
  const { suspension, tool = 'none' } = measure ?? {};
  return (
    all.find((position) => suspension !== undefined && position.suspension.includes(suspension)) ??
    (suspension === undefined ? all.find(({ tools }) => tools.includes(tool)) : undefined) ??
    all.find(({ otherwise }) => otherwise) ?? { ...NOWHERE }
  );
}

/** For rules that name no positions. */
const NOWHERE: MeasuringPosition = {
  id: 'vehicle',
  title: 'At the vehicle',
  minutes: 0,
  suspension: [],
  tools: [],
  otherwise: true,
  cautions: [],
};
