/** Values published elsewhere, read from the tables beside this file and held against the models. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { criticalSpeed, gearedSpeed } from '../../services/models/driveline/gearing.ts';
import { axleSharesIn } from '../../services/models/loads/axle-loads.ts';
import type { Outcome } from '../../services/models/result.ts';
import { parseDesignation } from '../../services/models/tyres/designation.ts';
import { measuringRim, overallDiameter, rollingCircumference, sectionWidth } from '../../services/models/tyres/dimensions.ts';
import {
  deratedOnTruck,
  loadAtPressure,
  loadOfIndex,
  pressureForLoad,
  ratedPressure,
  speedOfSymbol,
} from '../../services/models/tyres/load.ts';
import { backspacingOf, offsetOf } from '../../services/models/tyres/wheel.ts';
import { RULES_FOLDER } from '../../services/paths.ts';
import { NUMBERS, parseQuantity } from '../../services/units/index.ts';
import { loadRules } from '../../services/workshop/load-rules.ts';
import { shownAs } from '../../services/workshop/show.ts';

interface Row {
  readonly given?: string;
  readonly from?: number;
  readonly is: string | readonly (string | number)[];
}

interface Table {
  readonly table: string;
  readonly citation: string;
  /** How the source was read; `computed` for what its formula gives, worked out by hand. */
  readonly read: 'seen' | 'second-hand' | 'memory' | 'computed';
  readonly model: string;
  readonly tolerance: { readonly value: string; readonly why: string };
  readonly rows: readonly Row[];
}

