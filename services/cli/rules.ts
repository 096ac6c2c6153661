/** `npm run -s rules [-- FOLDER]`: checks everything under a folder of rules and runs every rule's examples. */

import { failedExamples, loadLibrary, readRuleFiles, renderDiagnostics } from '../engine/index.ts';
import { RULES_FOLDER } from '../paths.ts';
import { PLACE_LEVELS } from '../vehicle/index.ts';

const folder = process.argv[2] ?? RULES_FOLDER;
const { library, diagnostics } = loadLibrary(readRuleFiles(folder), PLACE_LEVELS);
const faults = [...diagnostics, ...failedExamples(library.rules.values())];
const examples = [...library.rules.values()].reduce((sum, rule) => sum + rule.examples.length, 0);
if (faults.length > 0) {
  console.error(renderDiagnostics(faults));
  console.error(`\n${faults.length} faults`);
  process.exitCode = 1;
} else {
  console.log(
    `${library.rules.size} rules with ${examples} examples, ${library.quantities.size} quantities, ${library.kinds.size} kinds, ${library.works.size} works, ${library.classes.size} classes, ${library.jurisdictions.size} law packs: all in order`,
  );
}
