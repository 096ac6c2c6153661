/**
 * Which cable and fuse each electric part has, or asks for: from its current, its cable's length and cross-section where
 * they are stated. What is not stated is asked for.
 */

import { bornBy, type CableSize, cableFor, FUSES, fuseFor, MOST_DROP, voltageDrop } from '../../models/electrics/cable.ts';
import { findUnit } from '../../units/index.ts';
import type { Part } from '../../vehicle/assembly.ts';
import { attributesOf, fittingFor, isKind } from '../../vehicle/library-view.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import type { Amount } from '../answer.ts';
import { type System, show } from '../show.ts';
import { toleranceOf } from '../values-out.ts';

export interface Circuit {
  readonly part: string;
  readonly name: string;
  /** `fits`: the cable bears the fuse, and the fuse the current. `asked`: something is not stated. `maker`: the maker's sheet says. */
  readonly state: 'fits' | 'planned' | 'conflict' | 'asked' | 'maker';
  readonly current: Amount | null;
  readonly cable: { readonly length: Amount | null; readonly area: Amount | null };
  /** The thinnest that does, by the table; without a length, for heat alone. */
  readonly needs: { readonly area: Amount; readonly gauge: string; readonly for: 'heat' | 'heat and drop' } | null;
  readonly fuse: { readonly fitted: Amount | null; readonly choose: Amount | null; readonly at_most: Amount | null };
  readonly drop: Amount | null;
  readonly says: string;
  /** Attributes of the part that would tell more. */
  readonly asked: readonly string[];
}

export interface WiringMap {
  readonly rule: string;
  readonly source: string;
  readonly circuits: readonly Circuit[];
}

const RULE =
  'The fuse sits at the tap and protects the cable: no larger than what the cable bears in an engine bay, and loaded to 80 % at most. The cable loses at most 3 % of the voltage, there and back.';
const SOURCE =
  'ABYC E-11, copper for 105 °C inside engine spaces, and its drop of voltage (second-hand); ISO 10133, protection of conductors (from memory); 80 % of a fuse: common practice. They are rules for boats; the vehicle maker’s and local rules come first';
const ATTRIBUTES = ['current', 'cable_length', 'cable_area', 'fuse_rating', 'works_for_minutes'] as const;
type Attribute = (typeof ATTRIBUTES)[number];

/** `instead`: planned parts by their group that another one is put on in the place of; nothing is known of that one. */
export function wiringOf(world: VehicleWorld, instead: ReadonlyMap<string, unknown>, system: System): WiringMap {
  const seen = new Set<string>();
  const wired = world.present.filter((part) => isWired(part, world) && !seen.has(part.group) && seen.add(part.group));
  return {
    rule: RULE,
    source: SOURCE,
    circuits: wired.map((part) => (instead.has(part.group) ? another(part) : circuitOf(part, world, system))),
  };
}

const another = ({ group, name }: Part): Circuit => ({
  part: group,
  name: `in the place of ${name}`,
  state: 'asked',
  current: null,
  cable: { length: null, area: null },
  needs: null,
  fuse: { fitted: null, choose: null, at_most: null },
  drop: null,
  says: 'another is put on in its place: what that one draws is not stated, so no cable or fuse can be chosen',
  asked: ['current', 'cable_length', 'cable_area'],
});

const isWired = ({ kind, state }: Part, { library }: VehicleWorld): boolean =>
  isKind(library, kind, 'electric_accessory') ||
  (state === 'planned' &&
    (fittingFor(library, kind)?.calls ?? []).some(({ work }) => library.works.get(work)?.planning.changes.includes('wiring')));

/** What is known of a circuit, SI; undefined where it is not. */
type Known = Readonly<Partial<Record<Attribute, { readonly value: number; readonly plusMinus: number }>>>;

function knownOf(part: Part, world: VehicleWorld): Known {
  const attributes = attributesOf(world.library, part.kind);
  return Object.fromEntries(
    ATTRIBUTES.flatMap((name) => {
      const found = attributes.get(name);
      if (!found) return [];
      const slot = world.values.slot(found.leaf, [part.subject]);
      const value = world.values.read(slot);
      const band = toleranceOf(slot, world);
      return Number.isNaN(value) ? [] : [[name, { value, plusMinus: Number.isFinite(band) ? band : 0 }] as const];
    }),
  );
}

function circuitOf(part: Part, world: VehicleWorld, system: System): Circuit {
  const known = knownOf(part, world);
  const volts = world.values.read(world.values.slot('supply_voltage', []));
  const amount = (symbol: string, given: { value: number; plusMinus?: number } | undefined): Amount | null =>
    given === undefined ? null : shownIn(symbol, system).amount(given.value, given.plusMinus);
  const told = judge(known, volts);
  const area = told.needs && (system === 'us' ? told.needs.area : told.needs.metric);
  return {
    part: part.group,
    name: part.name,
    state: told.state,
    current: amount('A', known.current),
    cable: { length: amount('m', known.cable_length), area: amount('mm^2', known.cable_area) },
    needs:
      told.needs && area !== undefined
        ? {
            area: amount('mm^2', { value: area }) as Amount,
            gauge: told.needs.gauge,
            for: known.cable_length === undefined ? 'heat' : 'heat and drop',
          }
        : null,
    fuse: {
      fitted: amount('A', known.fuse_rating),
      choose: amount('A', told.choose === undefined ? undefined : { value: told.choose }),
      at_most: amount('A', told.atMost === undefined ? undefined : { value: told.atMost }),
    },
    drop: told.drop === undefined ? null : { value: Math.round(told.drop * 1000) / 10, unit: '%' },
    says: told.says,
    asked: told.asked,
  };
}

