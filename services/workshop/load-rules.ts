/** The rules of a folder, ready to check with; a folder with faults is refused with all of them. */
import { type Library, loadLibrary, readRuleFiles, renderDiagnostics } from '../engine/index.ts';
import { PLACE_LEVELS } from '../vehicle/index.ts';

export class RulesFaulty extends Error {
  override readonly name = 'RulesFaulty';
}

export function loadRules(folder: string): Library {
  const { library, diagnostics } = loadLibrary(readRuleFiles(folder), PLACE_LEVELS);
  if (diagnostics.length > 0) throw new RulesFaulty(renderDiagnostics(diagnostics));
  return library;
}
