/**
 * Class defaults made to agree with the readings there are. A reading of something computed says as much of what it is
 * computed from: axle masses from a loaded scale ticket, the size of a worn tyre from several gaps. Those of its inputs that are
 * defaults are moved within their tolerances to where all readings agree best (`bounded-fit.ts`), and keep what is left open.
 * What somebody stated or read is moved along within its own tolerance, and stays as it was said.
 */
import type { Values } from '../engine/values.ts';
import { type Fit, fitBounded } from '../models/fit/bounded-fit.ts';
import { type Assembly, type Said, saidKey } from '../vehicle/assembly.ts';
import type { RequestFault } from '../vehicle/request.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import type { AnswerFit } from './answer.ts';
import { nameSubjects } from './describe.ts';
import type { RuleSet } from './rule-set.ts';
import { type System, show } from './show.ts';
import { valueId } from './values-out.ts';

export type Fitted =
  | { readonly ok: true; readonly assembly: Assembly; readonly fit: AnswerFit }
  | { readonly ok: false; readonly faults: readonly RequestFault[] };

/** A reading of something that is computed too, and the node that has only what is computed. */
interface Observed {
  readonly slot: number;
  readonly twin: number;
  readonly value: number;
  readonly plusMinus: number;
  /** Parameters it hangs on. */
  readonly on: ReadonlySet<number>;
}

/** What moves together: the slots of one statement. */
type Parameter = readonly number[];

/** Below this, a half-width counts as reading noise of a number's last digits. */
const FINEST = 1e-9;
/** A residual beyond the reading's own half-width, with room for rounding. */
const DISAGREES = 1.02;
/** Less than this of its tolerance is no news. */
const MOVED = 0.02;

export function fitToReadings(assembly: Assembly, rules: RuleSet, system: System): Fitted {
  const world = createWorld(assembly, rules.library, rules.texts);
  const { observed, parameters } = observe(assembly, world);
  const fit = solve(observed, parameters, world.values);
  const apart = contradiction(observed, parameters, fit, world);
  if (apart) return { ok: false, faults: [faultOf(apart, world, system)] };
  return {
    ok: true,
    assembly: { ...assembly, said: adjusted(assembly, parameters, fit, world.values) },
    fit: told(observed, parameters, fit, world, system),
  };
}

function observe(
  assembly: Assembly,
  world: VehicleWorld,
): { readonly observed: readonly Observed[]; readonly parameters: readonly Parameter[] } {
  const { values } = world;
  const read = [...assembly.said].flatMap(([key, said]) => {
    const [reading] = said.filter(({ rank, text }) => rank === 'measured' && text === undefined);
    const [name = '', subjects = ''] = key.split('|');
    const slot = values.slot(name, subjects === '' ? [] : subjects.split(',').map(Number));
    const twin = reading && values.node(slot).provider ? values.twin(slot) : undefined;
    return reading && twin !== undefined && Number.isFinite(values.read(twin)) ? [{ slot, twin, reading }] : [];
  });
  const groups = new Map<number, number[]>();
  const observed = read.map(({ slot, twin, reading }): Observed => {
    const open = values.givensOf([twin]).filter((given) => given !== slot && values.toleranceOf(given) > 0);
    const statements = open.map((given) => {
      const statement = values.statementOf(given);
      const group = groups.get(statement) ?? [];
      if (!group.includes(given)) group.push(given);
      groups.set(statement, group);
      return statement;
    });
    return { slot, twin, value: reading.value, plusMinus: Math.max(FINEST, reading.plusMinus), on: new Set(statements) };
  });
  const order = [...groups.keys()];
  const numbered = observed.map((each) => ({ ...each, on: new Set([...each.on].map((statement) => order.indexOf(statement))) }));
  return { observed: numbered, parameters: [...groups.values()] };
}

function solve(observed: readonly Observed[], parameters: readonly Parameter[], values: Values): Fit {
  const lean = (u: readonly number[]): void => {
    for (const [i, slots] of parameters.entries()) for (const slot of slots) values.lean(slot, u[i] ?? 0);
  };
  const fit = fitBounded(parameters.length, observed, (u) => {
    lean(u);
    return observed.map(({ twin }) => values.read(twin));
  });
  lean([]);
  return fit;
}

