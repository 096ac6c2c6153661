/** The service over PostgreSQL with the demo catalogue, checks on the calling thread, for as long as something is measured of it. */
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { type App, createApp } from '../../services/api/app.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { inlineRunner } from '../../services/api/checks.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { DEMO_FOLDER } from '../../services/paths.ts';
import { checker } from '../../services/workshop/testing.ts';

/** `database` is its address. */
export async function served(measure: (app: App, url: string, database: string) => Promise<void>): Promise<void> {
  const server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
  const app = await createApp({ library: checker.library, checks: inlineRunner(checker), database });
  try {
    await measure(app, await app.listen({ port: 0, host: '127.0.0.1' }), server.url);
  } finally {
    await app.close();
    await server.stop();
  }
}
