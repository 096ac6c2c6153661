/**
 * The work that findings ask for, with its amounts. An amount is asked for at the end of its tolerance at which the
 * work is surely enough, so that doing what is stated clears the finding; the nominal amount stands beside it.
 */
import { searchBand } from '../engine/band.ts';
import { slotOf } from '../engine/bind.ts';
import { frameOf } from '../engine/frame.ts';
import { type Frame, number } from '../engine/interpret.ts';
import { resolve } from '../engine/layout.ts';
import type { Argument, Scope, Work, WorkCall, WorkParameter } from '../engine/tree.ts';
import { findUnit, fromUnit, roundFor, toUnit } from '../units/index.ts';
import type { VehicleWorld } from '../vehicle/world.ts';

export interface AskedAmount {
  readonly parameter: WorkParameter;
  /** SI; enough at the worse end of the tolerances, rounded up to what can be measured. */
  readonly value: number;
  /** SI; what the nominal values ask for. */
  readonly nominal: number;
}

export interface AskedWork {
  /** Work and subjects: the same work on the same things is done once. */
  readonly key: string;
  readonly work: Work;
  /** By parameter, in the order the work takes them. */
  readonly subjects: readonly number[];
  readonly amounts: ReadonlyMap<string, AskedAmount>;
}

/** Reads a call of a work in the scope it stands in. Amounts that cannot be known leave the work out. */
export function askWork(call: WorkCall, scope: Scope, binders: readonly number[], world: VehicleWorld, parameters?: ReadonlyMap<string, number>): AskedWork | undefined {
  const work = world.library.works.get(call.work);
  if (!work) return undefined;
  const frame = frameOf(scope, binders, world, parameters ? { parameters } : {});
  const subjects: number[] = [];
  const amounts = new Map<string, AskedAmount>();
  for (const parameter of work.takes) {
    const argument = call.arguments.get(parameter.name);
    if (argument?.is === 'subject') subjects.push(resolve(argument.of, binders, world));
    else if (argument?.is === 'number') amounts.set(parameter.name, amountOf(argument, parameter, scope, binders, frame, world));
  }
  const unknown = [...amounts.values()].some(({ value }) => !Number.isFinite(value));
  return unknown ? undefined : { key: `${work.id}|${subjects.join(',')}`, work, subjects, amounts };
}

function amountOf(
  { of }: Extract<Argument, { is: 'number' }>,
  parameter: WorkParameter,
  scope: Scope,
  binders: readonly number[],
  frame: Frame,
  world: VehicleWorld,
): AskedAmount {
  const rests = scope.leaves.map((leaf) => slotOf(leaf, binders, world));
  const band = searchBand(world.values, rests, () => number(of, frame));
  const towards = parameter.merge === 'least' ? 'down' : 'up';
  const unit = findUnit(parameter.unit ?? '1', of.dimension);
  const end = parameter.merge === 'least' ? band.low : band.high;
  const value = unit && Number.isFinite(end) ? fromUnit(roundFor(toUnit(end, unit), unit, towards), unit) : end;
  return { parameter, value, nominal: band.nominal };
}

/** The same work asked for twice: amounts merge as each parameter says. */
export function mergeAsked(a: AskedWork, b: AskedWork): AskedWork {
  const amounts = new Map([...a.amounts].map(([name, amount]) => [name, mergeAmounts(amount, b.amounts.get(name) ?? amount)]));
  return { ...a, amounts };
}

function mergeAmounts(a: AskedAmount, b: AskedAmount): AskedAmount {
  switch (a.parameter.merge) {
    case 'sum':
      return sumAmounts(a, b);
    case 'greatest':
      return a.value >= b.value ? a : b;
    case 'least':
      return a.value <= b.value ? a : b;
  }
}

export const sumAmounts = (a: AskedAmount, b: AskedAmount): AskedAmount => ({ ...a, value: a.value + b.value, nominal: a.nominal + b.nominal });
