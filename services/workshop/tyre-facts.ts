/**
 * All that is known of a tyre from its designation: dimensions with what its standard lets them vary by, rims, ratings, load at
 * pressure; with a rim, a load, a pressure or readings where they are given. Pure; what a size does not say is told, not guessed.
 */
import type { Library } from '../engine/tree.ts';
import type { Outcome } from '../models/result.ts';
import {
  LEAST_OFF_ROAD_PRESSURE,
  loadedRadius,
  OFF_ROAD_PRESSURES,
  offRoadPressure,
  type SectionShape,
  STIFFNESS_SPREAD,
  wornDiameter,
} from '../models/tyres/condition.ts';
import type { Designation } from '../models/tyres/designation.ts';
import {
  approvedRims,
  type Dimensioned,
  largestEnvelope,
  measuringRim,
  overallDiameter,
  rimDiameter,
  rollingCircumference,
  sectionWidth,
} from '../models/tyres/dimensions.ts';
import {
  deratedOnTruck,
  greatestPressure,
  isTakenForPassenger,
  LEAST_ROAD_PRESSURE,
  loadAtPressure,
  loadOfIndex,
  loadSpread,
  pressureForLoad,
  type Rating,
  ratedPressure,
  speedOfSymbol,
} from '../models/tyres/load.ts';
import type { Amount, AnswerBasis } from './answer.ts';
import { basisOf } from './findings.ts';
import { type System, shownAs } from './show.ts';

/** SI. */
export interface TyreAsked {
  /** Width of the rim it is on, m. */
  readonly rimWidth?: number;
  /** What it carries, kg, and the cold pressure it is run at, Pa. */
  readonly load?: number;
  readonly pressure?: number;
  /** As read on the tyre, m: these stand for what the size says. */
  readonly measuredDiameter?: number;
  readonly measuredWidth?: number;
  /** Tread when new and now, m. */
  readonly newTread?: number;
  readonly tread?: number;
}

/** A number with what the standard lets it lie between. */
export interface Spread {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly unit: string;
}

export interface LoadStep {
  readonly pressure: Amount;
  /** By the law: where tables of such sizes only lie above it, the lower load, without a tolerance. */
  readonly load: Amount;
  /** The most that tables of such sizes print at that pressure, where that is more. */
  readonly tables_up_to?: Amount;
  /** What of it may be counted on a truck: a passenger tyre's divided by 1.10. */
  readonly on_truck: Amount;
}

export interface TyreFacts {
  readonly designation: string;
  readonly form: string;
  readonly made_for: string;
  readonly construction: string;
  readonly rim_diameter: Amount | null;
  readonly dimensions: {
    readonly measured: boolean;
    readonly overall_diameter: Spread | null;
    readonly section_width: Spread | null;
    readonly on_rim: Amount | null;
    readonly sidewall_height: Amount | null;
    /** The largest a tyre of the size may be, with the deepest treads. */
    readonly largest: { readonly overall_diameter: Amount; readonly section_width: Amount } | null;
    readonly worn_diameter: Amount | null;
    readonly loaded_radius: Spread | null;
    readonly rolling_circumference: Amount | null;
    readonly revolutions: Amount | null;
  };
  readonly rims: { readonly measuring: Amount; readonly narrowest: Spread; readonly widest: Spread } | null;
  readonly rating: {
    readonly load_index: number | null;
    readonly load_index_dual: number | null;
    readonly load_range: string | null;
    readonly extra_load: boolean;
    readonly speed_symbol: string | null;
    readonly speed: Amount | null;
    readonly load: Amount | null;
    readonly load_dual: Amount | null;
    readonly on_truck: Amount | null;
    readonly pressure: Amount | null;
    readonly greatest_pressure: { readonly least: Amount; readonly most: Amount } | null;
  };
  readonly loads: readonly LoadStep[];
  /** On which side of load tables the loads and pressures told here lie; null where none are told. */
  readonly safe_side: string | null;
  /** The road pressure that the given load asks for. */
  readonly pressure_needed: Amount | null;
  /** What it carries on a truck at the given pressure. */
  readonly carries: Amount | null;
  readonly off_road: readonly { readonly ground: string; readonly pressure: Amount; readonly at_most: Amount }[];
  /** What the designation does not say, and why it matters. */
  readonly not_said: readonly string[];
  readonly sources: readonly AnswerBasis[];
  readonly cautions: readonly string[];
}

