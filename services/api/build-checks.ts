/** Checks of saved builds: the revision with its measurements, against the catalogue as it is now. */
import type { z } from 'zod';
import { getDeleted, getMeasurements, getRevision, type Revision, saidUntil } from '../../db/builds.ts';
import type { Tables } from '../../db/open.ts';
import type { EntryVersion } from '../../db/schema.ts';
import type { Library } from '../engine/index.ts';
import type { Catalogue, CheckRequest } from '../vehicle/index.ts';
import { asItStands } from '../vehicle/library-view.ts';
import type { Answer } from '../workshop/index.ts';
import { entriesFor } from './catalogue.ts';
import { type CheckRunner, runCheck } from './checks.ts';
import { ApiError } from './errors.ts';
import { faultsInBuild, layMeasurements, tieReadings } from './saved-builds.ts';
import type { Asking as AskingForm } from './schemas/request.ts';
import { storedLookup } from './stored-catalogue.ts';

export type Asking = Pick<CheckRequest, keyof z.infer<typeof AskingForm>>;

/** What is asked where nothing is said of it. */
const UNASKED: Required<Asking> = { units: 'metric', values: 'used', fit_to_readings: false, alternatives: false, also: [] };

/** All that an answer was asked with, alike whether or not it was written out. */
export const askedFor = (asking: Asking): Required<Asking> => ({ ...UNASKED, ...asking });

export interface CheckedBuild {
  readonly revision: Revision;
  readonly answer: Answer;
  readonly entries: readonly EntryVersion[];
}

/** The revision of that number or the newest, or the problem that there is none. */
export async function revisionOr404(tables: Tables, build: string, revision?: number): Promise<Revision> {
  const found = await getRevision(tables, build, revision);
  if (found) return found;
  if (revision !== undefined && (await getRevision(tables, build)))
    throw new ApiError(
      'NOT_FOUND',
      `Build \`${build}\` has no revision ${revision}; \`/v1/builds/${build}/revisions\` lists those there are.`,
    );
  throw await noBuild(tables, build);
}

/** The problem that there is no such build: never, or no more. */
export async function noBuild(tables: Tables, build: string): Promise<ApiError> {
  const deleted = await getDeleted(tables, build);
  if (!deleted) return new ApiError('NOT_FOUND', `There is no build \`${build}\`; \`/v1/builds\` lists those there are.`);
  const { revision, key, at } = deleted;
  return new ApiError('GONE', `Build \`${build}\` was deleted at its revision ${revision}, with the key \`${key}\`, on ${at}.`);
}

export async function checkBuild(
  tables: Tables,
  checks: CheckRunner,
  build: string,
  number: number | undefined,
  asking: Asking,
  library: Library,
): Promise<CheckedBuild> {
  const revision = await revisionOr404(tables, build, number);
  const measurements = await getMeasurements(tables, revision.measurements);
  const laid = layMeasurements(revision.document, measurements);
  // What is known both as it stands and as planned is read as it stands, unless the reading says with what.
  const hangsOnParts = (quantity: string): boolean =>
    library.quantities.get(quantity)?.measure?.with !== undefined && asItStands(library, quantity) === quantity;
  const tied = (laid.request.vehicle.measured ?? []).some(({ quantity }) => hangsOnParts(quantity))
    ? tieReadings(laid, measurements, await saidUntil(tables, build, revision.revision), hangsOnParts)
    : laid.request;
  const request = { ...tied, ...asking };
  const catalogue = await entriesFor(request, storedLookup(tables));
  const checked = await runCheck(checks, request, catalogue);
  if (!checked.ok) throw new ApiError('BUILD_INVALID', undefined, faultsInBuild(checked.faults, laid));
  return { revision, answer: checked.answer, entries: versionsIn(catalogue) };
}

const versionsIn = ({ vehicles, parts }: Catalogue): EntryVersion[] =>
  [...vehicles.values()]
    .map(({ id, version }): EntryVersion => ({ noun: 'vehicle', id, version }))
    .concat([...parts.values()].map(({ id, version }) => ({ noun: 'part', id, version })));
