/**
 * What code answers: a hash of its files. A kept answer is given again only to the code that made it, and nobody has to remember to count.
 * Tests are no part of it. A comment is: an answer that is worked out once more costs less than one that is out of date.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const SERVICES = fileURLToPath(new URL('..', import.meta.url));
const CODE = /(?<!\.test|\.d)\.[jt]s$/;

/** Of all code files below those folders, by their paths and bytes. */
export function hashOfCode(folders: readonly string[], root = SERVICES): string {
  const hash = createHash('sha256');
  for (const folder of folders) {
    const paths = readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && CODE.test(entry.name) && !entry.name.startsWith('testing'))
      .map((entry) => join(entry.parentPath, entry.name))
      .sort();
    for (const path of paths)
      hash
        .update(`${relative(root, path).split(sep).join('/')}\0`)
        .update(readFileSync(path))
        .update('\0');
  }
  return hash.digest('hex').slice(0, 16);
}

let known: { readonly engine: string; readonly models: string } | undefined;

/** `models`: the physics. `engine`: all else that turns a request into an answer. */
export function codeVersions(): { readonly engine: string; readonly models: string } {
  known ??= { engine: hashOfCode(['units', 'engine', 'vehicle', 'workshop']), models: hashOfCode(['models']) };
  return known;
}
