/** One PostgreSQL server for the tests of a run, with the demo catalogue in a database that each file copies. */
import type { TestProject } from 'vitest/node';
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { DEMO_FOLDER } from '../../services/paths.ts';

declare module 'vitest' {
  interface ProvidedContext {
    demoDatabase: string;
  }
}

export default async function start(project: TestProject): Promise<() => Promise<void>> {
  const server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
  await database.close();
  project.provide('demoDatabase', server.url);
  return server.stop;
}
