/** Saved builds between storage and the wire: what is shown of them, and what of them is checked. */
import type { BuildDocument, Measurement, Revision } from '../../db/builds.ts';
import type { CheckRequest, VehicleReading } from '../vehicle/index.ts';
import type { Fault } from './errors.ts';

export const buildView = (
  { build, revision, name, document, what, restoredFrom, at, writer }: Revision,
  measurements: readonly Measurement[],
) => ({
  id: build,
  revision,
  name,
  build: document,
  measurements,
  what,
  ...(restoredFrom !== undefined && { restored_from: restoredFrom }),
  at,
  ...writer,
});

/** The revision, and what of the build and its measurements is other than in the one before it. */
export const revisionView = (
  { revision, what, restoredFrom, at, writer, ...state }: Revision,
  before: Revision | undefined,
  measurements: readonly Measurement[],
) => ({
  revision,
  what,
  ...(restoredFrom !== undefined && { restored_from: restoredFrom }),
  at,
  ...writer,
  changes: before ? changesBetween(stateOf(before), stateOf(state)) : [],
  measurements: measuredBetween(before?.measurements ?? [], state.measurements, measurements),
});

const stateOf = ({ name, document }: Pick<Revision, 'name' | 'document'>) => ({ name, build: document });

/** Measurements that a revision brought, each with what held of the same thing before, and those it left out. */
function measuredBetween(before: readonly string[], after: readonly string[], all: readonly Measurement[]) {
  const only = (these: readonly string[], those: readonly string[]): Measurement[] =>
    all.filter(({ id }) => these.includes(id) && !those.includes(id));
  const held = all.filter(({ id }) => before.includes(id));
  const added = only(after, before).map((measurement) => {
    const was = held.findLast(({ quantity, of }) => quantity === measurement.quantity && of === measurement.of);
    return was ? { ...measurement, was: was.value } : measurement;
  });
  return { added, removed: only(before, after) };
}

export interface Change {
  readonly pointer: string;
  readonly before?: unknown;
  readonly after?: unknown;
}

type Json = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Json => typeof value === 'object' && value !== null && !Array.isArray(value);
const escapeStep = (step: string): string => step.replaceAll('~', '~0').replaceAll('/', '~1');

/** Where two JSON values differ, at the narrowest places; lists are compared item by item where they are as long, else as wholes. */
export function changesBetween(before: unknown, after: unknown, pointer = ''): Change[] {
  if (before === undefined) return after === undefined ? [] : [{ pointer, after }];
  if (after === undefined) return [{ pointer, before }];
  if (isObject(before) && isObject(after)) {
    const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
    return [...keys].flatMap((key) => changesBetween(before[key], after[key], `${pointer}/${escapeStep(key)}`));
  }
  if (Array.isArray(before) && Array.isArray(after) && before.length === after.length)
    return before.flatMap((item, i) => changesBetween(item, after[i], `${pointer}/${i}`));
  return JSON.stringify(before) === JSON.stringify(after) ? [] : [{ pointer, before, after }];
}

/** Whether one reading is of all that the other is of: `front` is of `front-left` too, and one that names nothing is of every place. */
const covers = (one: VehicleReading, other: VehicleReading): boolean =>
  one.quantity === other.quantity &&
  (one.of === other.of ||
    one.of === undefined ||
    one.of === 'all' ||
    ((one.of === 'front' || one.of === 'rear') && [`${one.of}-left`, `${one.of}-right`].includes(other.of ?? '')));

/** What a measurement says to a check. The position it was taken at goes along as a note. */
const readingOf = ({
  quantity,
  of,
  value,
  date,
  tool,
  tool_error: toolError,
  suspension,
  steering,
  by,
  note,
}: Omit<Measurement, 'id' | 'recorded'>): VehicleReading => {
  const said = [suspension, steering, note].filter((text) => text !== undefined).join('; ');
  const taken = { value, date, tool, ...(toolError !== undefined && { tool_error: toolError }) };
  return { quantity, ...(of !== undefined && { of }), ...taken, ...(by !== undefined && { by }), ...(said && { note: said }) };
};

export interface Laid {
  readonly request: CheckRequest;
  /** So many are the build's own readings; the measurements stand after them. */
  readonly own: number;
}

/**
 * The build with its measurements laid over it. Of several of the same thing the latest by date counts, wherever they stand; those of one
 * day are held against each other, as in any request. What an older one says is passed over but not dropped: two that agree say more than one.
 */
export function layMeasurements(document: BuildDocument, measurements: readonly Omit<Measurement, 'id' | 'recorded'>[]): Laid {
  const own = document.vehicle.measured ?? [];
  const recorded = measurements.map(readingOf);
  const isOlder = (reading: VehicleReading): boolean =>
    recorded.some((other) => (other.date ?? '') > (reading.date ?? '') && covers(other, reading));
  const measured = [...own, ...recorded].map((reading) => (isOlder(reading) ? { ...reading, passed_over: true as const } : reading));
  const vehicle = measured.length > 0 ? { ...document.vehicle, measured } : document.vehicle;
  return { request: { ...document, vehicle }, own: own.length };
}

/** What a revision said, as far as it tells what a reading was taken with. */
export type Said = Pick<Revision, 'document' | 'measurements'>;

/**
 * Readings that hang on the planned parts, with the parts there were when they were first said: at the revision that recorded
 * a measurement, or at the first of those in a row in which the build's own reading stands as it does now. Revisions in order.
 */
export function tieReadings(
  laid: Laid,
  measurements: readonly { readonly id: string }[],
  revisions: readonly Said[],
  hangsOnParts: (quantity: string) => boolean,
): CheckRequest {
  const partsOf = (at: number): CheckRequest['parts'] => revisions[Math.max(0, at)]?.document.parts ?? [];
  const recorded = (i: number): number => {
    const id = measurements[i - laid.own]?.id ?? '';
    return revisions.findIndex(({ measurements: held }) => held.includes(id));
  };
  const stands = ({ passed_over: _, ...reading }: VehicleReading): number => {
    const same = JSON.stringify(reading);
    const without = revisions.findLastIndex(
      ({ document }) => !(document.vehicle.measured ?? []).some((each) => JSON.stringify(each) === same),
    );
    return without + 1;
  };
  const measured = (laid.request.vehicle.measured ?? []).map((reading, i) =>
    reading.with || !hangsOnParts(reading.quantity)
      ? reading
      : { ...reading, with: partsOf(i < laid.own ? stands(reading) : recorded(i)) ?? [] },
  );
  return measured.length === 0 ? laid.request : { ...laid.request, vehicle: { ...laid.request.vehicle, measured } };
}

const READING = /^\/vehicle\/measured\/(\d+)/;

/** Faults of a check under the pointers of the saved build. */
export const faultsInBuild = (faults: readonly Fault[], { own }: Laid): Fault[] =>
  faults.map((fault) => {
    const index = Number(READING.exec(fault.pointer)?.[1] ?? Number.NaN);
    const pointer = index >= own ? fault.pointer.replace(READING, `/measurements/${index - own}`) : `/build${fault.pointer}`;
    return { ...fault, pointer };
  });