const si = (text: string): number => {
  const parsed = parseQuantity(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault.message}`);
  return parsed.measure.value;
};
const got = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};
const split = (text: string, ...at: RegExp[]): number[] =>
  text.split(new RegExp(at.map((a) => a.source).join('|'))).map((piece) => si(piece.trim()));

const PASSENGER = { service: 'passenger', pMetric: false } as const;
const P_METRIC = { service: 'passenger', pMetric: true } as const;
const LIGHT_TRUCK = { service: 'light-truck', pMetric: false } as const;

const library = loadRules(RULES_FOLDER);
const limitOf = (pack: string, kind: string): Readonly<Record<string, string>> =>
  Object.fromEntries(library.jurisdictions.get(pack)?.limits.find((limit) => limit.kind === kind)?.attributes ?? []);

const MODELS: Readonly<Record<string, (given: string) => readonly number[]>> = {
  overallDiameter: (given) => [got(overallDiameter(got(parseDesignation(given)))).nominal],
  largestDiameter: (given) => [got(overallDiameter(got(parseDesignation(given)))).most],
  sectionWidthOnRim: (given) => {
    const [size, rim] = given.split(' on ') as [string, string];
    return [got(sectionWidth(got(parseDesignation(size)), si(rim))).nominal];
  },
  measuringRim: (given) => [got(measuringRim(got(parseDesignation(given))))],
  revolutionsPerKilometre: (given) => [shownAs('metric').turns(rollingCircumference(si(given))).value],
  ratedPressure: (given) => [got(ratedPressure(got(parseDesignation(given))))],
  loadOfIndex: (given) => [got(loadOfIndex(Number(given)))],
  speedOfSymbol: (given) => [got(speedOfSymbol(given))],
  pressureForHalfLoad: (given) => [pressureForLoad({ load: 1000, pressure: si(given) }, 500, PASSENGER)],
  loadAtLowerPressure: (given) => {
    const [load, pressure, lower] = split(given, / at /, / for /) as [number, number, number];
    return [got(loadAtPressure({ load, pressure }, lower, LIGHT_TRUCK))];
  },
  pMetricOnTruck: (given) => {
    const [typed, pressure] = given.split(' at ') as [string, string];
    const tyre = got(parseDesignation(typed));
    const rating = { load: got(loadOfIndex(tyre.loadIndex ?? 0)), pressure: got(ratedPressure(tyre)) };
    return [deratedOnTruck(got(loadAtPressure(rating, si(pressure), P_METRIC)))];
  },
  engineSpeed: (given) => {
    const [diameter, speed, ratio] = split(given, / at /, / with /) as [number, number, number];
    return [gearedSpeed(speed, Math.PI * diameter, ratio)];
  },
  criticalSpeed: (given) => {
    const [length, outer, inner] = split(given, / long /, / over /) as [number, number, number];
    return [got(criticalSpeed({ length, outer, inner }))];
  },
  deratedOnTruck: (given) => [deratedOnTruck(si(given))],
  backspacing: (given) => {
    const [width, offset] = split(given, / and /) as [number, number];
    expect(offsetOf(width, backspacingOf(width, offset))).toBeCloseTo(offset, 12);
    return [backspacingOf(width, offset)];
  },
  axleShares: (given) => {
    const [mass, x, wheelbase] = split(given, / at /, / of /) as [number, number, number];
    const { front, rear } = axleSharesIn(NUMBERS, mass, x, wheelbase);
    return [front, rear];
  },
  // What is served is in the law packs.
  shownAllowed: (given) => {
    const { share, allowance } = limitOf('eu', 'speedometer_limit');
    const speed = si(given);
    return [speed, speed + si(share as string) * speed + si(allowance as string)];
  },
  motorCarrier: (given) => {
    const { at, either_way } = limitOf('us-motor-carriers', 'speedometer_error_limit');
    expect(si(at as string)).toBeCloseTo(si(given), 9);
    return [si(either_way as string)];
  },
};

/** A row may run over consecutive codes. */
interface Case {
  readonly given: string;
  readonly is: readonly (string | number)[];
}

const cases = ({ rows }: Table): Case[] =>
  rows.flatMap(({ given, from, is }): Case[] => {
    if (from !== undefined) return (is as readonly number[]).map((value, i) => ({ given: String(from + i), is: [value] }));
    return [{ given: given as string, is: Array.isArray(is) ? (is as readonly string[]) : [is as string] }];
  });

for (const file of ['tyres', 'vehicle']) {
  for (const table of parse(readFileSync(new URL(`./${file}.yaml`, import.meta.url), 'utf8')) as Table[]) {
    describe(`${table.table} (${table.citation})`, () => {
      it('says how it was read, and why it allows what it allows', () => {
        expect(['seen', 'second-hand', 'memory', 'computed']).toContain(table.read);
        expect(table.tolerance.why).toBeTruthy();
      });
      it.each(cases(table))('$given is $is', ({ given, is }) => {
        const values = (MODELS[table.model] as (given: string) => readonly number[])(given);
        const share = table.tolerance.value.endsWith('%');
        const within = si(table.tolerance.value);
        expect(values).toHaveLength(is.length);
        is.forEach((wanted, i) => {
          const value = typeof wanted === 'number' ? wanted : si(wanted);
          expect(Math.abs((values[i] as number) - value)).toBeLessThanOrEqual((share ? within * Math.abs(value) : within) + 1e-12);
        });
      });
    });
  }
}

describe('load at a pressure', () => {
  const rows = (parse(readFileSync(new URL('./tyres.yaml', import.meta.url), 'utf8')) as Table[])
    .filter(({ model }) => model === 'loadAtLowerPressure')
    .flatMap(cases);
  it.each(rows)('by the law is the safe side of the tables, $given', ({ given, is }) => {
    const [law] = (MODELS['loadAtLowerPressure'] as (given: string) => readonly number[])(given) as [number];
    const printed = si(is[0] as string);
    // Tables are in steps of 5 to 15 lb and of 5 psi, which is where the half per cent goes.
    expect(law).toBeLessThanOrEqual(1.005 * printed);
    expect(printed).toBeLessThanOrEqual(1.18 * law);
  });

  it('is the law of the pressure for a load turned round, and never above the rating', () => {
    const rating = { load: 1000, pressure: 250_000 };
    const pressure = pressureForLoad(rating, 700, LIGHT_TRUCK);
    expect(got(loadAtPressure(rating, pressure, LIGHT_TRUCK))).toBeCloseTo(700, 9);
    expect(got(loadAtPressure(rating, 400_000, PASSENGER))).toBe(1000);
    expect(loadAtPressure(rating, 50_000, PASSENGER).ok).toBe(false);
  });
});
