/** What decides the stretches of a what-if: findings as a check tells them, at one value inside each stretch that is not clear. */
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Finding } from './answer.ts';
import { nameSubjects } from './describe.ts';
import type { System } from './show.ts';
import type { Point, Search, Told } from './what-if.ts';
import type { Band, Decider, Ender, WhatIfCause, WhatIfValue } from './what-if-answer.ts';
import { causesAt, type Run } from './what-if-runs.ts';

const MOST_DECIDERS = 6;

/** Each is a vehicle of its own, with all that its findings rest on. */
const MOST_POINTS_TOLD = 12;

export class Deciders {
  readonly #search: Search;
  readonly #at: ReadonlyMap<Run, Point>;
  readonly #found = new Map<Point, readonly Finding[]>();

  constructor(search: Search, runs: readonly Run[], system: System) {
    this.#search = search;
    this.#at = chosen(runs);
    const asked = new Map<Point, Set<string>>();
    for (const [run, point] of this.#at) {
      const ids = asked.get(point) ?? new Set();
      for (const { id, verdict } of run.line.countedAt(point)) if (verdict === run.verdict) ids.add(id);
      asked.set(point, ids);
    }
    for (const [point, ids] of asked) this.#found.set(point, search.findingsAt(point.at, ids, system));
  }

  of(run: Run, value: (at: number) => WhatIfValue): Pick<Band, 'decided_at' | 'decided_by' | 'more'> {
    const point = this.#at.get(run);
    const all = point ? this.#decide(run, point) : [];
    return {
      decided_at: point ? value(point.at) : null,
      decided_by: all.slice(0, MOST_DECIDERS).map(([finding, told]) => deciderOf(finding, told)),
      more: Math.max(0, all.length - MOST_DECIDERS),
    };
  }

  /** What makes it worse where that run begins, with the readings that may let it begin later. */
  enders(end: Ender['end'], beyond: Run): Ender[] {
    const edge = end === 'to' ? beyond.first : beyond.last;
    const point = this.#at.get(beyond);
    const told = point && beyond.verdict === 'close' ? this.#decide(beyond, point) : [];
    return causesAt([edge], beyond).map(([one, alike]) => ({
      end,
      verdict: beyond.verdict,
      ...causeOf(one, alike, this.#search.world),
      widened_by: told.find(([, { id }]) => alike.some((other) => other.id === id))?.[0].settled_by?.readings ?? [],
    }));
  }

  /** The findings that have the run's verdict at a point of it. */
  #decide({ line, verdict }: Run, point: Point): (readonly [Finding, Told])[] {
    const counted = line.countedAt(point).filter((told) => told.verdict === verdict);
    return (this.#found.get(point) ?? []).flatMap((finding) => {
      const ids = new Set(finding.id.split('+'));
      const told = counted.find(({ id }) => ids.has(id));
      return told ? [[finding, told] as const] : [];
    });
  }
}

/** Of each run that is not clear the point nearest to its middle, or one that is asked for another run already. */
function chosen(runs: readonly Run[]): ReadonlyMap<Run, Point> {
  const [at, asked] = [new Map<Run, Point>(), new Set<Point>()];
  for (const run of runs) {
    if (run.verdict === 'clear') continue;
    const middle = (run.first.at + run.last.at) / 2;
    const nearest = [...run.points].sort((a, b) => Math.abs(a.at - middle) - Math.abs(b.at - middle));
    const point = nearest.find((one) => asked.has(one)) ?? (asked.size < MOST_POINTS_TOLD ? nearest[0] : undefined);
    if (!point) continue;
    at.set(run, point);
    asked.add(point);
  }
  return at;
}

function deciderOf(finding: Finding, { sort, varies }: Told): Decider {
  const { id, rule, title, hazard, subject, margin, says, leans, settled_by, contested, missing, any_of } = finding;
  return {
    ...{ id, rule, title, hazard, subject, sort, varies, margin, says, missing },
    ...(leans && { leans }),
    ...(settled_by && { settled_by }),
    ...(contested && { contested }),
    ...(any_of && { any_of }),
  };
}

export function causeOf(told: Told, alike: readonly Told[], world: VehicleWorld): WhatIfCause {
  const { rule, title, hazard, subjects, sort, varies } = told;
  const roles = subjects.map((_, i) =>
    nameSubjects(
      alike.map((one) => one.subjects[i] as number),
      world,
    ),
  );
  const id = alike.map((one) => one.id).join('+');
  return { id, rule, title, hazard, subject: told.subject ?? (roles.join(' and ') || world.assembly.name), sort, varies };
}
