/** Sheets and cells over HTTP: small tables at once, large ones as jobs, hostile ones refused, and one value for a formula. */
import { Writable } from 'node:stream';
import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rowsOf, workbookOf, workbookParts, zipOf } from '../sheets/testing.ts';
import { answer, demoBuild } from '../workshop/testing.ts';
import type { App } from './app.ts';
import type { CheckRunner } from './checks.ts';
import { testApp } from './testing.ts';

const modest = answer({ ...demoBuild('modest'), also: ['axle_load_change', 'current_added'] });
const bold = answer({ ...demoBuild('bold'), also: ['axle_load_change', 'current_added'] });
/** The bold answer where there is a winch, the modest one elsewhere; what is asked is kept. */
const asked: unknown[] = [];
const checks: CheckRunner = {
  run: async (request: { readonly parts?: unknown }) => {
    asked.push(request);
    const fault = { pointer: '/parts/0/attributes/height_added', code: 'OUT_OF_RANGE', message: 'it is too high', help: 'send less' };
    if (JSON.stringify(request).includes('9000 mm')) return { ok: false, faults: [fault] };
    return { ok: true, answer: JSON.stringify(request.parts ?? []).includes('winch') ? bold : modest };
  },
  close: async () => {},
} as unknown as CheckRunner;

const CSV = { 'content-type': 'text/csv' };
const SECRET = 'a-secret-of-the-shop-42';
const key = { authorization: `Bearer ${SECRET}` };

let app: App;
let logged = '';
beforeAll(async () => {
  const stream = new Writable({
    write: (piece, _, done) => {
      logged += String(piece);
      done();
    },
  });
  app = await testApp({ checks, keys: [{ name: 'shop', secret: SECRET }], logger: { level: 'info', stream } });
});
afterAll(() => app.close());

const send = (payload: string | Buffer, query = '', headers: Record<string, string> = CSV) =>
  app.inject({ method: 'POST', url: `/v1/sheets/check${query}`, headers: { ...key, ...headers }, payload } as never);
const get = (url: string, headers: Record<string, string> = key) => app.inject({ url, headers } as never);

const SMALL =
  'Build,Vehicle,Winch,Notes\r\nOne,merrowdale-ghyll,no,=1+1\r\nTwo,Merrowdale Ghyll response pickup,hallrigg-winch-36,"a, b"\r\nThree,nosuch,,-5\r\n';