/** Two readings that cannot both be true of one vehicle of the class, within the tolerances of all there is. */
function contradiction(
  observed: readonly Observed[],
  parameters: readonly Parameter[],
  { residuals }: Fit,
  world: VehicleWorld,
): readonly [Observed, Observed] | undefined {
  const agree = (some: readonly Observed[]): boolean =>
    solve(some, parameters, world.values).residuals.every((residual) => Math.abs(residual) <= DISAGREES);
  const off = observed.filter((_, i) => Math.abs(residuals[i] as number) > DISAGREES);
  for (const one of off) {
    if (!agree([one])) {
      const under = readUnder(one, parameters, world.values);
      if (under) return [one, under];
      // It lies outside what the class allows: the class is no reading.
      continue;
    }
    for (const other of observed)
      if (other !== one && [...one.on].some((i) => other.on.has(i)) && agree([other]) && !agree([one, other])) return [one, other];
  }
  return undefined;
}

/** A reading that another one is computed from. */
function readUnder({ on }: Observed, parameters: readonly Parameter[], values: Values): Observed | undefined {
  for (const slot of [...on].flatMap((i) => parameters[i] ?? [])) {
    const { chosen } = values.node(slot);
    if (chosen !== undefined && chosen !== 'computed' && chosen.rank === 'measured')
      return { slot, twin: slot, value: chosen.value, plusMinus: chosen.plusMinus, on: new Set() };
  }
  return undefined;
}

function adjusted(assembly: Assembly, parameters: readonly Parameter[], { parameters: u, left }: Fit, values: Values): Assembly['said'] {
  const said = new Map(assembly.said);
  for (const [i, slots] of parameters.entries()) {
    if (!isNews(u[i] as number, left[i] as number)) continue;
    for (const slot of slots) {
      const { name, subjects, chosen } = values.node(slot);
      if (chosen === undefined || chosen === 'computed' || !isDefault(chosen.rank)) continue;
      const moved: Said = {
        ...chosen,
        rank: 'class-default',
        value: chosen.value + (u[i] as number) * chosen.plusMinus,
        plusMinus: (left[i] as number) * chosen.plusMinus,
        note: 'made to agree with the readings',
      };
      const key = saidKey(name, subjects);
      said.set(key, [...(said.get(key) ?? []).filter(({ rank }) => rank !== 'class-default'), moved]);
    }
  }
  return said;
}

const isDefault = (rank: string): boolean => rank === 'class-default' || rank === 'typical';
const isNews = (u: number, left: number): boolean => Math.abs(u) > MOVED || left < 1 - MOVED;

function told(
  observed: readonly Observed[],
  parameters: readonly Parameter[],
  { parameters: u, left, residuals }: Fit,
  world: VehicleWorld,
  system: System,
): AnswerFit {
  const { values } = world;
  const shown = (slot: number) => {
    const { signature } = values.node(slot);
    return signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
  };
  const share = (x: number): number => Math.round(x * 100) / 100;
  return {
    readings: observed.map(({ slot, plusMinus }, i) => {
      const residual = residuals[i] as number;
      const off = shown(slot)?.amount(residual * plusMinus);
      return { id: valueId(slot, world), residual: share(residual), ...(off && { off }), agrees: Math.abs(residual) <= DISAGREES };
    }),
    adjusted: parameters.flatMap((slots, i) => {
      const { chosen } = values.node(slots[0] as number);
      if (!isNews(u[i] as number, left[i] as number) || chosen === undefined || chosen === 'computed' || !isDefault(chosen.rank)) return [];
      const unit = shown(slots[0] as number);
      const now = unit?.amount(chosen.value + (u[i] as number) * chosen.plusMinus, (left[i] as number) * chosen.plusMinus);
      const was = unit?.amount(chosen.value, chosen.plusMinus);
      return now && was ? [{ ids: slots.map((slot) => valueId(slot, world)), was, now, left: share(left[i] as number) }] : [];
    }),
  };
}

function faultOf([one, other]: readonly [Observed, Observed], world: VehicleWorld, system: System): RequestFault {
  const name = ({ slot, value, plusMinus }: Observed): string => {
    const { signature, subjects, name: plain } = world.values.node(slot);
    const of = nameSubjects(subjects, world);
    const unit = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
    return `${signature?.title ?? plain}${of === '' ? '' : ` of ${of}`}, ${unit?.text(value)} ± ${unit?.text(plusMinus)}`;
  };
  return {
    pointer: '/vehicle/measured',
    code: 'READINGS_CONTRADICT',
    message: `two readings cannot both be true of one vehicle: ${name(one)}; and ${name(other)}`,
    help: 'take both again, or widen the tolerance of the one you are less sure of',
  };
}
