import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Files whose tests ask a service that has a database; they share one PostgreSQL server. */
const SERVED = [
  'services/api/**/*.test.ts',
  'services/cli/**/*.test.ts',
  'services/jobs/**/*.test.ts',
  'sdk/**/*.test.ts',
  'tests/readme.test.ts',
  'tests/deployment.test.ts',
  'tests/faults/**/*.test.ts',
];

const shared = {
  root: fileURLToPath(new URL('..', import.meta.url)),
  testTimeout: 180_000,
  hookTimeout: 120_000,
};

export default defineConfig({
  root: shared.root,
  test: {
    maxWorkers: 2,
    // A type check of the whole project is `npm run types`; the tests here run.
    typecheck: { enabled: false },
    projects: [
      {
        test: {
          ...shared,
          name: 'alone',
          include: ['services/**/*.test.ts', 'db/**/*.test.ts', 'tests/**/*.test.ts'],
          exclude: ['**/node_modules/**', '**/dist/**', ...SERVED],
        },
      },
      { test: { ...shared, name: 'served', include: SERVED, exclude: ['**/node_modules/**'], globalSetup: ['tests/setup/postgres.ts'] } },
    ],
  },
});
