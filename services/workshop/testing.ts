/** The demo builds and a checker over the real rules, for tests. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import type { CataloguePart, CatalogueVehicle, CheckRequest, VehicleInput } from '../vehicle/index.ts';
import { type Answer, type Checker, createChecker, loadRules } from './index.ts';

const read = <T>(file: string): T => parse(readFileSync(join(DEMO_FOLDER, file), 'utf8')) as T;

export const demoCatalogue = {
  vehicles: new Map(read<CatalogueVehicle[]>('vehicles.yaml').map((vehicle) => [vehicle.id, vehicle])),
  parts: new Map(read<CataloguePart[]>('parts.yaml').map((part) => [part.id, part])),
  hash: 'demo',
};

export const checker: Checker = createChecker(loadRules(RULES_FOLDER));

/** A fresh copy each time; tests change it. */
export const demoBuild = (name: 'modest' | 'bolder' | 'bold' | 'bare' | 'wagon' | 'carrier'): Mutable<CheckRequest> =>
  read(`builds/${name}.yaml`);

/** The truck of the modest build with every gap round its tyres gauged: those that it has no reading of at what is computed of them. */
export function gaugedTruck(): VehicleInput {
  const build = demoBuild('modest');
  const { values } = answer({ ...build, values: 'all' });
  const readings = Object.entries(values).flatMap(([id, { name, value, origin }]) => {
    const of = /\((.+)\)$/.exec(id)?.[1];
    const open = name === 'tyre_gap' && of !== undefined && typeof value === 'number' && origin.kind !== 'measured';
    return open ? [{ quantity: name, of, value: `${value} mm ± 3` }] : [];
  });
  const vehicle = build.vehicle as VehicleInput;
  return { ...vehicle, measured: [...(vehicle.measured ?? []), ...readings] };
}

export type Mutable<T> = { -readonly [K in keyof T]: Mutable<T[K]> };

export function answer(request: CheckRequest | Mutable<CheckRequest>): Answer {
  const checked = checker.check(request as CheckRequest, demoCatalogue);
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults, null, 1));
  return checked.answer;
}

export function faults(request: unknown): readonly { pointer: string; code: string; help: string }[] {
  const checked = checker.check(request as CheckRequest, demoCatalogue);
  if (checked.ok) throw new Error(`it was answered: ${checked.answer.verdict}`);
  return checked.faults;
}

export const findingsOf = (given: Answer, rule: string) => given.findings.filter((finding) => finding.rule === rule);
