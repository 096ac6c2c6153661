/**
 * The sample workbook, and an answered sheet, in a real spreadsheet program: it opens them, computes them anew, fetches values from a
 * running service, and what it then shows is compared with what the service says. Run by `.ci/sheets`.
 */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { parse } from 'csv-parse/sync';
import { openDatabase } from '../../db/open.ts';
import { createApp } from '../../services/api/app.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { pooledRunner } from '../../services/api/checks.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { FETCHED, planningSheets } from '../../services/cli/planning-workbook.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../../services/paths.ts';
import { makeWorkbook } from '../../services/sheets/xlsx-write.ts';
import { loadRules } from '../../services/workshop/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'fettle-office-'));
const profile = join(folder, 'profile');
const SECRET = 'a-secret-of-the-office-42';
const OFFICE_MS = 400_000;
const key = { authorization: `Bearer ${SECRET}` };

/** Files of a profile that may compute on loading and fetch from addresses, as a person allows it once by a button. */
function writeProfile(): void {
  const basic = join(profile, 'user/basic/Standard');
  mkdirSync(join(profile, 'user'), { recursive: true });
  const setting = (path: string, name: string, value: string): string =>
    `<item oor:path="/org.openoffice.Office.${path}"><prop oor:name="${name}" oor:op="fuse"><value>${value}</value></prop></item>`;
  writeFileSync(
    join(profile, 'user/registrymodifications.xcu'),
    `<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">${setting('Calc/Content/Update', 'Link', '0')}${setting('Calc/Formula/Load', 'OOXMLRecalcMode', '0')}${setting('Common/Security/Scripting', 'SecureURL', `<it>file://${folder}</it>`)}</oor:items>`,
  );
  // A first start fills the profile in, and would write over a macro that is there.
  execFileSync('soffice', [`-env:UserInstallation=file://${profile}`, '--headless', '--terminate_after_init'], {
    stdio: 'ignore',
    timeout: OFFICE_MS,
  });
  writeFileSync(
    join(basic, 'Recalculate.xba'),
    `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Recalculate" script:language="StarBasic">
Sub Recalculate(source As String, target As String, patience As Long)
  Dim load(1) As New com.sun.star.beans.PropertyValue
  load(0).Name = "Hidden" : load(0).Value = True
  load(1).Name = "UpdateDocMode" : load(1).Value = 3
  Dim book As Object
  book = StarDesktop.loadComponentFromURL(source, "_blank", 0, load())
  Dim dispatcher As Object
  dispatcher = createUnoService("com.sun.star.frame.DispatchHelper")
  dispatcher.executeDispatch(book.CurrentController.Frame, ".uno:UpdateTableLinks", "", 0, Array())
  Wait patience
  book.calculateAll()
  Wait patience
  Dim save(1) As New com.sun.star.beans.PropertyValue
  save(0).Name = "FilterName" : save(0).Value = "Text - txt - csv (StarCalc)"
  save(1).Name = "FilterOptions" : save(1).Value = "44,34,76,1,,0,false,false,false"
  book.storeToURL(target, save())
  book.close(True)
  StarDesktop.terminate()
End Sub
</script:module>`,
  );
  const list = (kind: string, body: string): string =>
    `<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE library:${kind} PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "${kind}.dtd">\n${body}`;
  writeFileSync(
    join(basic, 'script.xlb'),
    list(
      'library',
      '<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false" library:passwordprotected="false"><library:element library:name="Recalculate"/></library:library>',
    ),
  );
  writeFileSync(
    join(profile, 'user/basic/script.xlc'),
    list(
      'libraries',
      '<library:libraries xmlns:library="http://openoffice.org/2000/library" xmlns:xlink="http://www.w3.org/1999/xlink"><library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/script.xlb/" xlink:type="simple" library:link="false"/></library:libraries>',
    ),
  );
}

/** What the program shows after computing the file anew, as rows of texts. */
async function shown(file: string, patienceMs: number): Promise<string[][]> {
  const to = `${file}.csv`;
  const { spawn } = await import('node:child_process');
  await new Promise<void>((done, failed) => {
    const child = spawn(
      'soffice',
      [
        `-env:UserInstallation=file://${profile}`,
        '--headless',
        '--norestore',
        `macro:///Standard.Recalculate.Recalculate("file://${file}","file://${to}",${patienceMs})`,
      ],
      { stdio: 'ignore', timeout: OFFICE_MS },
    );
    child.on('error', failed);
    child.on('close', (code) => (code === 0 ? done() : failed(new Error(`soffice ended with ${code}`))));
  });
  return parse(readFileSync(to, 'utf8'), { relax_column_count: true }) as string[][];
}

