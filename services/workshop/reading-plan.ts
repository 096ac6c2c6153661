/**
 * The shortest list of readings that would settle what is open: again and again the reading that is expected to settle
 * most for the minutes it takes, laid over the values on trial, until nothing more is to be gained. What is read in one
 * position shares the time it takes to get there.
 */
import type { MeasuringPosition, Signature } from '../engine/tree.ts';
import type { ValueNode } from '../engine/values.ts';
import { asItStands } from '../vehicle/library-view.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Grouped } from './findings.ts';
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
}

export interface ReadingPlan {
  readonly readings: readonly PlannedReading[];
  readonly findings: readonly OpenFinding[];
}

const LEAST_SHARE = 0.03;
const LEAST_GAIN = 0.05;
/** A finding that is settled this surely is asked no more of. */
const SURE = 0.95;
/** Settled more likely than not. With the planned parts on, only what makes it so is read. */
export const LIKELY = 0.5;
const USUAL_MINUTES = 10;
/** What of a reading's minutes remains where its position is taken already, at least. */
const LEAST_OWN = 0.25;
const SAFETY_COUNTS = 2;

export function planReadings(groups: readonly Grouped[], rules: RuleSet, world: VehicleWorld): ReadingPlan {
  const open = groups.filter(({ verdict }) => verdict === 'unknown' || verdict === 'close');
  const findings = open.map((group) => new OpenFinding(group, world));
  const candidates = new Candidates(world);
  for (const finding of findings) candidates.of(finding);
  const trial = new Trial(rules, world);
  const readings: PlannedReading[] = [];
  const stands = new Set<string>();
  const left = new Set(candidates.all);
  for (const later of [false, true]) {
    for (;;) {
      const best = bestOf([...left], findings, later, stands);
      if (!best) break;
      left.delete(best);
      const before = new Map(findings.map((finding) => [finding, finding.chance]));
      trial.lay(best, findings);
      const effects = findings
        .map((finding): Effect => ({ finding, before: before.get(finding) as number, after: finding.chance }))
        .filter(({ finding, before: was, after }) => after > was + LEAST_GAIN / 2 || (finding.isUnknown && best.tells.has(finding)));
      const worth = best.later ? effects.some(({ before: was, after }) => was < LIKELY && after >= LIKELY) : effects.length > 0;
      if (!worth) continue;
      stands.add(standOf(best));
      readings.push({ ...best, isMissing: best.tells.size > 0, effects });
    }
  }
  trial.end();
  return { readings, findings };
}

const standOf = ({ position, end }: Pick<PlannedReading, 'position' | 'end'>): string => `${position.id} ${end}`;

interface Candidate extends Omit<PlannedReading, 'isMissing' | 'effects'> {
  readonly slots: number[];
  /** Findings that cannot be told without it. */
  readonly tells: Set<OpenFinding>;
  /** Findings whose doubt it takes away, with what of it a perfect reading would. */
  readonly reaches: Set<OpenFinding>;
  /** All it would stand in for. */
  readonly below: ReadonlySet<number>;
  /** What part of its own doubt is left by a reading of usual accuracy. */
  readonly kept: number;
}

/** The best of them, those first without which a finding about safety cannot be told. */
function bestOf(
  candidates: readonly Candidate[],
  findings: readonly OpenFinding[],
  later: boolean,
  stands: ReadonlySet<string>,
): Candidate | undefined {
  const allowed = candidates.filter((one) => later || !one.later || isOnlyWay(one, candidates));
  const scored = allowed.map((one) => {
    const gain = findings.reduce((sum, finding) => sum + weightOf(finding) * gainOf(one, finding, later), 0);
    const cost = one.minutes + (stands.has(standOf(one)) ? 0 : one.position.minutes);
    return { one, gain, safety: tellsOfSafety(one), score: gain / Math.max(1, cost) };
  });
  return scored
    .filter(({ gain }) => gain > LEAST_GAIN)
    .sort((a, b) => Number(b.safety) - Number(a.safety) || b.score - a.score || first(a.one) - first(b.one))[0]?.one;
}