export function tyreFacts(tyre: Designation, asked: TyreAsked, library: Library, system: System): TyreFacts {
  const facts = new Facts(tyre, asked, system);
  const rating = facts.rating();
  const dimensions = facts.dimensions();
  const rims = facts.rims();
  const loads = facts.loads();
  const pressure = facts.pressureNeeded();
  const carries = facts.carries();
  const offRoad = facts.offRoad();
  return {
    designation: tyre.text,
    form: tyre.form,
    made_for: tyre.serviceUnclear ? 'light-truck or commercial' : tyre.service,
    construction: tyre.construction,
    rim_diameter: tyre.rim === undefined ? null : { value: tyre.rim, unit: 'in' },
    dimensions,
    rims,
    rating,
    loads,
    safe_side: loads.length > 0 ? safeSide(tyre) : null,
    pressure_needed: pressure,
    carries,
    off_road: offRoad,
    not_said: facts.notSaid,
    sources: basisOf(sourcesFor(tyre), library, system),
    cautions: ['wheels', 'loads'].map((id) => library.cautions.get(id) ?? id),
  };
}

/** What a tyre measures, SI, as read where it was read, else by its size. */
export function tyreSizes(tyre: Designation, { rimWidth, measuredDiameter, measuredWidth }: TyreAsked) {
  const measuring = measuringRim(tyre);
  const rim = rimWidth ?? (measuring.ok ? measuring.value : undefined);
  const exact = (value: number): Outcome<Dimensioned> => ({ ok: true, value: { nominal: value, least: value, most: value } });
  return {
    rim,
    diameter: measuredDiameter === undefined ? overallDiameter(tyre) : exact(measuredDiameter),
    width: measuredWidth === undefined ? sectionWidth(tyre, rim) : exact(measuredWidth),
  };
}

/** The load it is rated for and its pressure, SI. */
export function tyreRating(tyre: Designation): Outcome<Rating> {
  if (tyre.loadIndex === undefined) return { ok: false, reason: 'no load index stands behind the size, so what it carries is not known' };
  const [load, pressure] = [loadOfIndex(tyre.loadIndex), ratedPressure(tyre)];
  if (!load.ok) return load;
  return pressure.ok ? { ok: true, value: { load: load.value, pressure: pressure.value } } : pressure;
}

export const onTruck = (tyre: Designation, load: number): number => (tyre.service === 'passenger' ? deratedOnTruck(load) : load);

/** Whether tables of such sizes were only ever found above the law. */
const isOneSided = ({ form, service }: Designation): boolean => form === 'flotation' || form === 'plain' || service === 'light-truck';

function safeSide(tyre: Designation): string {
  if (!isOneSided(tyre))
    return 'loads below the rated pressure are those of the power law, give or take the tolerance told: count on the lower end, and where it matters read the maker’s table';
  const most = tyre.form === 'flotation' || tyre.form === 'plain' ? 18 : 5;
  return `loads below the rated pressure are the lower ones: tables of such sizes print up to ${most} % more, and none that was read prints less. The pressure needed goes by the lower load, so it is enough; the maker’s table may allow less`;
}

const LOAD_STEP = 25_000;
/** Tyres that the power law is told of: a table below 180 kPa would ask to be driven by. */
const LEAST_TOLD = 175_000;

class Facts {
  readonly notSaid: string[] = [];
  readonly #tyre: Designation;
  readonly #asked: TyreAsked;
  readonly #show: ReturnType<typeof shownAs>;

  constructor(tyre: Designation, asked: TyreAsked, system: System) {
    this.#tyre = tyre;
    this.#asked = asked;
    this.#show = shownAs(system);
  }

