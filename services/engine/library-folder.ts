/** Reads a folder of rules from disk: the one place of the engine that touches files. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import type { Source } from './source.ts';

/** All YAML files below a folder, named by their path below it with `rules/` in front. */
export function readRuleFiles(folder: string): Source[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.ya?ml$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .map((path) => ({ file: `rules/${relative(folder, path).split(sep).join('/')}`, text: readFileSync(path, 'utf8') }));
}