let passed = 0;
let failed = 0;
async function test(name: string, work: () => Promise<void> | void): Promise<void> {
  try {
    await work();
    passed++;
    console.log(`  ok ${name}`);
  } catch (error) {
    failed++;
    console.log(`  !! ${name}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

execFileSync('soffice', ['--version']);
writeProfile();
const database = await openDatabase({});
await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
const app = await createApp({
  library: loadRules(RULES_FOLDER),
  database,
  checks: pooledRunner(RULES_FOLDER),
  keys: [{ name: 'office', secret: SECRET }],
});
await app.listen({ port: 0, host: '127.0.0.1' });
const base = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;

try {
  const { token } = (await (
    await fetch(`${base}/v1/cell-tokens`, {
      method: 'POST',
      headers: { ...key, 'content-type': 'application/json' },
      body: '{"name":"planning"}',
    })
  ).json()) as { token: string };
  const plan = join(folder, 'plan.xlsx');
  const write = async (sheets: ReturnType<typeof planningSheets>, to: string): Promise<void> => {
    const pieces: Uint8Array[] = [];
    for await (const piece of makeWorkbook(sheets)) pieces.push(piece);
    writeFileSync(to, Buffer.concat(pieces));
  };
  const sheets = planningSheets(base, token);
  await write(sheets, plan);
  const rows = await shown(plan, 1500);
  const at = (name: string): number => (rows[0] as string[]).indexOf(name);
  const cell = (row: number, name: string): string => rows[row]?.[at(name)] ?? '';
  const asked = async (row: number, what: string): Promise<string> => {
    const [, vehicle, tyre, winch, parts, people] = rows[row] as string[];
    const query = new URLSearchParams({ token, vehicle, tyre, winch, parts, people } as Record<string, string>);
    return (await fetch(`${base}/v1/cells/${what}?${query}`)).text();
  };

  await test('the workbook opens, with a row for each plan', () => assert.equal(rows.length, 7));
  for (const row of [1, 2, 3])
    for (const what of FETCHED)
      await test(`row ${row} shows the ${what} that the service gives`, async () => {
        const told = await asked(row, what);
        assert.ok(told !== '' && !told.startsWith('ERROR'), told);
        assert.equal(cell(row, what).trim(), told.trim());
      });
  await test('a winch that draws 310 A shows 310', () => assert.equal(cell(3, 'amps'), '310'));
  await test('a cell that was left empty says what it needs', () => assert.equal(cell(4, 'verdict'), 'NEEDS: tyre'));
  await test('a wrong name says so', () =>
    assert.match(cell(5, 'verdict'), /^NEEDS: vehicle: there is no vehicle `merrowdale-gill`; did you mean `merrowdale-ghyll`/));
  await test('no cell is empty and none is an error of the program', () => {
    for (const row of [1, 2, 3, 4, 5]) for (const what of FETCHED) assert.doesNotMatch(cell(row, what), /^$|^Err:|^#/);
  });
  await test('its own formulas compute with what was fetched', () => {
    const all = [1, 2, 3].map((row) => Number(cell(row, 'mass-front')) + Number(cell(row, 'mass-rear')));
    assert.deepEqual(
      [1, 2, 3].map((row) => Number(cell(row, 'mass in all'))),
      all,
    );
    assert.equal(cell(4, 'mass in all'), 'not known');
    assert.equal(Number(cell(6, 'mass in all')), Math.max(...all));
  });

  const { items } = (await (await fetch(`${base}/v1/cell-tokens`, { headers: key })).json()) as { items: { id: string }[] };
  await fetch(`${base}/v1/cell-tokens/${items[0]?.id}`, { method: 'DELETE', headers: key });
  const revoked = await shown(plan, 1500);
  await test('after its token is taken back every cell says so', () => {
    for (const row of [1, 2, 3]) assert.match(revoked[row]?.[at('verdict')] ?? '', /^ERROR: the token in the address/);
  });

  const evil = ['=1+1', '+1+1', '-1+1', '@SUM(1)', '=HYPERLINK("http://x","y")'];
  const sheet = ['build,vehicle,people', ...evil.map((text, i) => `"${text.replaceAll('"', '""')}",merrowdale-ghyll,${i}`)].join('\n');
  /** The sheet with its answers, however long that takes. */
  const answered = async (body: string | Buffer): Promise<Buffer> => {
    const headers = { ...key, 'content-type': 'application/octet-stream', prefer: 'respond-async' };
    let job = (await (await fetch(`${base}/v1/sheets/check`, { method: 'POST', headers, body })).json()) as { id: string; state: string };
    while (job.state === 'queued' || job.state === 'running') {
      await setTimeout(300);
      job = (await (await fetch(`${base}/v1/sheets/${job.id}`, { headers: key })).json()) as typeof job;
    }
    assert.equal(job.state, 'done');
    return Buffer.from(await (await fetch(`${base}/v1/sheets/${job.id}/result`, { headers: key })).arrayBuffer());
  };
  const csv = join(folder, 'answered.csv');
  writeFileSync(csv, await answered(sheet));
  const opened = await shown(csv, 100);
  await test('an answered CSV opens, and nothing in it runs', () => {
    assert.deepEqual(
      opened.slice(1).map((row) => row[0]?.replace(/^'/, '')),
      evil,
    );
  });
  const book = join(folder, 'fleet.xlsx');
  await write([{ name: 'Fleet', rows: [['build', 'vehicle', 'people'], ...evil.map((text, i) => [text, 'merrowdale-ghyll', i])] }], book);
  const back = join(folder, 'back.xlsx');
  writeFileSync(back, await answered(readFileSync(book)));
  const reopened = await shown(back, 100);
  await test('an answered workbook opens, with the same cells, and nothing in it runs', () => {
    assert.deepEqual(
      reopened.slice(1).map((row) => row[0]),
      evil,
    );
    assert.equal(reopened[0]?.[3], 'verdict');
    assert.deepEqual(
      reopened.slice(1).map((row) => row.slice(3)),
      opened.slice(1).map((row) => row.slice(3)),
    );
  });
} finally {
  await app.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