  /** The value, or null with why there is none told once. */
  #or<T>(outcome: Outcome<T>): T | undefined {
    if (outcome.ok) return outcome.value;
    if (!this.notSaid.includes(outcome.reason)) this.notSaid.push(outcome.reason);
    return undefined;
  }

  #spread(unit: 'mm' | 'in', { nominal, least, most }: Dimensioned): Spread {
    const { amount, rounded, symbol } = this.#show(unit);
    return { value: amount(nominal).value, least: rounded(least, 'down'), most: rounded(most, 'up'), unit: symbol };
  }

  dimensions(): TyreFacts['dimensions'] {
    const tyre = this.#tyre;
    const { rim, diameter, width } = tyreSizes(tyre, this.#asked);
    const [d, w] = [this.#or(diameter), this.#or(width)];
    const largest = largestEnvelope(tyre, rim);
    const { amount } = this.#show('mm');
    const loaded = d && w ? this.#loadedRadius(d, w) : undefined;
    return {
      measured: this.#asked.measuredDiameter !== undefined || this.#asked.measuredWidth !== undefined,
      overall_diameter: d ? this.#spread('mm', d) : null,
      section_width: w ? this.#spread('mm', w) : null,
      on_rim: rim === undefined ? null : this.#show('in').amount(rim),
      sidewall_height: d && tyre.rim !== undefined ? amount((d.nominal - rimDiameter(tyre.rim)) / 2) : null,
      largest: largest.ok ? { overall_diameter: amount(largest.value.diameter), section_width: amount(largest.value.width) } : null,
      worn_diameter: d ? this.#worn(d.nominal) : null,
      loaded_radius: loaded ? this.#spread('mm', loaded) : null,
      rolling_circumference: d ? amount(rollingCircumference(d.nominal)) : null,
      revolutions: d ? this.#show.turns(rollingCircumference(d.nominal)) : null,
    };
  }

  #worn(diameter: number): Amount | null {
    const { newTread, tread } = this.#asked;
    if (newTread === undefined || tread === undefined) return null;
    const worn = this.#or(wornDiameter(diameter, newTread, tread));
    return worn === undefined ? null : this.#show('mm').amount(worn);
  }

  /** At the load and pressure given; neither is assumed. */
  #loadedRadius(d: Dimensioned, w: Dimensioned): Dimensioned | undefined {
    const { load, pressure } = this.#asked;
    const { rim } = this.#tyre;
    if (load === undefined || pressure === undefined || rim === undefined) return undefined;
    const shape = (diameter: number): SectionShape => {
      const bead = rimDiameter(rim);
      return { width: w.nominal, rim: bead, aspect: (diameter - bead) / 2 / w.nominal };
    };
    const at = (diameter: number) => this.#or(loadedRadius(diameter, shape(diameter), pressure, load));
    const nominal = at(d.nominal);
    if (nominal === undefined) return undefined;
    const given = STIFFNESS_SPREAD * (d.nominal / 2 - nominal);
    return { nominal, least: nominal - (d.nominal - d.least) / 2 - given, most: nominal + (d.most - d.nominal) / 2 + given };
  }

  rims(): TyreFacts['rims'] {
    const [measuring, approved] = [this.#or(measuringRim(this.#tyre)), this.#or(approvedRims(this.#tyre))];
    if (measuring === undefined || approved === undefined) return null;
    const { narrowest, widest } = approved;
    return { measuring: this.#show('in').amount(measuring), narrowest: this.#spread('in', narrowest), widest: this.#spread('in', widest) };
  }

  rating(): TyreFacts['rating'] {
    const tyre = this.#tyre;
    const [kg, kPa] = [this.#show('kg'), this.#show('kPa')];
    const loadOf = (index: number | undefined) => (index === undefined ? undefined : this.#or(loadOfIndex(index)));
    const [load, dual] = [loadOf(tyre.loadIndex), loadOf(tyre.loadIndexDual)];
    const speed = tyre.speedSymbol === undefined ? undefined : this.#or(speedOfSymbol(tyre.speedSymbol));
    const [pressure, greatest] = [this.#or(ratedPressure(tyre)), this.#or(greatestPressure(tyre))];
    if (isTakenForPassenger(tyre))
      this.notSaid.push(
        'neither P, LT nor C stands with the size: it is taken for a passenger tyre, and LT tyres of it carry more at more pressure',
      );
    if (tyre.loadIndex === undefined) this.notSaid.push('no load index stands behind the size, so what it carries is not known');
    if (tyre.speedSymbol === undefined)
      this.notSaid.push('no speed symbol stands behind the size, so how fast it may be driven is not known');
    return {
      load_index: tyre.loadIndex ?? null,
      load_index_dual: tyre.loadIndexDual ?? null,
      load_range: tyre.loadRange ?? null,
      extra_load: tyre.extraLoad,
      speed_symbol: tyre.speedSymbol ?? null,
      speed: speed === undefined ? null : this.#show('km/h').amount(speed),
      load: load === undefined ? null : kg.amount(load),
      load_dual: dual === undefined ? null : kg.amount(dual),
      on_truck: load === undefined ? null : kg.amount(onTruck(tyre, load), 0, onTruck(tyre, load) < load ? 'down' : 'nearest'),
      pressure: pressure === undefined ? null : kPa.amount(pressure),
      greatest_pressure: greatest ? { least: kPa.amount(greatest.least), most: kPa.amount(greatest.most) } : null,
    };
  }

  loads(): LoadStep[] {
    const rating = tyreRating(this.#tyre);
    if (!rating.ok) return [];
    const [kg, kPa] = [this.#show('kg'), this.#show('kPa')];
    const steps = Math.floor((rating.value.pressure - LEAST_TOLD) / LOAD_STEP - 1e-9);
    const pressures = [...Array(steps + 1).keys()].map((i) => LEAST_TOLD + i * LOAD_STEP);
    return [...pressures, rating.value.pressure].flatMap((pressure) => {
      const load = loadAtPressure(rating.value, pressure, this.#tyre);
      if (!load.ok) return [];
      const { over } = loadSpread(this.#tyre, rating.value, pressure);
      const most = load.value * (1 + over);
      return [
        {
          pressure: kPa.amount(pressure),
          load: this.#counted(load.value, rating.value, pressure),
          ...(isOneSided(this.#tyre) && over > 0 && { tables_up_to: kg.amount(Math.min(most, rating.value.load), 0, 'down') }),
          on_truck: this.#counted(onTruck(this.#tyre, load.value), rating.value, pressure),
        },
      ];
    });
  }

  /** The rating itself is told as the index has it; less than it is rounded to the safe side, with a tolerance only where it may be less. */
  #counted(load: number, rating: Rating, pressure: number): Amount {
    const { under } = loadSpread(this.#tyre, rating, pressure);
    return this.#show('kg').amount(load, under * load, load === rating.load ? 'nearest' : 'down');
  }

  /** On a truck, where a passenger tyre counts for less. */
  #roadPressure(): number | undefined {
    const { load } = this.#asked;
    const rating = tyreRating(this.#tyre);
    if (load === undefined || !rating.ok) return undefined;
    return pressureForLoad({ ...rating.value, load: onTruck(this.#tyre, rating.value.load) }, load, this.#tyre);
  }

  pressureNeeded(): Amount | null {
    const needed = this.#roadPressure();
    if (needed === undefined) return null;
    const rating = tyreRating(this.#tyre);
    if (rating.ok && needed > rating.value.pressure * (1 + 1e-9)) {
      this.notSaid.push('the load is more than the tyre is rated for on a truck at any pressure: no pressure makes up for that');
      return null;
    }
    return this.#show('kPa').amount(Math.max(needed, LEAST_ROAD_PRESSURE), 0, 'up');
  }

  /** What it carries on a truck at the pressure given; a pressure that is too low, or more than the sidewall bears, is told. */
  carries(): Amount | null {
    const { load, pressure } = this.#asked;
    if (pressure === undefined) return null;
    const greatest = greatestPressure(this.#tyre);
    const kPa = this.#show('kPa');
    if (greatest.ok && pressure > greatest.value.most)
      this.notSaid.push(`${kPa.text(pressure)} is more than sidewalls of that kind allow, ${kPa.text(greatest.value.most)} cold`);
    const rating = tyreRating(this.#tyre);
    const at = rating.ok ? this.#or(loadAtPressure(rating.value, pressure, this.#tyre)) : undefined;
    if (!rating.ok || at === undefined) return null;
    const [kg, carried] = [this.#show('kg'), onTruck(this.#tyre, at)];
    if (load !== undefined && load > carried * (1 + 1e-9))
      this.notSaid.push(`${kPa.text(pressure)} carries ${kg.text(carried, 'down')} on a truck, too little for ${kg.text(load)}`);
    return kg.amount(carried, loadSpread(this.#tyre, rating.value, pressure).under * carried, 'down');
  }

  /** From the pressure given, or the one the load asks for. */
  offRoad(): TyreFacts['off_road'] {
    const road = this.#asked.pressure ?? this.#roadPressure();
    if (road === undefined || road < LEAST_OFF_ROAD_PRESSURE) return [];
    return OFF_ROAD_PRESSURES.map(({ ground, share, speed }) => ({
      ground,
      pressure: this.#show('kPa').amount(offRoadPressure(road, share)),
      at_most: this.#show('km/h').amount(speed),
    }));
  }
}

/** What the numbers rest on, by how the size is written and what it is for. */
function sourcesFor({ form, service, pMetric }: Designation) {
  const practice = (note: string) => ({ note });
  const size =
    form === 'flotation' || form === 'plain'
      ? practice('a size named for its diameter measures about what it is named for; real tyres are often 6 mm smaller and more')
      : form === 'numeric'
        ? { source: 'un-r54', clause: 'annex 5', note: 'dimensions of a size that is numbers alone, from memory' }
        : { source: service === 'commercial' ? 'un-r54' : 'un-r30', clause: '6.1', note: 'diameter and width with their limits' };
  return [
    size,
    ...(service === 'light-truck' ? [{ source: 'tra', note: 'largest diameter and width of light-truck tyres' }] : []),
    { source: 'un-r30', clause: '6.1.1.1', note: 'section width on another rim' },
    { source: 'etrto', note: 'approved rims, from memory; greatest pressures, from memory; the maker’s table decides' },
    { source: 'iso-4000-1', note: 'load index' },
    {
      source: service === 'passenger' && !pMetric ? 'etrto' : 'tra',
      note: `load and pressure by a power law, exponent ${pMetric ? 0.5 : service === 'light-truck' ? 0.7 : 0.8}; from 100 kPa to the rated pressure, on the road`,
    },
    ...(service === 'passenger'
      ? [{ source: 'cfr-571-120', note: 'a passenger tyre on a truck counts for its rating divided by 1.10' }]
      : []),
    { source: 'rhyne-2005', note: 'loaded radius at a load and a pressure, within about 10 % of what the tyre gives' },
    practice('off-road pressures and their speeds: back up before the road; the bead may leave its seat below about 100 kPa'),
  ];
}
