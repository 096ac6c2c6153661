/** What is refused, and how it is told: every fault at its place, with a fix that fits there. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoBuild } from '../workshop/testing.ts';
import type { App } from './app.ts';
import { refuseFuture } from './dates.ts';
import { asking, type Method, testApp } from './testing.ts';

let app: App;
let id = '';
beforeAll(async () => {
  app = await testApp();
  id = (await ask('POST', '/v1/builds', { name: 'Base', build: demoBuild('modest') })).json().id;
});
afterAll(() => app.close());

const ask = asking(() => app);
interface Told {
  readonly pointer: string;
  readonly code: string;
  readonly message: string;
  readonly help: string;
}
const faultAt = (response: { json(): { faults: Told[] } }, pointer: string): Told | undefined =>
  response.json().faults.find((fault) => fault.pointer === pointer);

const reading = { quantity: 'tyre_gap', of: 'top-liners', value: '26 mm ± 4' };
const inline = (date: string) => ({ vehicle: { ...demoBuild('modest').vehicle, measured: [{ ...reading, date }] } });
const onPart = (date: string) => ({
  vehicle: { from: 'inline', class: 'midsize_independent_front' },
  parts: [{ from: 'inline', kind: 'winch', at: 'vehicle', measured: { mass: { value: '38 kg', date } } }],
});

describe('dates of readings', () => {
  it.each(['03/10/2026', 'yesterday', '2026-13-01', '2026-10-3'])('`%s` is none, wherever a reading stands', async (date) => {
    const faults = [
      faultAt(await ask('POST', '/v1/checks', inline(date)), '/vehicle/measured/0/date'),
      faultAt(await ask('POST', '/v1/checks', onPart(date)), '/parts/0/measured/mass/date'),
      faultAt(await ask('POST', '/v1/builds', { name: 'x', build: inline(date) }), '/build/vehicle/measured/0/date'),
      faultAt(await ask('POST', `/v1/builds/${id}/measurements`, { ...reading, tool: 'gauge', date }), '/date'),
    ];
    for (const fault of faults) expect(fault).toMatchObject({ code: 'VALUE_WRONG', help: expect.stringContaining('2026-10-03') });
  });

  it('still to come are refused, wherever a reading stands', async () => {
    const ahead = '2999-01-01';
    const asked: [string, unknown, string][] = [
      ['/v1/checks', inline(ahead), '/vehicle/measured/0/date'],
      ['/v1/checks', onPart(ahead), '/parts/0/measured/mass/date'],
      ['/v1/plans', onPart(ahead), '/parts/0/measured/mass/date'],
      ['/v1/plans/sheet', inline(ahead), '/vehicle/measured/0/date'],
      ['/v1/plans', { ...inline('2026-10-03'), turned_up: { measured: [{ ...reading, date: ahead }] } }, '/turned_up/measured/0/date'],
      ['/v1/what-ifs', { ...inline(ahead), vary: { quantity: 'wheelbase', from: '3 m', to: '3.2 m' } }, '/vehicle/measured/0/date'],
      ['/v1/questions', { ...inline(ahead), text: '33s' }, '/vehicle/measured/0/date'],
      ['/v1/builds', { name: 'x', build: inline(ahead) }, '/build/vehicle/measured/0/date'],
      [`/v1/builds/${id}/measurements`, { ...reading, tool: 'gauge', date: ahead }, '/date'],
    ];
    for (const [url, body, pointer] of asked) {
      const response = await ask('POST', url, body);
      expect([url, response.statusCode, faultAt(response, pointer)?.code]).toEqual([url, 400, 'DATE_AHEAD']);
    }
    const changed = await ask('PUT', `/v1/builds/${id}`, { name: 'x', build: inline(ahead) }, { 'if-match': '*' });
    expect(faultAt(changed, '/build/vehicle/measured/0/date')?.code).toBe('DATE_AHEAD');
  });

  it('of today are taken, wherever on earth it is that day already', () => {
    const noon = Date.parse('2026-10-03T12:00:00Z');
    expect(() => refuseFuture([['/date', '2026-10-04']], noon)).not.toThrow();
    expect(() => refuseFuture([['/date', '2026-10-05']], noon)).toThrow();
  });
});

describe('an unknown field', () => {
  const check = async (body: unknown, pointer: string) => faultAt(await ask('POST', '/v1/checks', body), pointer)?.help;
  const base = demoBuild('modest');

  it('is told by the one that was meant there, never by itself', async () => {
    expect(await check({ ...base, part: [] }, '/part')).toBe('did you mean `parts`?');
    expect(await check({ ...base, vehicle: { ...base.vehicle, vehicel: 'x' } }, '/vehicle/vehicel')).toBe('did you mean `vehicle`?');
    expect(await check({ ...base, load: { occupant: 2 } }, '/load/occupant')).toBe('did you mean `occupants`?');
  });

  it('that belongs elsewhere is sent there, and one that belongs nowhere is told what there is', async () => {
    expect(await check({ ...base, load: { top_speed: '90 km/h' } }, '/load/top_speed')).toBe('it stands in `use`, not here');
    expect(await check({ ...base, use: { colour: 'red' } }, '/use/colour')).toMatch(/^the fields here are .*`top_speed`/);
    const saved = await ask('POST', '/v1/builds', { name: 'x', build: { ...base, units: 'us' } });
    expect(faultAt(saved, '/build/units')?.help).toContain('send it with each check');
    const measured = await ask('POST', `/v1/builds/${id}/measurements`, { ...reading, position: 'full bump' });
    expect(faultAt(measured, '/position')?.help).toContain('`suspension`, `steering`');
  });
});

describe('a value of the wrong form', () => {
  it('is told the form', async () => {
    const part = { kind: 'winch', name: 'x', attributes: {} };
    expect(faultAt(await ask('POST', '/v1/parts', { id: 'Shop Rack', ...part }), '/id')?.help).toContain('`Shop-Rack`');
    const long = faultAt(await ask('POST', '/v1/parts', { id: 'x', ...part, name: 'x'.repeat(200) }), '/name');
    expect(long?.help).toBe('it is at most 120 characters');
    const many = faultAt(await ask('POST', '/v1/checks', { ...demoBuild('modest'), load: { occupants: 99 } }), '/load/occupants');
    expect(many?.help).toBe('it is at most 20');
  });

  it('or no body at all is told by what the path takes', async () => {
    expect((await ask('POST', '/v1/parts')).json().faults[0]).toMatchObject({
      message: 'the body is missing',
      help: expect.stringContaining('PartEntry'),
    });
    expect((await ask('POST', '/v1/checks')).json().faults[0].help).toContain('"class": "midsize_independent_front"');
    expect((await ask('POST', '/v1/imports/parts', {})).json().faults[0].help).toBe('a list or a text is expected');
    const table = await ask('POST', '/v1/parts', 'id,kind,name\na,winch,b', { 'content-type': 'text/csv' });
    expect([table.statusCode, table.json().code]).toEqual([415, 'CONTENT_TYPE_WRONG']);
  });
});

describe('what would break storage or the stack', () => {
  const huge = 2 ** 40;
  const cursor = (rank: number) => Buffer.from(JSON.stringify([rank, ''])).toString('base64url');
  const deep = (n: number) => `{"vehicle": ${'['.repeat(n)}${']'.repeat(n)}}`;

  it.each<[string, Method, () => string, unknown, number]>([
    ['a cursor beyond any number', 'GET', () => `/v1/builds/${id}/revisions?cursor=${cursor(huge)}`, undefined, 400],
    ['a cursor below none', 'GET', () => `/v1/builds/${id}/revisions?cursor=${cursor(-5)}`, undefined, 400],
    ['a revision to restore', 'POST', () => `/v1/builds/${id}/restore`, { revision: huge }, 400],
    ['a revision to check', 'POST', () => `/v1/builds/${id}/checks`, { revision: huge }, 400],
    ['a revision to compare', 'POST', () => '/v1/comparisons', { before: { build: 'x', revision: huge }, after: { build: 'x' } }, 400],
    [
      'a version of a part',
      'POST',
      () => '/v1/checks',
      { ...demoBuild('modest'), parts: [{ from: 'catalogue', part: 'x', version: huge }] },
      400,
    ],
    ['nesting', 'POST', () => '/v1/checks', deep(300_000), 400],
    ['nesting with odd texts', 'POST', () => '/v1/checks', deep(300_000).replace('vehicle', 'vehicle\\u0000'), 400],
    ['nesting in an import', 'POST', () => '/v1/imports/parts', `${'['.repeat(300_000)}${']'.repeat(300_000)}`, 400],
    ['a text of many megabytes', 'POST', () => '/v1/imports/parts', `[{"id": "${'x\\"'.repeat(9_000_000)}"}]`, 422],
    [
      '`__proto__` as an attribute',
      'POST',
      () => '/v1/parts',
      '{"id":"p","kind":"winch","name":"x","attributes":{"__proto__":"1 kg"}}',
      400,
    ],
  ])('is refused: %s', async (_, method, url, body, status) => {
    const response = await ask(method, url(), body, { ...(method === 'POST' && { 'idempotency-key': 'k', 'if-match': '*' }) });
    expect([response.statusCode, response.json().faults.length > 0]).toEqual([status, true]);
  });

  it('is refused: letters that are not UTF-8', async () => {
    const latin = Buffer.from('id,kind,name\na,winch,Fine\nb,winch,Stra\xdfe', 'latin1');
    const table = await ask('POST', '/v1/imports/parts?take=good', latin, { 'content-type': 'text/csv' });
    expect([table.statusCode, table.json().faults[0]]).toEqual([
      422,
      expect.objectContaining({ row: 2, sheet_row: 3, code: 'TEXT_WRONG' }),
    ]);
    const said = await ask('POST', '/v1/imports/parts', latin, { 'content-type': 'text/csv; charset=latin1' });
    expect([said.statusCode, said.json().detail]).toEqual([415, expect.stringContaining('`latin1`')]);
    const utf8 = await ask('POST', '/v1/imports/parts', 'id,kind,name\nutf-8,winch,Straße', {
      'content-type': 'text/csv; charset="UTF-8"',
    });
    expect(utf8.json()).toMatchObject({ added: 1 });
    const body = Buffer.concat([Buffer.from('{"vehicle":"'), Buffer.from([0xdf]), Buffer.from('"}')]);
    expect((await ask('POST', '/v1/checks', body)).json().code).toBe('JSON_MALFORMED');
  });
});
