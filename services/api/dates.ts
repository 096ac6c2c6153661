/** Readings dated in the future are slips of the pen, and would win over every real one. Routes may look at the clock; checks may not. */
import type { CheckRequest, PartInput, VehicleReading } from '../vehicle/index.ts';
import { ApiError } from './errors.ts';

/** Where it is first tomorrow, by hours ahead of UTC. */
const FURTHEST_AHEAD_HOURS = 14;

/** Refuses dates that are still to come everywhere on earth, each by its pointer. */
export function refuseFuture(dates: Iterable<readonly [pointer: string, date: string]>, now = Date.now()): void {
  const today = new Date(now + FURTHEST_AHEAD_HOURS * 3_600_000).toISOString().slice(0, 10);
  const faults = [...dates]
    .filter(([, date]) => date > today)
    .map(([pointer, date]) => ({
      pointer,
      code: 'DATE_AHEAD',
      message: `\`${date}\` is still to come`,
      help: 'write the day the reading was taken',
    }));
  if (faults.length > 0) throw new ApiError('REQUEST_INVALID', undefined, faults);
}

/** Every date of a reading in a build, with its pointer. */
export function* datesIn({ vehicle, parts = [] }: Pick<CheckRequest, 'vehicle' | 'parts'>, at = ''): Generator<[string, string]> {
  yield* datesOfReadings(vehicle.measured ?? [], `${at}/vehicle/measured`);
  if (vehicle.from === 'inline') yield* datesOfParts(vehicle.fitted ?? [], `${at}/vehicle/fitted`);
  yield* datesOfParts(parts, `${at}/parts`);
}

export function* datesOfReadings(readings: readonly VehicleReading[], at: string): Generator<[string, string]> {
  for (const [i, { date, with: taken = [] }] of readings.entries()) {
    if (date !== undefined) yield [`${at}/${i}/date`, date];
    yield* datesOfParts(taken, `${at}/${i}/with`);
  }
}

function* datesOfParts(parts: readonly PartInput[], at: string): Generator<[string, string]> {
  for (const [i, { measured = {} }] of parts.entries())
    for (const [name, reading] of Object.entries(measured)) {
      const date = typeof reading === 'object' ? reading.date : undefined;
      if (date !== undefined) yield [`${at}/${i}/measured/${name.replaceAll('~', '~0').replaceAll('/', '~1')}/date`, date];
    }
}
