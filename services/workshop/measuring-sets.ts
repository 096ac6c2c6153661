/** Readings that belong together, as a list of readings has them: of each set what counts for what is asked, and nothing else. */
import type { ReadingSet } from '../engine/tree.ts';
import { type Said, saidKey } from '../vehicle/assembly.ts';
import { isKind } from '../vehicle/library-view.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import type { MeasuringSet } from './answer.ts';
import type { PlannedReading } from './reading-plan.ts';
import type { RuleSet } from './rule-set.ts';

/** The sets of which the list has two readings or more, of the end that they are of, or that stand in for a reading of the list. */
export function setsOf(readings: readonly PlannedReading[], rules: RuleSet, world: VehicleWorld): MeasuringSet[] {
  const gauged = ifGaugedStanding(readings, rules, world);
  return [...world.library.readingSets.values()].flatMap((set) => {
    const isOfEnd = ({ end }: PlannedReading): boolean => set.at === undefined || end === '' || end === set.at;
    const orders = (which: (reading: PlannedReading) => boolean): number[] =>
      readings.flatMap((reading, i) => (isOfEnd(reading) && which(reading) ? [i + 1] : []));
    const own = orders((reading) => set.readings.includes(nameOf(reading, world)));
    const instead = orders((reading) => nameOf(reading, world) === set.standsFor && hangsOn(reading, set, world, gauged));
    const rests = namesBelow(
      [...own, ...instead].map((order) => readings[order - 1] as PlannedReading),
      world,
      gauged,
    );
    const quantities = set.readings.filter((name) => rests.has(name));
    // What stands in for another reading does so with all of it.
    const isWhole = set.standsFor === undefined || quantities.length === set.readings.length;
    if ((own.length < 2 || !isWhole) && instead.length === 0) return [];
    const { id, title, gives } = set;
    return [{ id, title, gives, quantities, readings: own, instead_of: instead }];
  });
}

const nameOf = ({ slots }: PlannedReading, { values }: VehicleWorld): string => values.node(slots[0] as number).name;

/** Whether what is read is computed from all of those, where it is not read itself. */
function hangsOn({ slots }: PlannedReading, { readings }: ReadingSet, world: VehicleWorld, gauged: VehicleWorld | undefined): boolean {
  const { name, subjects, provider } = world.values.node(slots[0] as number);
  if (!provider) return false;
  const { values } = gauged && subjects.some((subject) => isUndrawn(subject, world)) ? gauged : world;
  const below = namesOf([values.twin(values.slot(name, subjects))], { values });
  return readings.every((each) => below.has(each));
}

const namesOf = (slots: Iterable<number>, { values }: Pick<VehicleWorld, 'values'>): Set<string> =>
  new Set([...values.below(slots)].map((at) => values.node(at).name));

/** All that the findings rest on which those readings are for; of what is not drawn, all that they would once its gap at ride height is there. */
function namesBelow(readings: readonly PlannedReading[], world: VehicleWorld, gauged: VehicleWorld | undefined): ReadonlySet<string> {
  const findings = [...new Set(readings.flatMap(({ effects }) => effects.map(({ finding }) => finding)))];
  const names = new Set(findings.flatMap(({ below }) => [...below].map((at) => world.values.node(at).name)));
  if (gauged)
    for (const obstacle of undrawnAmong(readings, world))
      for (const name of namesOf([gauged.values.slot('tyre_gap', [obstacle])], gauged)) names.add(name);
  return names;
}

/** The vehicle with each gap that nobody has drawn or gauged read standing; undefined where there is none. Only what is asked of it is computed. */
function ifGaugedStanding(readings: readonly PlannedReading[], { texts }: RuleSet, world: VehicleWorld): VehicleWorld | undefined {
  const { assembly, library } = world;
  const missing = undrawnAmong(readings, world).filter((obstacle) => !assembly.said.has(saidKey('tyre_gap_at_ride', [obstacle])));
  if (missing.length === 0) return undefined;
  const said = missing.map((obstacle): [string, readonly Said[]] => [saidKey('tyre_gap_at_ride', [obstacle]), [STANDING]]);
  return createWorld({ ...assembly, said: new Map([...assembly.said, ...said]) }, library, texts);
}

/** Whatever it may be: what it rests on is asked, not how much there is. */
const STANDING: Said = { value: 0.1, plusMinus: 0.004, rank: 'measured' };

/** What the tyre can touch of the findings of those readings, where nothing draws it and its gap was not read. */
function undrawnAmong(readings: readonly PlannedReading[], world: VehicleWorld): readonly number[] {
  const subjects = readings.flatMap(({ effects }) =>
    effects.flatMap(({ finding }) => finding.group.evaluations.flatMap(({ subjects: of }) => of)),
  );
  return [...new Set(subjects)].filter((subject) => isUndrawn(subject, world));
}

function isUndrawn(subject: number, { library, partOf, assembly }: VehicleWorld): boolean {
  const part = partOf(subject);
  const isGauged = assembly.said.has(saidKey('tyre_gap', [subject]));
  return part !== undefined && isKind(library, part.kind, 'tyre_obstacle') && !part.shape && !isGauged;
}
