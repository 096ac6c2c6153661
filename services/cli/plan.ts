/**
 * `npm run -s plan -- FILE [--form markdown|csv|json|xlsx] [--to FILE] [--units metric|us]`: plans a build's job without a
 * server, against the demo catalogue. Ends with 0 when everything is clear after the work and priced, 3 when something is
 * open, 1 when a conflict is left, 2 on bad input.
 */
import { writeFileSync } from 'node:fs';
import { answerBytes } from '../api/answering.ts';
import { demoLookup, entriesFor, readDemo } from '../api/catalogue.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { createChecker, loadRules, type Plan, planSheet, SHEET_FORMS, type SheetForm } from '../workshop/index.ts';
import { runCommand } from './command.ts';
import { readPlan } from './read-build.ts';

const BAD_INPUT = 2;
const USAGE = 'usage: npm run -s plan -- FILE [--form markdown|csv|json|xlsx] [--to FILE] [--units metric|us]';

interface Asked {
  readonly file: string;
  readonly form: SheetForm | 'json';
  readonly to?: string;
  readonly units?: 'metric' | 'us';
}

function asked(args: readonly string[]): Asked | undefined {
  const given = new Map<string, string>();
  const files: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const arg = args[i] as string;
    if (!arg.startsWith('--')) files.push(arg);
    else if (!['--form', '--to', '--units'].includes(arg) || args[i + 1] === undefined) return undefined;
    else given.set(arg, args[++i] as string);
  }
  const form = given.get('--form') ?? 'markdown';
  const [units, to] = [given.get('--units'), given.get('--to')];
  if (files.length !== 1 || !['json', ...SHEET_FORMS].includes(form)) return undefined;
  if (units !== undefined && units !== 'metric' && units !== 'us') return undefined;
  if (form === 'xlsx' && to === undefined) return undefined;
  return { file: files[0] as string, form: form as Asked['form'], ...(to !== undefined && { to }), ...(units !== undefined && { units }) };
}

async function main(args: readonly string[]): Promise<number> {
  const wanted = asked(args);
  if (!wanted) {
    console.error(USAGE);
    return BAD_INPUT;
  }
  const read = readPlan(wanted.file);
  if (!read.ok) return complain(read.faults);
  const request = wanted.units === undefined ? read.request : { ...read.request, units: wanted.units };
  const named = { ...request, parts: [...(request.parts ?? []), ...(request.turned_up?.parts ?? [])] };
  const planned = createChecker(loadRules(RULES_FOLDER)).plan(request, await entriesFor(named, demoLookup(readDemo(DEMO_FOLDER))));
  if (!planned.ok) return complain(planned.faults);
  const { plan } = planned;
  const bytes = wanted.form === 'json' ? answerBytes(plan) : await planSheet(plan, wanted.form);
  if (wanted.to === undefined) process.stdout.write(bytes);
  else writeFileSync(wanted.to, bytes);
  return exitOf(plan);
}

function exitOf({ check, estimate }: Plan): number {
  if (check.after_work.verdict === 'conflict') return 1;
  return check.after_work.verdict === 'clear' && (estimate?.complete ?? true) ? 0 : 3;
}

function complain(faults: readonly RequestFault[]): number {
  for (const { pointer, message, help } of faults) console.error(`${pointer || 'the plan'}: ${message}\n  ${help}`);
  return BAD_INPUT;
}

await runCommand(USAGE, main);
