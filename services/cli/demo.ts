/** `npm run demo`: checks the demo builds of an invented rescue unit and prints the bold one's answer in full. */
import { join } from 'node:path';
import { demoLookup, entriesFor, readDemo } from '../api/catalogue.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { createChecker, loadRules } from '../workshop/index.ts';
import { printAnswer } from './print-answer.ts';
import { readBuild } from './read-build.ts';

const BUILDS = {
  modest: 'The modest build',
  bolder: 'Its slightly bolder twin',
  bare: 'Nearly nothing known',
  wagon: 'A long wagon on solid axles',
  carrier: 'A full-size carrier',
  bold: 'The bold build',
} as const;

const checker = createChecker(loadRules(RULES_FOLDER));
const catalogue = demoLookup(readDemo(DEMO_FOLDER));
console.log('Skelmoor mountain and flood rescue unit. Unit, makers, vehicle and parts are invented.\n');
for (const [name, title] of Object.entries(BUILDS)) {
  const build = readBuild(join(DEMO_FOLDER, 'builds', `${name}.yaml`));
  if (!build.ok) throw new Error(JSON.stringify(build.faults));
  const checked = checker.check(build.request, await entriesFor(build.request, catalogue));
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  console.log(
    name === 'bold' ? `\n${printAnswer(checked.answer, title)}` : `${title}: ${checked.answer.verdict}. ${checked.answer.summary}`,
  );
}
