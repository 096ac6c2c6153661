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

/** The truck of the modest build, with the reading it lacks of what its class has behind the rear tyres: nothing of it is open. */
export function gaugedTruck(): VehicleInput {
  const vehicle = demoBuild('modest').vehicle as VehicleInput;
  const wing = [...(checker.library.classes.get('midsize_independent_front')?.fitted ?? [])].find(({ kind }) => kind === 'inner_wing');
  const readings = wing ? [{ quantity: 'tyre_gap', of: wing.id, value: '45 mm ± 4' }] : [];
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
