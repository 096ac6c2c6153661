import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['services/**/*.test.ts', 'db/**/*.test.ts', 'sdk/**/*.test.ts', 'tests/**/*.test.ts'],
    exclude: ['**/node_modules/**', '**/dist/**'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    // A type check of the whole project is `npm run types`; the tests here run.
    typecheck: { enabled: false },
  },
});
