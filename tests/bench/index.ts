/** `npm run bench`: ratios in one run, each against its floor. A number of one machine means little; a ratio means more. */
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { benchPlans } from './plans.ts';
import { benchQuestions } from './questions.ts';
import { benchRules } from './rules.ts';
import { benchService } from './service.ts';
import { benchSheets } from './sheets.ts';
import { suspensionRatios } from './suspension.ts';
import { median, rate, report } from './timing.ts';
import { benchUncertainty } from './uncertainty.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const coldStart = (): number => {
  const start = performance.now();
  try {
    execFileSync(process.execPath, ['--import', 'tsx', 'services/cli/check.ts', 'db/demo/builds/modest.yaml', '--json'], {
      cwd: root,
      stdio: 'pipe',
    });
  } catch {
    return Number.NaN;
  }
  return performance.now() - start;
};
const bare = (): number => {
  const start = performance.now();
  execFileSync(process.execPath, ['--import', 'tsx', '-e', ''], { cwd: root, stdio: 'pipe' });
  return performance.now() - start;
};
const times = (n: number, f: () => number): number => median(Array.from({ length: n }, f));

// First, before other work has shaped what the compiler expects of the same functions.
for (const { name, ours, bare: plain, ratio, floor } of suspensionRatios())
  report(`suspension: ${name}, against bare arithmetic`, ratio, floor, `${rate(ours)} against ${rate(plain)}`);
await benchRules();
benchUncertainty();
benchPlans();
await benchService();
await benchSheets();
await benchQuestions();
const [cold, empty] = [times(5, coldStart), times(5, bare)];
console.log(`  cold start to first answer: ${cold.toFixed(0)} ms, of which an empty process with the loader is ${empty.toFixed(0)} ms`);