const first = ({ slots }: Reading): number => slots[0] as number;
const isSafety = ({ group }: OpenFinding): boolean => group.evaluations[0].rule.hazard === 'safety';
const weightOf = (finding: OpenFinding): number => (isSafety(finding) ? SAFETY_COUNTS : 1);
const tellsOfSafety = ({ tells }: Candidate): boolean => [...tells].some((finding) => isSafety(finding) && finding.missing.size > 0);

/** With the planned parts on is the last way to read: it is asked for first only where a finding has no other. */
const isOnlyWay = (one: Candidate, candidates: readonly Candidate[]): boolean =>
  [...one.tells, ...one.reaches].some(
    (finding) => !candidates.some((other) => !other.later && (other.tells.has(finding) || other.reaches.has(finding))),
  );

/** By how much it is expected to raise the chance that a finding is settled, by the doubt that what it reads causes. */
function gainOf({ slots, tells, reaches, below, kept }: Candidate, finding: OpenFinding, later: boolean): number {
  const { missing, now } = finding;
  if (tells.has(finding)) return slots.some((slot) => missing.has(slot)) ? 1 / missing.size : 0;
  if (!reaches.has(finding) || finding.isUnknown || finding.chance >= SURE) return 0;
  const share = (now.controlling?.doubt ?? []).reduce((sum, { slot, share: part }) => sum + (below.has(slot) ? part : 0), 0);
  const [before, after] = [finding.chance, finding.chanceWith(finding.halfWidth * (1 - share * (1 - kept)))];
  return later && (before >= LIKELY || after < LIKELY) ? 0 : after - before;
}

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
      return;
    }
    for (const { slot, share } of finding.now.controlling?.doubt ?? [])
      if (share >= LEAST_SHARE) for (const at of this.#above(slot, finding)) this.#add(at)?.reaches.add(finding);
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

  #add(slot: number): Candidate | undefined {
    const { values } = this.#world;
    const { name, subjects, signature } = values.node(slot);
    if (!signature || !this.#canBeGiven(name, signature)) return undefined;
    const key = [name, ...subjects.map((subject) => this.#world.partOf(subject)?.group ?? subject)].join('|');
    const known = this.#byKey.get(key) ?? this.#make(slot, signature);
    this.#byKey.set(key, known);
    if (!known.slots.includes(slot)) known.slots.push(slot);
    return known;
  }

  /** What is only computed and nobody can read is not asked for: what is wrong with it stands in the finding. */
  #canBeGiven(name: string, { measure }: Signature): boolean {
    return measure !== undefined || this.#world.library.quantities.get(name)?.comes !== 'computed';
  }

  #make(slot: number, signature: Signature): Candidate {
    const { library, values } = this.#world;
    const { measure } = signature;
    const position = positionOf(signature, library.measuringPositions);
    const alone = measure?.minutes ?? USUAL_MINUTES;
    const accuracy = measure?.accuracy ?? 0;
    const open = this.#openOf(slot);
    const { subjects } = values.node(slot);
    return {
      slots: this.#alike(slot),
      signature,
      accuracy,
      position,
      end: position.title.includes('{of}') ? this.#endOf(subjects[0]) : '',
      minutes: Math.max(alone - position.minutes, LEAST_OWN * alone),
      later: measure?.with !== undefined,
      tells: new Set(),
      reaches: new Set(),
      below: values.below([slot]),
      kept: open > 0 ? Math.min(1, accuracy / open) : 1,
    };
  }

  /** The slot and those of the other parts of its input. */
  #alike(slot: number): number[] {
    const { values, assembly } = this.#world;
    const { name, subjects } = values.node(slot);
    const group = subjects.length === 1 ? this.#world.partOf(subjects[0] as number)?.group : undefined;
    if (group === undefined) return [slot];
    const others = assembly.parts.filter((part) => part.group === group).map(({ subject }) => values.slot(name, [subject]));
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