describe('a small sheet', () => {
  it('comes back at once with its columns untouched and ours behind them', async () => {
    const response = await send(SMALL, '?name=fleet.csv');
    expect([response.statusCode, response.headers['content-type']]).toEqual([200, 'text/csv; charset=utf-8']);
    expect(response.headers['content-disposition']).toBe('attachment; filename="fleet-checked.csv"');
    const rows = await rowsOf(response.body);
    expect(rows.map(({ cells }) => cells.slice(0, 4))).toEqual((await rowsOf(SMALL)).map(({ cells }) => cells));
    expect(response.body).toContain(`One,merrowdale-ghyll,no,'=1+1,${modest.verdict},`);
    expect(response.body).toContain('Two,Merrowdale Ghyll response pickup,hallrigg-winch-36,"a, b",conflict,');
    expect(rows[0]?.cells.slice(4)).toEqual([
      'verdict',
      'controlling item',
      'margin',
      'margin ±',
      'margin unit',
      'hours low [h]',
      'hours likely [h]',
      'hours high [h]',
      'added mass front [kg]',
      'added mass rear [kg]',
      'current added [A]',
      'conflicts',
      'next measurement',
      'row fault',
      'remarks',
    ]);
    const two = rows[2]?.cells as string[];
    expect(Number(two[6])).toBeLessThan(0);
    expect([two[6], two[7], two[8]].map(String)).toEqual([
      expect.stringMatching(/^-/),
      expect.stringMatching(/^\d/),
      expect.stringMatching(/^(mm|kg|kN|%|deg)$/),
    ]);
    // Something of the bold answer is not known: its likely hours are not the whole.
    expect(Number(two[9])).toBe(bold.work.hours.low);
    expect([two[10], two[11]]).toEqual([expect.stringMatching(/^NEEDS: \S/), expect.stringMatching(/^NEEDS: \S/)]);
    expect(Number(two[12])).toBe(bold.values['axle_load_change(front)']?.value);
    expect(Number(two[14])).toBe(bold.values['current_added']?.value);
    expect(two[15]).toMatch(/^\d+: .*The tyre clears the cab mount/);
    expect(rows[3]?.cells[4]).toBe('not checked');
    expect(rows[3]?.cells[17]).toContain('there is no vehicle `nosuch`');
    expect(two[18]).toBe('not read: Notes; nobody was said to ride in it: the driver alone was counted');
    expect(asked.at(-1)).toMatchObject({ vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' }, units: 'metric' });
  });

  it('tells what its headings were taken for, where it can be asked again', async () => {
    const { headers } = await send(SMALL);
    const job = (await get(String(headers.location))).json();
    expect(job).toMatchObject({
      state: 'done',
      form: 'csv',
      rows_are: 'build',
      rows: { total: 3, done: 3 },
      builds: { [modest.verdict]: 1, conflict: 1, not_checked: 1 },
      key: 'shop',
    });
    expect(job.columns).toEqual([
      { heading: 'Build', read_as: 'build' },
      { heading: 'Vehicle', read_as: 'vehicle' },
      { heading: 'Winch', read_as: 'part winch: line_pull' },
      { heading: 'Notes', read_as: null },
    ]);
    const again = await get(`${headers.location}/result`);
    expect(again.body).toBe((await send(SMALL)).body);
  });

  it('may be a workbook', async () => {
    const bytes = await workbookOf([
      {
        name: 'Fleet',
        rows: [
          ['build', 'vehicle', 'winch'],
          ['=One', 'merrowdale-ghyll', 'hallrigg-winch-36'],
        ],
      },
    ]);
    const response = await send(bytes, '', { 'content-type': 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet' });
    expect(response.statusCode).toBe(200);
    const rows = await rowsOf(response.rawPayload);
    expect(rows[1]?.cells.slice(0, 4)).toEqual(['=One', 'merrowdale-ghyll', 'hallrigg-winch-36', 'conflict']);
    const us = await rowsOf((await send(bytes, '?units=us', { 'content-type': 'application/octet-stream' })).rawPayload);
    expect(us[0]?.cells).toContain('added mass front [lb]');
  });

  it('with a row of totals has it left alone, with a word', async () => {
    const response = await send('build,vehicle,people\nOne,merrowdale-ghyll,2\nTotal,,2\n');
    const rows = await rowsOf(response.body);
    expect(rows[2]?.cells.slice(0, 5)).toEqual(['Total', '', '2', 'left alone', 'taken for a row of totals, and for no build']);
    expect((await get(String(response.headers.location))).json().builds).toMatchObject({ [modest.verdict]: 1, not_checked: 0 });
  });

  it('sent again with its key is the same job; another sheet with that key is refused', async () => {
    const once = { ...CSV, 'idempotency-key': 'k1', prefer: 'respond-async' };
    const [a, b] = [await send(SMALL, '', once), await send(SMALL, '', once)];
    expect(a.headers.location).toBe(b.headers.location);
    expect((await send(`${SMALL}Four,merrowdale-ghyll,,\r\n`, '', once)).json().code).toBe('IDEMPOTENCY_KEY_REUSED');
  });

  it('sent again with its key while the first is under way is not answered before it is done', async () => {
    const headers = { ...CSV, 'idempotency-key': 'twice-at-once' };
    const both = await Promise.all([send(SMALL, '', headers), send(SMALL, '', headers)]);
    expect(both.map(({ statusCode }) => statusCode)).toEqual([200, 200]);
    expect(both[1]?.body).toBe(both[0]?.body);
    expect(both[0]?.body).not.toContain('not reached yet');
  });

  it('says of a build that has the name of another which one, and leaves headings that stand there again alone', async () => {
    const { body } = await send('build,vehicle,people\nOne,merrowdale-ghyll,2\nbuild,vehicle,people\nONE,merrowdale-ghyll,4\n');
    const rows = await rowsOf(body);
    expect(rows[2]?.cells).toEqual(['build', 'vehicle', 'people']);
    expect(rows[3]?.cells[3]).toBe(modest.verdict);
    expect(rows[3]?.cells.at(-1)).toMatch(/^the same build name as row 2/);
    expect(rows[1]?.cells.at(-1)).not.toContain('same build name');
  });

  it('that was cancelled and is sent again with its key is not given as if it were whole', async () => {
    const headers = { ...CSV, 'idempotency-key': 'cancelled', prefer: 'respond-async' };
    const sheet = `build,vehicle,people\n${Array.from({ length: 30 }, (_, i) => `c${i},merrowdale-ghyll,${i % 9}`).join('\n')}\n`;
    const { id } = (await send(sheet, '', headers)).json();
    await app.inject({ method: 'POST', url: `/v1/sheets/${id}/cancel`, headers: key } as never);
    expect((await get(`/v1/sheets/${id}`)).json().state).toBe('cancelled');
    const again = await send(sheet, '', { ...CSV, 'idempotency-key': 'cancelled' });
    expect([again.statusCode, again.json().code]).toEqual([409, 'SHEET_NOT_DONE']);
  });

  it('that names no vehicle takes the one it is asked with', async () => {
    const rows = await rowsOf((await send('build,winch\nOne,yes\n', '?vehicle=merrowdale-ghyll')).body);
    expect(rows[1]?.cells[2]).toBe('conflict');
  });
});

describe('a large sheet', () => {
  const LARGE = `build,vehicle,people\n${Array.from({ length: 2000 }, (_, i) => `b${i},merrowdale-ghyll,${i % 5}`).join('\n')}\n`;

  it('is a job that is followed, and whose result is fetched', async () => {
    const accepted = await send(LARGE);
    expect([accepted.statusCode, accepted.json().state]).toEqual([202, 'queued']);
    const path = String(accepted.headers.location);
    const early = await get(`${path}/result`);
    if (early.statusCode !== 200) expect(early.json().code).toBe('SHEET_NOT_DONE');
    let job = accepted.json();
    for (let i = 0; i < 300 && job.state !== 'done'; i++, await setTimeout(100)) job = (await get(path)).json();
    expect(job).toMatchObject({ state: 'done', rows: { total: 2000, done: 2000 }, builds: { [modest.verdict]: 2000 } });
    expect(job.finished_at).not.toBeNull();
    expect((await rowsOf((await get(`${path}/result`)).body)).length).toBe(2001);
    expect((await get('/v1/sheets?limit=1')).json().items[0].id).toBe(job.id);
    const removed = await app.inject({ method: 'DELETE', url: path, headers: key } as never);
    expect([removed.statusCode, (await get(path)).statusCode]).toEqual([204, 404]);
  });

  it('is cancelled, and resumed', async () => {
    const { id } = (await send(LARGE)).json();
    const act = (verb: string) => app.inject({ method: 'POST', url: `/v1/sheets/${id}/${verb}`, headers: key } as never);
    const cancelled = await act('cancel');
    expect(cancelled.statusCode).toBe(200);
    if (cancelled.json().state === 'cancelled') {
      expect((await rowsOf((await get(`/v1/sheets/${id}/result`)).body)).length).toBe(2001);
      expect((await act('resume')).json().state).toBe('queued');
    }
    let job = (await get(`/v1/sheets/${id}`)).json();
    for (let i = 0; i < 300 && job.state !== 'done'; i++, await setTimeout(100)) job = (await get(`/v1/sheets/${id}`)).json();
    expect(job.rows.done).toBe(2000);
    expect((await act('resume')).json().code).toBe('SHEET_NOT_DONE');
  });
});

describe('a sheet that cannot be taken', () => {
  it.each<[string, string, string | Promise<Buffer>]>([
    ['headings that say nothing', 'HEADINGS_UNKNOWN', 'colour,wishes\nred,none\n'],
    ['no rows', 'SHEET_EMPTY', 'build,vehicle\n'],
    ['nothing at all', 'SHEET_EMPTY', ''],
    ['macros', 'XLSX_MACROS', zipOf(workbookParts({ 'xl/vbaProject.bin': 'x' }))],
    ['links to other files', 'XLSX_EXTERNAL', zipOf(workbookParts({ 'xl/externalLinks/externalLink1.xml': '<x/>' }))],
    ['parts without a build', 'COLUMN_MISSING', 'kind,mass [kg]\nwinch,30\n'],
  ])('%s', async (what, code, payload) => {
    const response = await send(await payload, what === 'parts without a build' ? '?rows=part' : '', {
      'content-type': 'application/octet-stream',
    });
    expect([response.statusCode, response.json().code]).toEqual([422, 'SHEET_REFUSED']);
    expect(response.json().faults).toEqual([expect.objectContaining({ code, help: expect.stringMatching(/\w{3}/) })]);
  });

  it('a claim of a gigabyte is refused before a byte is read', async () => {
    const response = await app.inject({
      method: 'POST',
      url: '/v1/sheets/check',
      headers: { ...key, ...CSV, 'content-length': '1073741824' },
      payload: 'a',
    } as never);
    expect([response.statusCode, response.json().code]).toEqual([413, 'BODY_TOO_LARGE']);
  });

  it('a question that is not known is refused', async () => {
    expect((await send(SMALL, '?colour=red')).json().faults[0].pointer).toBe('/colour');
    expect((await get('/v1/sheets/nosuch')).statusCode).toBe(404);
    expect((await send(SMALL, '', { ...CSV, authorization: 'Bearer wrong-wrong-wrong-1' })).statusCode).toBe(401);
  });

  it('the dictionary of headings is there to be read', async () => {
    const { items } = (await get('/v1/sheets/headings')).json();
    expect(items.length).toBeGreaterThan(40);
    expect(items.find(({ words }: { words: string[] }) => words.includes('gvwr'))).toMatchObject({ read_as: 'gross_mass_rating' });
  });
});

describe('cells', () => {
  const make = (name: string) =>
    app.inject({
      method: 'POST',
      url: '/v1/cell-tokens',
      headers: { ...key, 'content-type': 'application/json' },
      payload: { name },
    } as never);
  const cell = async (what: string, query: string, headers: Record<string, string> = {}) => get(`/v1/cells/${what}?${query}`, headers);
  let token = '';
  beforeAll(async () => {
    token = (await make('planning')).json().token;
  });

  it('give one plain value, the same as the answer', async () => {
    const build = `token=${token}&vehicle=merrowdale-ghyll&winch=hallrigg-winch-36`;
    const values = Object.fromEntries(
      await Promise.all(
        ['verdict', 'mass-front', 'amps', 'hours', 'conflicts', 'margin', 'margin-unit'].map(async (what) => [
          what,
          (await cell(what, build)).body,
        ]),
      ),
    );
    expect(values).toMatchObject({
      verdict: 'conflict',
      'mass-front': String(bold.values['axle_load_change(front)']?.value),
      amps: String(bold.values['current_added']?.value),
      conflicts: String(bold.checked.conflict),
    });
    const { margin } =
      bold.findings.find((one) => one.margin && one.verdict === 'conflict' && String(one.margin.value) === values['margin']) ?? {};
    expect([margin?.unit, Number(values['margin']) < 0]).toEqual([values['margin-unit'], true]);
    // The cells of one build are those of its row in a sheet.
    const [, , row] = await rowsOf((await send(SMALL)).body);
    const [low, likely, high] = await Promise.all(['hours-low', 'hours', 'hours-high'].map(async (what) => (await cell(what, build)).body));
    expect([low, likely, high]).toEqual(row?.cells.slice(9, 12));
    expect((await cell('verdict', build)).headers['content-type']).toBe('text/plain; charset=utf-8');
  });

  it('may be called as their columns are in a sheet', async () => {
    const build = `token=${token}&vehicle=merrowdale-ghyll&winch=hallrigg-winch-36`;
    for (const [column, name] of [
      ['next-measurement', 'measure'],
      ['controlling%20item', 'item'],
      ['added_mass_front', 'mass-front'],
    ] as const)
      expect((await cell(column, build)).body).toBe((await cell(name, build)).body);
    expect((await cell('next-measurement', build)).body).not.toContain('ERROR');
  });

  it('of one build are one check, and have an etag', async () => {
    const before = asked.length;
    const build = `token=${token}&vehicle=merrowdale-ghyll&people=4`;
    const [first] = await Promise.all([cell('verdict', build), cell('hours', build), cell('amps', build)]);
    expect(asked.length - before).toBe(1);
    const etag = String(first?.headers.etag);
    expect(first?.headers['cache-control']).toBe('private, no-cache');
    expect((await cell('verdict', build, { 'if-none-match': etag })).statusCode).toBe(304);
  });

  it.each([
    ['verdict', 'tyre=265%2F70R17', 'NEEDS: vehicle'],
    ['verdict', 'vehicle=', 'NEEDS: vehicle'],
    ['verdict', 'vehicle=merrowdale-ghyll&winch=', 'NEEDS: winch'],
    ['verdict', 'vehicle=nosuch', 'NEEDS: vehicle: there is no vehicle `nosuch`'],
    ['verdict', 'vehicle=merowdale-gyll', 'did you mean `merrowdale-ghyll`'],
    ['verdict', 'vehicle=merrowdale-ghyll&front_lift_mm=9000', 'ERROR: front_lift_mm: it is too high; send less'],
    ['verdict', 'vehicle=merrowdale-ghyll&winch=hallrig-winch', 'did you mean `hallrigg-winch-36` or `hallrigg-winch-45`'],
    ['verdict', 'vehicle=merrowdale-ghyll&winch=halrigg-winch-36', 'did you mean `hallrigg-winch-36`'],
    ['verdict', 'vehicel=merrowdale-ghyll', 'did you mean `vehicle`'],
    ['verdct', 'vehicle=merrowdale-ghyll', 'did you mean `verdict`'],
    ['x'.repeat(90), 'vehicle=merrowdale-ghyll', 'ERROR: there is no cell'],
    ['', 'vehicle=merrowdale-ghyll', 'ERROR: there is no cell'],
    ['verdict', 'vehicle=merrowdale-ghyll&colour=red', 'ERROR: there is no parameter `colour`'],
    ['verdict', 'vehicle=merrowdale-ghyll&people=many', 'ERROR: people: `many` is not a number of people'],
    ['verdict', 'vehicle=a&vehicle=b', 'ERROR: vehicle: it is there twice'],
    ['verdict', 'vehicle=merrowdale-ghyll&units=roman', 'ERROR: units: `roman`'],
    ['verdict', 'build=nosuch', 'ERROR: build: there is no build `nosuch`'],
    ['weight', 'vehicle=merrowdale-ghyll', 'ERROR: there is no cell `weight`'],
    ['weight', 'vehicle=merrowdale-ghyll', 'there are verdict, item, margin, margin-tolerance, margin-unit, hours,'],
    ['mass-front', `vehicle=merrowdale-ghyll&accessories=a;${'%20'.repeat(1000)};b`, 'ERROR: accessories: longer than 1000 characters'],
    ['verdict', 'vehicle=merrowdale-ghyll&tyres_i_want=37x13.50R17', 'ERROR: there is no parameter `tyres_i_want`; did you mean `tyre`?'],
  ])('%s of %s says what is wrong, in the cell', async (what, query, says) => {
    const response = await cell(what, `token=${token}&${query}`);
    expect([response.statusCode, response.body]).toEqual([200, expect.stringContaining(says)]);
    expect(response.headers['cache-control']).toBe('no-store');
  });

  it('of a saved build are its answer', async () => {
    const saved = await app.inject({
      method: 'POST',
      url: '/v1/builds',
      headers: { ...key, 'content-type': 'application/json' },
      payload: {
        name: 'Tender',
        build: { vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' }, parts: [{ from: 'catalogue', part: 'hallrigg-winch-36' }] },
      },
    } as never);
    expect((await cell('verdict', `token=${token}&build=${saved.json().id}`)).body).toBe('conflict');
  });

  it('are opened by a token that can be taken back, is told once, and is kept and compared as a hash', async () => {
    const made = (await make('lent')).json();
    const query = `token=${made.token}&vehicle=merrowdale-ghyll`;
    expect((await cell('verdict', query)).body).toBe(modest.verdict);
    expect((await cell('verdict', 'vehicle=merrowdale-ghyll')).body).toBe('ERROR: the address has no token');
    for (const wrong of [`${made.id}.x`, 'x', `${made.token}x`, `nosuch.${made.token.split('.')[1]}`])
      expect((await cell('verdict', `token=${encodeURIComponent(wrong)}&vehicle=merrowdale-ghyll`)).body).toContain('ERROR: the token');
    const listed = JSON.stringify((await get('/v1/cell-tokens')).json());
    expect(listed).toContain(made.id);
    expect(listed).not.toContain(made.token.split('.')[1]);
    // It opens nothing else.
    expect((await get('/v1/builds', { authorization: `Bearer ${made.token}` })).statusCode).toBe(401);
    const revoked = await app.inject({ method: 'DELETE', url: `/v1/cell-tokens/${made.id}`, headers: key } as never);
    expect(revoked.json().revoked_at).not.toBeNull();
    expect((await cell('verdict', query)).body).toContain('ERROR: the token');
    expect((await app.inject({ method: 'DELETE', url: '/v1/cell-tokens/nosuch', headers: key } as never)).statusCode).toBe(404);
  });

  it('may be asked what they take before they are asked, as spreadsheets do, without a key', async () => {
    for (const method of ['OPTIONS', 'HEAD'])
      expect((await app.inject({ method, url: '/v1/cells/verdict?vehicle=merrowdale-ghyll' } as never)).statusCode).toBeLessThan(300);
  });

  it('say that they wait where a check takes long, and have the answer once it is there', async () => {
    let done = (_: unknown): void => {};
    const found = new Promise((answered) => {
      done = answered;
    });
    const waiting = await testApp({ checks: { ...checks, run: () => found } as unknown as CheckRunner, answerWithinMs: 6000 });
    const ask = async () => (await waiting.inject({ url: '/v1/cells/verdict?vehicle=merrowdale-ghyll' })).body;
    expect(await ask()).toMatch(/^WAIT: /);
    done({ ok: true, answer: modest });
    expect(await ask()).toBe(modest.verdict);
    await waiting.close();
  });

  it('and their tokens are in no log', async () => {
    await cell('verdict', `token=${token}&vehicle=nosuch`);
    await cell('verdict', `%74oken=${token}&vehicle=merrowdale-ghyll`);
    expect(logged).toContain('/v1/cells/verdict');
    expect(logged).not.toContain(token.split('.')[1]);
    expect(logged).not.toContain(SECRET);
    // Lines that are not ours, such as of an answer that is sent twice, name the address too.
    app.log.warn(`Reply was already sent in "/v1/cells/verdict?token=${token}" (GET)`);
    app.log.error({ err: new Error(`no answer of /v1/cells/item?token=${token}&a=b`) }, 'failed');
    expect(logged).toContain('Reply was already sent in \\"/v1/cells/verdict\\" (GET)');
    expect(logged).toContain('no answer of /v1/cells/item');
    expect(logged).not.toContain(token.split('.')[1]);
  });
});
