/**
 * The work that findings ask for, with its amounts. An amount is asked for at the end of its tolerance at which the
 * work is surely enough, so that doing what is stated clears the finding; the nominal amount stands beside it.
 */
import type { Band } from '../engine/band.ts';
import { slotOf } from '../engine/bind.ts';
import { frameOf } from '../engine/frame.ts';
import { EQUAL_WITHIN, type Frame, number, truth, unlessEmpty } from '../engine/interpret.ts';
import { resolve } from '../engine/layout.ts';
import type { Argument, Num, Scope, Work, WorkCall, WorkParameter } from '../engine/tree.ts';
import { findUnit, fromUnit, roundFor, toUnit, type Unit } from '../units/index.ts';
import { signatureOf, type VehicleWorld } from '../vehicle/world.ts';
import { exactness, isTruth } from './effects.ts';
import type { Towards } from './show.ts';

export interface AskedAmount {
  readonly parameter: WorkParameter;
  /** SI; enough at the worse end of the tolerances, rounded up to what can be measured. */
  readonly value: number;
  /** SI; what the nominal values ask for. */
  readonly nominal: number;
  /** SI; what may be enough, at the better end of the tolerances. */
  readonly least: number;
}

export interface AskedWork {
  /** Work and subjects: the same work on the same things is done once. */
  readonly key: string;
  readonly work: Work;
  /** By parameter, in the order the work takes them. */
  readonly subjects: readonly number[];
  readonly amounts: ReadonlyMap<string, AskedAmount>;
}

/**
 * Reads a call of a work in the scope it stands in. Amounts that cannot be known leave the work out, and so does what
 * would bring a value beyond its range, or the vehicle beyond `as_long_as`: they say how far work goes. Where it may be enough within its range, it is
 * done as far as it goes; what then remains open is told when the vehicle is checked again.
 */
export function askWork(
  call: WorkCall,
  scope: Scope,
  binders: readonly number[],
  world: VehicleWorld,
  parameters?: ReadonlyMap<string, number>,
): AskedWork | undefined {
  const asked = readCall(call, scope, binders, world, parameters);
  return asked && (exceeds(asked, world) ? asFarAsItGoes(asked, world) : asked);
}

/** Amounts between those of the better end and of the worse one, the furthest that stay within what the work may do. */
function asFarAsItGoes(asked: AskedWork, world: VehicleWorld): AskedWork | undefined {
  const part = (share: number): AskedWork => ({
    ...asked,
    amounts: new Map(
      [...asked.amounts].map(([name, amount]) => {
        const { parameter, value } = amount;
        // Where nothing may be enough, nothing is the least.
        const least = Math.min(value, Math.max(amount.least, 0));
        return [name, { ...amount, value: enough(least + share * (value - least), parameter, 'down') }];
      }),
    ),
  });
  if (exceeds(part(0), world)) return undefined;
  let [within, beyond] = [0, 1];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (within + beyond) / 2;
    if (exceeds(part(middle), world)) beyond = middle;
    else within = middle;
  }
  const furthest = part(within);
  return isNothing(asked.work, furthest.amounts, world) ? undefined : furthest;
}

/** Finer than any step of an amount. */
const HALVINGS = 24;

/** Whether it is known what the work would have to do, and that no work goes that far. */
export function isBeyondReach(call: WorkCall, scope: Scope, binders: readonly number[], world: VehicleWorld): boolean {
  const asked = readCall(call, scope, binders, world);
  return asked !== undefined && exceeds(asked, world) && asFarAsItGoes(asked, world) === undefined;
}

/** Whether it is known that no work goes as far: beyond the range of what it changes, or what it must leave of this vehicle. */
export function exceeds({ work, subjects, amounts }: AskedWork, world: VehicleWorld): boolean {
  const frame = frameOf(work.scope, subjects, world, { parameters: new Map([...amounts].map(([name, { value }]) => [name, value])) });
  const { asLongAs } = work;
  if (asLongAs && unlessEmpty(() => truth(asLongAs, frame)) === 0) return true;
  return work.effects.some(({ how, target, value }) => {
    const range = signatureOf(world.library, target.name)?.range;
    if (!range || 'is' in value || isTruth(value)) return false;
    const by = unlessEmpty(() => number(value, frame));
    const after = how === 'set' ? by : by + world.values.read(slotOf(target, subjects, world));
    const [least, most] = [range.atLeast ?? Number.NEGATIVE_INFINITY, range.atMost ?? Number.POSITIVE_INFINITY];
    return after > most + EQUAL_WITHIN * Math.abs(most) || after < least - EQUAL_WITHIN * Math.abs(least);
  });
}

