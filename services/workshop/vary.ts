/** What is varied, read against the build: which values it is, its steps, and the vehicle at each. */
import type { Library, Signature } from '../engine/tree.ts';
import { Texts } from '../engine/values.ts';
import { parseQuantity } from '../units/index.ts';
import { type Assembly, assemble, type Catalogue, type GivenReading, type Said, saidKey } from '../vehicle/assembly.ts';
import { Faults } from '../vehicle/faults.ts';
import { isKind } from '../vehicle/library-view.ts';
import { readValue } from '../vehicle/read-value.ts';
import type { RequestFault, ValueInput, VaryInput, VehicleReading, WhatIfRequest } from '../vehicle/request.ts';
import { createWorld, signatureOf } from '../vehicle/world.ts';
import { lowerFirst } from './describe.ts';
import type { Varied } from './what-if.ts';

const STEPS_UNLESS_SAID = 64;
const MOST_STEPS = 10_000;
const MOST_AMONG = 40;

export interface ReadVary extends Varied {
  readonly signature: Signature;
  readonly subjects: readonly number[];
  /** SI, of numbers; the text as given of others. */
  valueAt(steps: number): number | string;
  /** SI; absent where each value is its own. */
  readonly step?: number;
  readonly plusMinus: number;
  /** Titles of what was said of the thing as it was and is left aside. */
  readonly leftAside: readonly string[];
}

export type VaryRead = { readonly ok: true; readonly vary: ReadVary } | { readonly ok: false; readonly faults: readonly RequestFault[] };

export function readVary(request: WhatIfRequest, catalogue: Catalogue, library: Library): VaryRead {
  const { vary, ...build } = request;
  const faults = new Faults('/vary');
  if (!isWhole(vary, faults)) return { ok: false, faults: faults.list };
  return vary.among ? amongValues(vary, vary.among) : overRange(vary);

  /** The build with one more reading, whatever else was read of it and when. */
  function built(value: ValueInput, at: string): Built | readonly RequestFault[] {
    const { quantity, of } = vary;
    const reading: VehicleReading = { quantity, ...(of !== undefined && { of }), value };
    const measured = build.vehicle.measured ?? [];
    const assembled = assemble({ ...build, vehicle: { ...build.vehicle, measured: [...measured, reading] } }, catalogue, library);
    if (!assembled.ok) return assembled.faults.map((fault) => moved(fault, `/vehicle/measured/${measured.length}`, at));
    const { name, subjects, said } = assembled.assembly.readings.at(-1) as GivenReading;
    return { assembly: assembled.assembly, keys: subjects.map((each) => saidKey(name, each)), said: said as Said };
  }

  /** Only what is varied stands; it contradicts nothing that was said. */
  function setTo(assembly: Assembly, keys: readonly string[], said: Said): Assembly {
    const all = new Map(assembly.said);
    for (const key of keys) all.set(key, [{ ...said, rank: 'work', note: 'as varied' }]);
    return { ...assembly, said: all };
  }

  function overRange({ from, to, step, plus_minus }: VaryInput): VaryRead {
    const first = built(from as ValueInput, '/vary/from');
    if (!('assembly' in first)) return { ok: false, faults: first };
    const { keys, said } = first;
    const signature = signatureFor(keys, library);
    const { type, unit } = signature;
    if (type.is !== 'number') {
      faults.in('from').add('VARY_NOT_A_NUMBER', `\`${vary.quantity}\` is no number`, 'name its values with `among`');
      return { ok: false, faults: faults.list };
    }
    const begin = readValue(from as ValueInput, signature, faults.in('from'))?.value as number;
    const end = readValue(to as ValueInput, signature, faults.in('to'))?.value as number | undefined;
    const width = (name: 'step' | 'plus_minus', text: string): number | undefined => {
      const parsed = parseQuantity(text, type.dimension);
      if (!parsed.ok) return faults.in(name).add(parsed.fault.code, parsed.fault.message, parsed.fault.help);
      return parsed.measure.value;
    };
    const plusMinus = plus_minus === undefined ? 0 : width('plus_minus', plus_minus);
    const by = step === undefined ? ((end ?? begin) - begin) / STEPS_UNLESS_SAID : width('step', step);
    if (end !== undefined && !(end > begin))
      faults.in('to').add('VARY_EMPTY', `\`${to}\` is not beyond \`${from}\``, 'let `to` be the greater of the two');
    else if (by !== undefined && end !== undefined && !(by > 0))
      faults.in('step').add('VARY_STEP_WRONG', `\`${step}\` is no step`, `write a length of steps above zero, such as "1 ${unit}"`);
    else if (by !== undefined && end !== undefined && (end - begin) / by > MOST_STEPS)
      faults
        .in('step')
        .add('VARY_STEP_WRONG', `there are more than ${MOST_STEPS} steps in the range`, 'take longer steps, or a shorter range');
    if (plusMinus !== undefined && plusMinus < 0)
      faults.in('plus_minus').add('VARY_TOLERANCE_WRONG', `\`${plus_minus}\` is no tolerance`, 'write a half-width of zero or more');
    if (faults.list.length > 0 || by === undefined || end === undefined || plusMinus === undefined)
      return { ok: false, faults: faults.list };
    // The end is checked, be it a shorter step away.
    const steps = Math.ceil((end - begin) / by - 1e-9);
    // A step is written in tens: what sums of it are off in their last bits would tip what is exactly on the line.
    const valueAt = (at: number): number => (at === steps ? end : Number((begin + at * by).toPrecision(12)));
    const aside = takenWith(first.assembly, keys, library);
    const assembly = without(first.assembly, aside);
    const assemblyAt = (at: number): Assembly => setTo(assembly, keys, { ...said, value: valueAt(at), plusMinus });
    const leftAside = titlesOf(aside, library);
    const of = { keys: new Set(keys), aside: new Set(aside.keys()), signature, subjects: subjectsOf(keys) };
    return { ok: true, vary: { ...of, assemblyAt, steps, valueAt, step: by, plusMinus, leftAside } };
  }

  function amongValues(_: VaryInput, among: readonly ValueInput[]): VaryRead {
    const each = among.map((value, i) => built(value, `/vary/among/${i}`));
    const bad = each.flatMap((one) => ('assembly' in one ? [] : one));
    if (bad.length > 0) return { ok: false, faults: bad };
    const all = each as readonly Built[];
    const { keys } = all[0] as Built;
    const before = assemble(build, catalogue, library);
    const now = before.ok ? before.assembly.said.get(keys[0] as string)?.[0] : undefined;
    const isNow = ({ said }: Built): boolean => now !== undefined && Object.is(now.value, said.value) && now.text === said.text;
    const aside = all.map((one) =>
      isNow(one) ? new Map() : new Map([...takenWith(one.assembly, keys, library), ...following(one, library)]),
    );
    const assemblyAt = (at: number): Assembly => {
      const one = all[at] as Built;
      return setTo(without(one.assembly, aside[at] as Aside), one.keys, one.said);
    };
    const every: Aside = new Map(aside.flatMap((one) => [...one]));
    const of = { keys: new Set(keys), aside: new Set(every.keys()), signature: signatureFor(keys, library), subjects: subjectsOf(keys) };
    const valueAt = (at: number): string => String(among[at]);
    const leftAside = titlesOf(every, library);
    return { ok: true, vary: { ...of, assemblyAt, steps: all.length - 1, each: true, valueAt, plusMinus: 0, leftAside } };
  }
}

