/** The catalogue written over HTTP: one entry, and many at once with a report by row and column. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { App } from './app.ts';
import { asking, testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const ask = asking(() => app, {}, 'text/csv');
const faultsOf = (response: { json(): { faults: Record<string, unknown>[] } }) =>
  response.json().faults.map(({ row, column, code }) => [row, column, code]);
const pointersOf = (response: { json(): { faults: { pointer: string; code: string }[] } }) =>
  Object.fromEntries(response.json().faults.map(({ pointer, code }) => [pointer, code]));

describe.each(['parts', 'vehicles'] as const)('one of the %s', (path) => {
  const body =
    path === 'parts'
      ? { kind: 'winch', name: 'Quarrygill winch', maker: 'Quarrygill', attributes: { mass: '38 kg' } }
      : { class: 'midsize_independent_front', name: 'Quarrygill pickup', values: { wheelbase: '3.2 m' } };
  const wrong = path === 'parts' ? { ...body, attributes: { mass: '38 mm' } } : { ...body, values: { wheelbase: '3.2 kg' } };
  const at = path === 'parts' ? '/attributes/mass' : '/values/wheelbase';

  it('is added, read, and changed by a new version', async () => {
    const made = await ask('POST', `/v1/${path}`, { id: 'quarry', ...body });
    expect([made.statusCode, made.headers.etag, made.headers.location]).toEqual([201, '"1"', `/v1/${path}/quarry`]);
    expect(made.json()).toEqual({ id: 'quarry', version: 1, ...body });
    const changed = await ask('PUT', `/v1/${path}/quarry`, { ...body, name: 'Renamed' }, { 'if-match': '"1"' });
    expect([changed.statusCode, changed.headers.etag, changed.json().name]).toEqual([200, '"2"', 'Renamed']);
    expect((await ask('GET', `/v1/${path}/quarry?version=1`)).json()).toEqual(made.json());
    expect((await ask('GET', `/v1/${path}/quarry`, undefined, { 'if-none-match': '"2"' })).statusCode).toBe(304);
    const same = await ask('PUT', `/v1/${path}/quarry`, { ...body, name: 'Renamed' }, { 'if-match': '*' });
    expect([same.statusCode, same.json().version]).toEqual([200, 2]);
  });

  it('is not added twice, nor changed over what the writer has not seen', async () => {
    expect((await ask('POST', `/v1/${path}`, { id: 'quarry', ...body })).json().code).toBe('ALREADY_THERE');
    expect((await ask('PUT', `/v1/${path}/quarry`, body)).json().code).toBe('PRECONDITION_MISSING');
    expect((await ask('PUT', `/v1/${path}/quarry`, body, { 'if-match': '"1"' })).json().code).toBe('PRECONDITION_FAILED');
    expect((await ask('PUT', `/v1/${path}/quarri`, body, { 'if-match': '*' })).json().detail).toContain('did you mean `quarry`?');
  });

  it('is refused with the value that is wrong', async () => {
    const added = await ask('POST', `/v1/${path}`, { id: 'wrong', ...wrong });
    expect([added.statusCode, Object.keys(pointersOf(added))]).toEqual([422, [at]]);
    const changed = await ask('PUT', `/v1/${path}/quarry`, wrong, { 'if-match': '*' });
    expect([changed.statusCode, Object.keys(pointersOf(changed))]).toEqual([422, [at]]);
    expect(pointersOf(await ask('POST', `/v1/${path}`, { id: 'a b', ...body }))).toEqual({ '/id': 'VALUE_WRONG' });
    expect((await ask('GET', `/v1/${path}/wrong`)).statusCode).toBe(404);
  });
});

describe('parts that cannot be', () => {
  it.each([
    [{ kind: 'winsh' }, '/kind', 'KIND_UNKNOWN'],
    [{ kind: 'part' }, '/kind', 'KIND_ABSTRACT'],
    [{ attributes: { weight: '3 kg' } }, '/attributes/weight', 'ATTRIBUTE_UNKNOWN'],
    [{ attributes: { mass: 38 } }, '/attributes/mass', 'UNIT_MISSING'],
  ])('%j', async (more, pointer, code) => {
    const response = await ask('POST', '/v1/parts', { id: 'wrong', kind: 'winch', name: 'x', attributes: {}, ...more });
    expect([response.statusCode, pointersOf(response)[pointer]]).toEqual([422, code]);
  });
});

describe('an import', () => {
  const csv = (rows: readonly string[], heading = 'id,kind,name,maker,mass [kg],overall_diameter') => [heading, ...rows].join('\n');
  const importing = (body: unknown, query = '') => ask('POST', `/v1/imports/parts${query}`, body);
  const part = async (id: string) => (await ask('GET', `/v1/parts/${id}`)).json();

  it('of a table: units from the heading or the cell, empty cells left out, the same again changes nothing', async () => {
    const table = csv(['t-1,tyre,"Tyre, one",Orrisbeck,20,800 mm ± 2', 't-2,tyre,Two,,20 ± 0.5,31.5 in', '', 't-3,tyre,Three,,45 lb,']);
    expect((await importing(`\ufeff${table}`)).json()).toMatchObject({
      rows: 3,
      added: 3,
      changed: 0,
      unchanged: 0,
      refused: 0,
      faults: [],
    });
    expect(await part('t-1')).toEqual({
      id: 't-1',
      version: 1,
      kind: 'tyre',
      name: 'Tyre, one',
      maker: 'Orrisbeck',
      attributes: { mass: '20 kg', overall_diameter: '800 mm ± 2' },
    });
    expect((await part('t-2')).attributes).toEqual({ mass: '20 kg ± 0.5 kg', overall_diameter: '31.5 in' });
    expect((await part('t-3')).attributes).toEqual({ mass: '45 lb' });
    expect((await importing(table)).json()).toMatchObject({ rows: 3, added: 0, changed: 0, unchanged: 3 });
    expect((await importing(table.replace('Two', 'Zwei'))).json()).toMatchObject({ changed: 1, unchanged: 2 });
    expect(await part('t-2')).toMatchObject({ version: 2, name: 'Zwei' });
  });

  it('reads semicolons and tabs', async () => {
    for (const [i, delimiter] of [';', '\t'].entries()) {
      const table = [`id;kind;name;mass`, `d-${i};winch;W;38 kg`].join('\n').replaceAll(';', delimiter);
      expect((await importing(table)).json()).toMatchObject({ added: 1 });
    }
  });

  const faulty = csv([
    'f-1,tyre,Fine,,20,800 mm',
    'f-2,tire,Kind,,20,',
    'f-3,tyre,,,20,',
    'f-4,tyre,Mass,,20 mm,lots',
    'f-1,tyre,Again,,,',
    'f-6,tyre,Short',
    'f 7,tyre,Id,,,',
    'f-8,winch,No diameter,,,800 mm',
  ]);
  const faults = [
    [2, 'kind', 'KIND_UNKNOWN'],
    [3, 'name', 'FIELD_MISSING'],
    [4, 'mass [kg]', expect.any(String)],
    [4, 'overall_diameter', expect.any(String)],
    [5, 'id', 'ID_TWICE'],
    [6, undefined, 'ROW_LENGTH'],
    [7, 'id', 'VALUE_WRONG'],
    [8, 'overall_diameter', 'ATTRIBUTE_UNKNOWN'],
  ];

  it('takes all or nothing, and names every fault by row and column', async () => {
    const response = await importing(faulty);
    expect([response.statusCode, response.json().code, faultsOf(response)]).toEqual([422, 'IMPORT_INVALID', faults]);
    expect(response.json().faults[0]).toMatchObject({ pointer: '/1/kind', help: expect.stringContaining('did you mean `tyre`') });
    expect((await part('f-1')).status).toBe(404);
  });

  it('takes the good rows when asked, with the same faults', async () => {
    const response = await importing(faulty, '?take=good');
    expect(response.json()).toMatchObject({ rows: 8, added: 1, refused: 7, faults_left_out: 0 });
    expect(faultsOf(response)).toEqual(faults);
    expect(await part('f-1')).toMatchObject({ name: 'Fine', version: 1 });
  });

  it('of a list in JSON is the same', async () => {
    const rows = [
      { id: 'j-1', kind: 'winch', name: 'One', attributes: { mass: '38 kg' } },
      { id: 'j-2', kind: 'winch', name: 'Two', attributes: { mass: '38 mm', 'a/b': '1' } },
      { id: 'j-3', kind: 'winch', nmae: 'Three', name: 'Three', attributes: {} },
      7,
    ];
    const all = await importing(rows);
    expect([all.statusCode, faultsOf(all).map(([row, column]) => [row, column])]).toEqual([
      422,
      [
        [2, 'attributes.mass'],
        [2, 'attributes.a/b'],
        [3, 'nmae'],
        [4, undefined],
      ],
    ]);
    expect((await importing(rows, '?take=good')).json()).toMatchObject({ rows: 4, added: 1, refused: 3 });
  });

  it('of vehicles has places in its headings', async () => {
    const heading = 'id,class,name,wheelbase [mm],axle_rating.front,axle_rating.rear [kg]';
    const fine = 'v-1,midsize_independent_front,One,3200 ± 5,1450 kg,1650';
    expect((await ask('POST', '/v1/imports/vehicles', `${heading}\n${fine}`)).json()).toMatchObject({ added: 1 });
    expect((await ask('GET', '/v1/vehicles/v-1')).json().values).toEqual({
      wheelbase: '3200 mm ± 5 mm',
      axle_rating: { front: '1450 kg', rear: '1650 kg' },
    });
    const wrong = await ask('POST', '/v1/imports/vehicles', `${heading}\n${fine.replace('midsize', 'middle').replace('v-1', 'v-2')}`);
    expect(faultsOf(wrong)).toEqual([[1, 'class', 'CLASS_UNKNOWN']]);
    const mass = await ask('POST', '/v1/imports/vehicles', `${heading}\n${fine.replace('1450 kg', '1450 mm')}`);
    expect(faultsOf(mass)).toEqual([[1, 'axle_rating.front', expect.any(String)]]);
  });

  it.each([
    ['id,kind,nmae\nx,tyre,y', 'nmae', 'COLUMN_UNKNOWN'],
    ['id,kind\nx,tyre', 'name', 'COLUMN_MISSING'],
    ['id,kind,name,mass,mass [kg]\nx,tyre,y,,', 'mass [kg]', 'COLUMN_TWICE'],
    ['', 'id', 'COLUMN_MISSING'],
    ['id,kind,name\nx,tyre,"y\n', undefined, 'CSV_MALFORMED'],
    ['id,kind,name\nx,tyre,y"z"\n', undefined, 'CSV_MALFORMED'],
  ])('refuses the heading or text %j in either way', async (table, column, code) => {
    for (const query of ['', '?take=good']) {
      const response = await importing(table, query);
      expect(response.statusCode).toBe(422);
      expect(faultsOf(response)).toContainEqual([code === 'CSV_MALFORMED' ? expect.any(Number) : undefined, column, code]);
    }
  });

  it('sent again with its key is answered and not done again', async () => {
    const table = csv(['k-1,tyre,Keyed,,20,']);
    const send = () => ask('POST', '/v1/imports/parts', table, { 'idempotency-key': 'import-1' });
    expect([(await send()).json().added, (await send()).json().added]).toEqual([1, 1]);
  });

  it('lists the first thousand faults and counts the rest', async () => {
    const rows = Array.from({ length: 1200 }, (_, i) => `many-${i},tyre,,,20,`);
    const response = await importing(csv(rows), '?take=good');
    expect([response.json().refused, response.json().faults.length, response.json().faults_left_out]).toEqual([1200, 1000, 200]);
  });
});

describe('a table as spreadsheets write it', () => {
  const importing = (table: string, query = '') => ask('POST', `/v1/imports/parts${query}`, table);

  it('may have capitals, spaces and round brackets in its headings', async () => {
    const table = 'ID,Kind,Name,Mass (kg),Overall Diameter [mm]\ncap-1,tyre,One,20,800';
    expect((await importing(table)).json()).toMatchObject({ added: 1, faults: [] });
    expect((await ask('GET', '/v1/parts/cap-1')).json().attributes).toEqual({ mass: '20 kg', overall_diameter: '800 mm' });
  });

  it('with a column of its own is told of it and of every row; the column is left out when asked', async () => {
    const table = 'id,kind,name,price,mass [kg]\ncol-1,winch,One,99,38\ncol-2,winch,,99,38';
    const refused = await importing(table, '?take=good');
    expect([refused.statusCode, refused.json().detail]).toEqual([422, expect.stringContaining('`price`')]);
    expect(faultsOf(refused)).toEqual([
      [undefined, 'price', 'COLUMN_UNKNOWN'],
      [2, 'name', 'FIELD_MISSING'],
    ]);
    expect(refused.json().faults[0].help).toContain('ignore=price');
    expect((await importing(table, '?take=good&ignore=Price')).json()).toMatchObject({ added: 1, refused: 1 });
  });

  it('is told of by the rows that the spreadsheet shows, empty ones among them', async () => {
    const faults = (await importing('id,kind,name\n\nsheet-1,winch,One\nsheet-2,winch,\n')).json().faults;
    expect(faults).toEqual([expect.objectContaining({ row: 2, sheet_row: 4, column: 'name' })]);
  });

  it('with a zero byte in a cell is refused there', async () => {
    const response = await importing('id,kind,name\nz-1,winch,On\0e');
    expect([response.statusCode, faultsOf(response)]).toEqual([422, [[1, 'name', 'TEXT_WRONG']]]);
  });
});
