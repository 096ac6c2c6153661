/** Times two things side by side in one run and gives their ratio: the numbers depend on the machine, the ratio much less. */

export interface Timed {
  /** Calls a second, the median of the rounds. */
  readonly rate: number;
}

const ROUNDS = 9;
const ROUND_MS = 120;

/** Runs each work in turns, so that a busy moment of the machine falls on all of them. */
export function timeAll<K extends string>(works: Readonly<Record<K, () => unknown>>): Record<K, Timed> {
  const names = Object.keys(works) as K[];
  const rates = new Map<K, number[]>(names.map((name) => [name, []]));
  for (const name of names) round(works[name], ROUND_MS / 2);
  for (let i = 0; i < ROUNDS; i++) for (const name of names) rates.get(name)?.push(round(works[name], ROUND_MS));
  return Object.fromEntries(names.map((name) => [name, { rate: median(rates.get(name) ?? []) }])) as Record<K, Timed>;
}

let sink: unknown;

function round(work: () => unknown, ms: number): number {
  const start = performance.now();
  let calls = 0;
  let elapsed = 0;
  do {
    for (let i = 0; i < 4; i++) sink = work();
    calls += 4;
    elapsed = performance.now() - start;
  } while (elapsed < ms);
  return (calls * 1000) / elapsed;
}

export const lastResult = (): unknown => sink;

export function median(xs: readonly number[]): number {
  const sorted = [...xs].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

const CALL_ROUNDS = 5;
const CALL_ROUND_MS = 400;

/** Calls a second of each, in turns; the first round warms up. */
export async function callsOfAll(calls: readonly (() => Promise<unknown>)[]): Promise<number[]> {
  const rates: number[][] = calls.map(() => []);
  for (let i = 0; i <= CALL_ROUNDS; i++)
    for (const [which, call] of calls.entries()) {
      const measured = await callsASecond(call);
      if (i > 0) rates[which]?.push(measured);
    }
  return rates.map(median);
}

async function callsASecond(call: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  let calls = 0;
  do {
    await call();
    calls++;
  } while (performance.now() - start < CALL_ROUND_MS);
  return (calls * 1000) / (performance.now() - start);
}

/** Posts JSON and reads all that comes back. */
export const posting = (url: string, body: string) => async (): Promise<unknown> =>
  (await fetch(url, { method: 'POST', headers: { 'content-type': 'application/json' }, body })).arrayBuffer();

export function report(what: string, ratio: number, target: number | undefined, detail: string): void {
  const goal = target === undefined ? '' : ratio >= target ? ` (floor ${target}: kept)` : ` (floor ${target}: MISSED)`;
  console.log(`${what.padEnd(58)} ${ratio.toFixed(ratio >= 10 ? 0 : 2)} x${goal}   ${detail}`);
}

export const rate = (x: number): string => `${x >= 1000 ? Math.round(x).toLocaleString('en-GB').replaceAll(',', ' ') : x.toFixed(1)}/s`;