/** Cross-sections are sold in square millimetres beside their gauge, wherever. */
const shownIn = (symbol: string, system: System) =>
  show(symbol, (findUnit(symbol) as NonNullable<ReturnType<typeof findUnit>>).dimension, symbol === 'mm^2' ? 'metric' : system);

interface Told {
  readonly state: Circuit['state'];
  readonly says: string;
  readonly asked: readonly Attribute[];
  readonly needs?: CableSize | undefined;
  readonly choose?: number | undefined;
  readonly atMost?: number | undefined;
  readonly drop?: number | undefined;
}

/** At the worse end of the tolerances. */
function judge(known: Known, volts: number): Told {
  const current = worst(known.current, 1);
  const bears = known.cable_area && bornBy(worst(known.cable_area, -1) as number);
  const fuse = known.fuse_rating?.value;
  const missing = ATTRIBUTES.slice(0, 3).filter((name) => known[name] === undefined);
  const minutes = known.works_for_minutes?.value === 1;
  if (!minutes && fuse !== undefined && bears !== undefined && fuse > bears)
    return {
      state: 'conflict',
      says: `the fuse lets ${round(fuse)} A through a cable that bears ${round(bears)} A: the cable burns before the fuse goes`,
      asked: missing,
      atMost: FUSES.findLast((rating) => rating <= bears),
    };
  if (current === undefined)
    return {
      state: 'asked',
      says: 'what it draws is not stated: no cable or fuse can be chosen',
      asked: missing,
      ...(bears !== undefined && { atMost: FUSES.findLast((rating) => rating <= bears) }),
    };
  if (minutes)
    return {
      state: 'maker',
      says: 'it works for minutes: the table is for lasting current; cable, isolator and breaker are those of its maker’s sheet, the breaker no larger than the cable is stated for',
      asked:
        known.cable_area === undefined || fuse === undefined
          ? (['cable_area', 'fuse_rating'] as const).filter((name) => known[name] === undefined)
          : [],
    };
  return known.cable_area ? judgeFitted(known, current, bears, volts, missing) : choose(known, current, volts, missing);
}

function choose({ cable_length: length, fuse_rating: given }: Known, current: number, volts: number, missing: readonly Attribute[]): Told {
  const fuse = given?.value ?? fuseFor(current);
  const needs = fuse === undefined ? undefined : cableFor(fuse, current, worst(length, 1), MOST_DROP * volts);
  if (fuse === undefined || !needs)
    return { state: 'maker', says: 'it draws more than the table reaches: cable and fuse are those of its maker’s sheet', asked: missing };
  if (current > fuse) return tired(fuse, current, missing);
  const drop = length && voltageDrop(current, worst(length, 1) as number, needs.area) / volts;
  return {
    state: length ? 'planned' : 'asked',
    says: length
      ? 'cable and fuse as chosen, fuse at the tap'
      : 'chosen for heat alone: over a long way it loses too much, so the length is asked for before it is bought',
    asked: length ? [] : ['cable_length'],
    needs,
    choose: fuse,
    atMost: FUSES.findLast((rating) => rating <= needs.bears),
    drop,
  };
}

const tired = (fuse: number, current: number, asked: readonly Attribute[]): Told => ({
  state: 'conflict',
  says: `it draws up to ${round(current)} A through a fuse of ${round(fuse)} A: the fuse goes in use`,
  asked,
});

function judgeFitted(
  { cable_length: length, cable_area: area, fuse_rating: fitted }: Known,
  current: number,
  bears: number | undefined,
  volts: number,
  missing: readonly Attribute[],
): Told {
  const atMost = bears === undefined ? undefined : FUSES.findLast((rating) => rating <= bears);
  const fuse = fitted?.value ?? fuseFor(current);
  const drop = length && area && voltageDrop(current, worst(length, 1) as number, worst(area, -1) as number) / volts;
  const needs = fuse === undefined ? undefined : cableFor(fuse, current, worst(length, 1), MOST_DROP * volts);
  const rest = { asked: missing, needs, atMost, drop };
  if (bears === undefined || fuse === undefined || fuse > bears)
    return {
      ...rest,
      state: 'conflict',
      says: `its cable bears ${bears === undefined ? 'less than the table begins with' : `${round(bears)} A`}: no fuse protects it and lasts at ${round(current)} A`,
    };
  if (fitted && current > fitted.value) return { ...tired(fuse, current, missing), ...rest };
  if (drop !== undefined && drop > MOST_DROP)
    return {
      ...rest,
      state: 'conflict',
      choose: fuse,
      says: `over its length ${round(drop * 100)} % of the voltage are lost, where 3 % are borne`,
    };
  if (!length)
    return { ...rest, state: 'asked', choose: fuse, says: 'cable and fuse are good for heat; what the length loses is not known' };
  return {
    ...rest,
    state: fitted ? 'fits' : 'planned',
    choose: fuse,
    says: fitted ? 'cable and fuse fit' : 'the cable fits; fuse as chosen, at the tap',
  };
}

const worst = (given: Known[Attribute], sign: 1 | -1): number | undefined => given && given.value + sign * given.plusMinus;
const round = (x: number): number => Math.round(x * 10) / 10;
