/** What is varied, read against the build: which values it is, its steps, and the vehicle at each. */
import type { Library, Signature } from '../engine/tree.ts';
import { parseQuantity } from '../units/index.ts';
import { type Assembly, assemble, type Catalogue, type Said } from '../vehicle/assembly.ts';
import { Faults } from '../vehicle/faults.ts';
import { readValue } from '../vehicle/read-value.ts';
import type { RequestFault, ValueInput, VaryInput, VehicleReading, WhatIfRequest } from '../vehicle/request.ts';
import { signatureOf } from '../vehicle/world.ts';
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
}

export type VaryRead = { readonly ok: true; readonly vary: ReadVary } | { readonly ok: false; readonly faults: readonly RequestFault[] };

export function readVary(request: WhatIfRequest, catalogue: Catalogue, library: Library): VaryRead {
  const { vary, ...build } = request;
  const faults = new Faults('/vary');
  if (!isWhole(vary, faults)) return { ok: false, faults: faults.list };
  return vary.among ? amongValues(vary, vary.among) : overRange(vary);

  /** The build with one more reading, put last: its statement has the highest number. */
  function built(
    value: ValueInput,
    at: string,
  ): { readonly assembly: Assembly; readonly keys: readonly string[] } | readonly RequestFault[] {
    const { quantity, of } = vary;
    const reading: VehicleReading = { quantity, ...(of !== undefined && { of }), value };
    const measured = build.vehicle.measured ?? [];
    const assembled = assemble({ ...build, vehicle: { ...build.vehicle, measured: [...measured, reading] } }, catalogue, library);
    if (!assembled.ok) return assembled.faults.map((fault) => moved(fault, `/vehicle/measured/${measured.length}`, at));
    const last = Math.max(...[...assembled.assembly.said.values()].flat().map(({ statement = 0 }) => statement));
    const keys = [...assembled.assembly.said].filter(([, said]) => said.some(({ statement }) => statement === last)).map(([key]) => key);
    return { assembly: assembled.assembly, keys };
  }

  /** Only what is varied stands; it contradicts nothing that was said. */
  function setTo(assembly: Assembly, keys: readonly string[], change: (said: Said) => Said): Assembly {
    const said = new Map(assembly.said);
    for (const key of keys) {
      const statement = Math.max(...(said.get(key) ?? []).map((one) => one.statement ?? 0));
      const own = (said.get(key) ?? []).filter((one) => one.statement === statement);
      said.set(
        key,
        own.map((one) => ({ ...change(one), rank: 'work', note: 'as varied' })),
      );
    }
    return { ...assembly, said };
  }

  function overRange({ from, to, step, plus_minus }: VaryInput): VaryRead {
    const first = built(from as ValueInput, '/vary/from');
    if (!('assembly' in first)) return { ok: false, faults: first };
    const { assembly, keys } = first;
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
    const steps = Math.floor((end - begin) / by + 1e-9);
    // A step is written in tens: what sums of it are off in their last bits would tip what is exactly on the line.
    const valueAt = (at: number): number => Number((begin + at * by).toPrecision(12));
    const assemblyAt = (at: number): Assembly => setTo(assembly, keys, (said) => ({ ...said, value: valueAt(at), plusMinus }));
    return {
      ok: true,
      vary: { assemblyAt, steps, keys: new Set(keys), signature, subjects: subjectsOf(keys), valueAt, step: by, plusMinus },
    };
  }

  function amongValues(_: VaryInput, among: readonly ValueInput[]): VaryRead {
    const each = among.map((value, i) => built(value, `/vary/among/${i}`));
    const bad = each.flatMap((one) => ('assembly' in one ? [] : one));
    if (bad.length > 0) return { ok: false, faults: bad };
    const all = each as readonly { readonly assembly: Assembly; readonly keys: readonly string[] }[];
    const { keys } = all[0] as (typeof all)[number];
    const assemblyAt = (at: number): Assembly => {
      const one = all[at] as (typeof all)[number];
      return setTo(one.assembly, one.keys, (said) => said);
    };
    const plain = { signature: signatureFor(keys, library), subjects: subjectsOf(keys), plusMinus: 0 };
    return {
      ok: true,
      vary: { ...plain, assemblyAt, steps: all.length - 1, keys: new Set(keys), each: true, valueAt: (at) => String(among[at]) },
    };
  }
}

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

const signatureFor = (keys: readonly string[], library: Library): Signature =>
  signatureOf(library, (keys[0] as string).split('|')[0] as string) as Signature;

const subjectsOf = (keys: readonly string[]): number[] => [
  ...new Set(keys.flatMap((key) => (key.split('|')[1] || undefined)?.split(',').map(Number) ?? [])),
];
