/** `npm run -s rules [-- FOLDER]`: checks everything under a folder of rules and runs every rule's examples. */
import { existsSync } from 'node:fs';
import { failedExamples, loadLibrary, readRuleFiles, renderDiagnostics } from '../engine/index.ts';
import { RULES_FOLDER } from '../paths.ts';
import { PLACE_LEVELS } from '../vehicle/index.ts';
import { runCommand } from './command.ts';

const USAGE = 'usage: npm run -s rules [-- FOLDER]\nends with 0 in order, 1 faults, 2 no such folder';

function main([folder = RULES_FOLDER]: readonly string[]): number {
  if (!existsSync(folder)) {
    console.error(`there is no folder \`${folder}\`\n${USAGE}`);
    return 2;
  }
  const { library, diagnostics } = loadLibrary(readRuleFiles(folder), PLACE_LEVELS);
  const faults = [...diagnostics, ...failedExamples(library.rules.values())];
  if (faults.length > 0) {
    console.error(`${renderDiagnostics(faults)}\n\n${faults.length} faults`);
    return 1;
  }
  const examples = [...library.rules.values()].reduce((sum, rule) => sum + rule.examples.length, 0);
  console.log(
    `${library.rules.size} rules with ${examples} examples, ${library.quantities.size} quantities, ${library.kinds.size} kinds, ${library.works.size} works, ${library.classes.size} classes, ${library.jurisdictions.size} law packs: all in order`,
  );
  return 0;
}

await runCommand(USAGE, main);
