/** Where the repository's own data is. */
import { fileURLToPath } from 'node:url';

const path = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

export const RULES_FOLDER = path('../rules');
export const HEADINGS_FILE = path('../rules/sheets/headings.yaml');
export const DEMO_FOLDER = path('../db/demo');
export const OPENAPI_FILE = path('./api/openapi.json');
export const SDK_SCHEMA_FILE = path('../sdk/src/schema.ts');