/** The build with the varied value read. */
interface Built {
  readonly assembly: Assembly;
  readonly keys: readonly string[];
  readonly said: Said;
}

/** Of statements that are of the thing as it was, those that stay; by what they are of. */
type Aside = ReadonlyMap<string, readonly Said[]>;

const without = (assembly: Assembly, aside: Aside): Assembly => ({ ...assembly, said: new Map([...assembly.said, ...aside]) });

/** Readings that were taken with the planned part on: it is another one then. */
function takenWith({ said, parts }: Assembly, keys: readonly string[], library: Library): Aside {
  const of = parts.filter(({ subject, state }) => state === 'planned' && subjectsOf(keys).includes(subject));
  const isOfThem = (key: string): boolean => {
    const kinds = library.quantities.get(nameOf(key))?.measure?.with ?? [];
    return !keys.includes(key) && kinds.some((kind) => of.some((part) => isKind(library, part.kind, kind)));
  };
  return new Map(
    [...said]
      .filter(([key, all]) => isOfThem(key) && all.some(({ rank }) => rank === 'measured'))
      .map(([key, all]) => [key, all.filter(({ rank }) => rank !== 'measured')]),
  );
}

/** What was said of the same part and follows from a text that is varied: of a tyre of another size its diameter is another one. */
function following({ assembly, keys, said: { text } }: Built, library: Library): Aside {
  if (text === undefined) return new Map();
  const { values } = createWorld(assembly, library, new Texts());
  const varied = new Set(keys.map((key) => values.slot(nameOf(key), subjectsOf([key]))));
  const own = new Set(keys.map((key) => key.split('|')[1]));
  const follows = (key: string): boolean => {
    const slot = values.slot(nameOf(key), subjectsOf([key]));
    if (varied.has(slot) || !values.node(slot).provider) return false;
    const twin = values.twin(slot);
    values.read(twin);
    return [...values.below([twin])].some((below) => varied.has(below));
  };
  return new Map([...assembly.said.keys()].filter((key) => own.has(key.split('|')[1]) && follows(key)).map((key) => [key, []]));
}

const nameOf = (key: string): string => key.split('|')[0] as string;

const titlesOf = (aside: Aside, library: Library): string[] => [
  ...new Set([...aside.keys()].map((key) => lowerFirst(signatureOf(library, nameOf(key))?.title ?? nameOf(key)))),
];

/** A range with both ends, or a list; not both. */
function isWhole({ from, to, step, plus_minus, among }: VaryInput, faults: Faults): boolean {
  if (among !== undefined) {
    if (from !== undefined || to !== undefined || step !== undefined || plus_minus !== undefined)
      faults.in('among').add('VARY_BOTH', 'there is a range as well as a list of values', 'keep `from`, `to` and `step`, or `among`');
    else if (among.length === 0 || among.length > MOST_AMONG)
      faults.in('among').add('VARY_EMPTY', `there are ${among.length} values`, `name 1 to ${MOST_AMONG}`);
  } else {
    if (from === undefined) faults.in('from').add('VARY_EMPTY', 'the range has no beginning', 'add `from`, or name values with `among`');
    if (to === undefined) faults.in('to').add('VARY_EMPTY', 'the range has no end', 'add `to`, or name values with `among`');
  }
  return faults.list.length === 0;
}

const moved = (fault: RequestFault, from: string, to: string): RequestFault => {
  if (!fault.pointer.startsWith(from)) return fault;
  const rest = fault.pointer.slice(from.length);
  return { ...fault, pointer: rest === '/quantity' || rest === '/of' ? `/vary${rest}` : rest === '' ? '/vary' : to };
};

const signatureFor = (keys: readonly string[], library: Library): Signature => signatureOf(library, nameOf(keys[0] as string)) as Signature;

const subjectsOf = (keys: readonly string[]): number[] => [
  ...new Set(keys.flatMap((key) => (key.split('|')[1] || undefined)?.split(',').map(Number) ?? [])),
];