function readCall(
  call: WorkCall,
  scope: Scope,
  binders: readonly number[],
  world: VehicleWorld,
  parameters?: ReadonlyMap<string, number>,
): AskedWork | undefined {
  const work = world.library.works.get(call.work);
  if (!work) return undefined;
  const frame = frameOf(scope, binders, world, parameters ? { parameters } : {});
  const subjects: number[] = [];
  const amounts = new Map<string, AskedAmount>();
  for (const parameter of work.takes) {
    const argument = call.arguments.get(parameter.name);
    if (argument?.is === 'subject') subjects.push(resolve(argument.of, binders, world));
    else if (argument?.is === 'number')
      amounts.set(parameter.name, amountOf(argument, parameter, spareOf(work, parameter, world), scope, binders, frame, world));
  }
  const unknown = [...amounts.values()].some(({ value }) => !Number.isFinite(value));
  return unknown || isNothing(work, amounts, world) ? undefined : { key: `${work.id}|${subjects.join(',')}`, work, subjects, amounts };
}

/** Work that only adds, and has nothing to add; less than nothing counts where the value it goes to may be less than nothing. */
const isNothing = ({ effects }: Work, amounts: ReadonlyMap<string, AskedAmount>, { library }: VehicleWorld): boolean =>
  amounts.size > 0 &&
  effects.length > 0 &&
  effects.every(({ how }) => how === 'add') &&
  [...amounts].every(([name, { value: amount }]) => {
    const either = effects.some(
      ({ target, value }) =>
        'op' in value &&
        value.op === 'parameter' &&
        value.name === name &&
        (signatureOf(library, target.name)?.range?.atLeast ?? Number.NEGATIVE_INFINITY) < 0,
    );
    return either ? amount === 0 : amount <= 0;
  });

/** How much further an amount goes because what is set to it comes out only so exactly. */
const spareOf = ({ effects }: Work, { name }: WorkParameter, world: VehicleWorld): number =>
  Math.max(
    0,
    ...effects.map((effect) => {
      const { how, value } = effect;
      return how === 'set' && 'op' in value && value.op === 'parameter' && value.name === name ? exactness(effect, world) : 0;
    }),
  );

function amountOf(
  { of }: Extract<Argument, { is: 'number' }>,
  parameter: WorkParameter,
  spare: number,
  scope: Scope,
  binders: readonly number[],
  frame: Frame,
  world: VehicleWorld,
): AskedAmount {
  const rests = scope.leaves.map((leaf) => slotOf(leaf, binders, world));
  const end = parameter.merge === 'least' ? 'low' : 'high';
  const other = end === 'low' ? 'high' : 'low';
  // One search has both ends.
  const bands = new Map<Num, Band>();
  const bandOf = (node: Num): Band => {
    const band = bands.get(node) ?? world.bands.search(rests, () => unlessEmpty(() => number(node, frame)));
    bands.set(node, band);
    return band;
  };
  const at = (which: 'low' | 'high'): number => endOf(of, which, (node) => bandOf(node)[which]);
  const worst = at(end);
  const amount = end === 'low' ? worst - spare : worst + spare;
  const nominal = unlessEmpty(() => number(of, frame));
  if (parameter.merge === 'exact') {
    const met = enough(nominal, parameter, 'nearest');
    return { parameter, value: met, nominal, least: met };
  }
  const least = at(other);
  return {
    parameter,
    value: enough(amount, parameter, end === 'low' ? 'down' : 'up'),
    nominal,
    least: enough(Number.isFinite(least) ? least : nominal, parameter, 'up'),
  };
}

/** The end of a number's band. A greatest or least of several is taken end by end: a search across its kink can miss it. */
function endOf(node: Num, end: 'low' | 'high', search: (node: Num) => number): number {
  if (node.op === 'local') return endOf(node.a, end, search);
  if (node.op === 'max' || node.op === 'min') return Math[node.op](...node.args.map((arg) => endOf(arg, end, search)));
  return search(node);
}

const WHOLE = { up: Math.ceil, down: Math.floor, nearest: Math.round } as const;

/** Rounded to what the work comes in, or to what can be measured, towards enough. */
function enough(amount: number, { type, unit, step }: WorkParameter, towards: Towards): number {
  if (!Number.isFinite(amount) || type.is !== 'number') return amount;
  const shown = findUnit(unit ?? '1', type.dimension);
  if (!shown) return amount;
  const steps = step === undefined ? undefined : roundFor(amount / step, ONE, 'nearest');
  const whole = steps === undefined ? amount : WHOLE[towards](steps) * (step as number);
  return fromUnit(roundFor(toUnit(whole, shown), shown, towards), shown);
}

const ONE = findUnit('1') as Unit;

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
    case 'exact':
      return a;
  }
}

export const sumAmounts = (a: AskedAmount, b: AskedAmount): AskedAmount => ({
  ...a,
  value: a.value + b.value,
  nominal: a.nominal + b.nominal,
  least: a.least + b.least,
});
