/** What the cells of a row come to, and what is said of those that cannot be read. Expectations are written by hand. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { findColumns } from './columns.ts';
import { isNote, isTotals } from './open-sheet.ts';
import { type Names, readBuild } from './row-request.ts';
import { headings, library } from './testing.ts';

const root = join(import.meta.dirname, '../..');
const names: Names = {
  vehicle: async (text) =>
    text === 'ghyll' ? { from: 'catalogue', id: 'ghyll' } : library.classes.has(text) ? { from: 'class', id: text } : undefined,
  part: async (text) => (text.startsWith('winch-') ? { id: text, kind: 'winch' } : undefined),
  like: async (noun, text) =>
    noun === 'vehicle' && text.startsWith('gh') ? ['ghyll'] : text.startsWith('winsch') ? ['winch-36', 'winch-45'] : [],
};
const readRow = async (titles: string, cells: string) => {
  const row = (n: number, line: string) => ({ n, cells: line.split('|') });
  const columns = findColumns([row(1, titles), row(2, cells)], headings, undefined);
  return readBuild([row(2, cells)], columns, { headings, library, names }, { units: 'us' });
};
const partsOf = async (titles: string, cells: string) => (await readRow(titles, cells)).request?.parts;
const faultsOf = async (titles: string, cells: string) => (await readRow(titles, cells)).faults;

describe('a row', () => {
  it.each([
    ['12k', '12000 lbf'],
    ['9.5 K', '9500 lbf'],
    ['10k lb', '10000 lb'],
    ['45 kN', '45 kN'],
  ])('with a winch of %s asks for one of %s', async (cell, pull) =>
    expect(await partsOf('vehicle|winch', `ghyll|${cell}`)).toMatchObject([{ kind: 'winch', attributes: { line_pull: pull } }]),
  );
  it('takes thousands in the unit of the heading', async () =>
    expect(await partsOf('vehicle|winch [lb]', 'ghyll|12k')).toMatchObject([{ attributes: { line_pull: '12000 lb' } }]));

  it('that says one thing twice otherwise names both columns', async () => {
    for (const [titles, cells, both] of [
      ['vehicle|offset [mm]|ET', 'ghyll|25|10', ['ET', 'offset [mm]']],
      ['vehicle|wheel|offset [mm]', 'ghyll|17x8 ET10|25', ['offset [mm]', 'wheel']],
      ['vehicle|lift [in]|front lift [in]', 'ghyll|2|3', ['front lift [in]', 'lift [in]']],
      ['vehicle|truck', 'ghyll|van', ['truck', 'vehicle']],
      ['vehicle|winch|winch pull', 'ghyll|winch-36|winch-45', ['winch pull', 'winch']],
      ['class|gvwr [kg]|GVM [kg]', 'van|3000|3500', ['GVM [kg]', 'gvwr [kg]']],
    ] as const) {
      const [fault] = await faultsOf(titles, cells);
      expect(fault, titles).toMatchObject({ row: 2, column: both[0], help: 'leave one of the two columns empty' });
      expect(fault?.message, titles).toContain(`\`${both[1]}\` says`);
    }
    expect(await faultsOf('vehicle|offset [mm]|ET', 'ghyll|25|25')).toEqual([]);
  });

  it('with a name nobody knows is told what it may have meant', async () => {
    expect((await faultsOf('vehicle', 'ghill'))[0]).toMatchObject({
      column: 'vehicle',
      help: expect.stringMatching(/^did you mean `ghyll`\? Else give/),
    });
    expect((await faultsOf('vehicle|accessories', 'ghyll|winsch'))[0]?.help).toMatch(/^did you mean `winch-36` or `winch-45`\?/);
    expect((await faultsOf('vehicle', 'flurbo'))[0]?.help).toMatch(/^give the id/);
  });

  it('with a tyre of no size there is says why, and is not checked on the tyres it has', async () => {
    expect((await faultsOf('vehicle|tire size', 'ghyll|265/70R71'))[0]).toMatchObject({
      column: 'tire size',
      message: expect.stringContaining('a rim of 71 in is outside 10 to 26; did you mean `265/70R17`?'),
    });
    for (const cell of ['banana', '#N/A']) expect(await faultsOf('vehicle|tire size', `ghyll|${cell}`), cell).toHaveLength(1);
    for (const cell of ['265/70-17', '33x12.5', '33s']) expect(await faultsOf('vehicle|tire size', `ghyll|${cell}`), cell).toEqual([]);
  });

  it('takes a bare 1 for a number under a heading with a unit, and asks what it is of a lift without one', async () => {
    expect(await partsOf('vehicle|Body Lift [in]', 'ghyll|1')).toMatchObject([{ kind: 'body_lift', attributes: { height: '1 in' } }]);
    expect(await partsOf('vehicle|BL (in)', 'ghyll|1')).toMatchObject([{ attributes: { height: '1 in' } }]);
    expect((await faultsOf('vehicle|bl', 'ghyll|1'))[0]).toMatchObject({ column: 'bl', message: '`1` may be a yes or a length' });
    expect(await partsOf('vehicle|winch', 'ghyll|1')).toMatchObject([{ kind: 'winch', attributes: {} }]);
  });

  it('with a value under a heading spelt nearly as one that is known is not checked without it', async () => {
    expect((await faultsOf('vehicle|Tyre sz', 'ghyll|banana'))[0]).toMatchObject({
      column: 'Tyre sz',
      help: 'did you mean `tyre size`? Rename it, or empty it',
    });
    expect(await faultsOf('vehicle|Year|Notes|Owner', 'ghyll|2019|a|b')).toEqual([]);
  });

  it.each([
    ['Tires I want', '37x13.50R17', 'did you mean `tyre`?'],
    ['Lift in front', '6 in', 'did you mean `front lift`?'],
    ['Roof tent [lb]', '150', 'name it as one of'],
  ])('with a figure under `%s` is not checked without it', async (heading, cell, help) => {
    const [fault] = await faultsOf(`vehicle|${heading}`, `ghyll|${cell}`);
    expect(fault).toMatchObject({ row: 2, column: heading, message: expect.stringContaining('would be left out') });
    expect(fault?.help).toContain(help);
  });

  it('says which of its cells were not read, and what was assumed of it', async () => {
    const { request, remarks } = await readRow('vehicle|Owner|Tyre price|Year|load in bed [kg]', 'ghyll|Jo|200|2019|250');
    expect(remarks).toEqual([
      'where the load lies was not said: in the bed, 0.1 m, give or take 0.5 m behind the rear axle',
      'not read: Owner, Tyre price, Year',
      'nobody was said to ride in it: the driver alone was counted',
    ]);
    expect(request?.load).toEqual({ occupants: 1, items: [{ name: 'load', mass: '250 kg', behind_rear_axle: '0.1 m ± 0.5 m' }] });
    expect((await readRow('vehicle|people', 'ghyll|0')).remarks).toEqual([]);
  });

  it('has its load where a question has it', () => {
    const { places } = parse(readFileSync(join(root, 'services/questions/words/words.yaml'), 'utf8'));
    expect(headings.loadPlace.behind_rear_axle).toBe(places.bed.behind_rear_axle ?? 'nothing');
  });

  it('takes a reading of what is worked out else, where there is a way to measure it', async () =>
    expect((await readRow('vehicle|tyre_gap of cab-mounts [mm]', 'ghyll|24')).request?.vehicle).toMatchObject({
      measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: '24 mm' }],
    }));

  it('takes a levelling kit for a lift of the front', async () =>
    expect(await partsOf('vehicle|Leveling kit (in)', 'ghyll|2')).toMatchObject([
      { kind: 'front_coilover', attributes: { height_added: '2 in' } },
    ]));

  it('names the column that has a vehicle, where its heading says nothing', async () =>
    expect((await faultsOf('My rig no|people', 'ghyll|2'))[0]).toMatchObject({
      column: 'My rig no',
      help: 'rename it `vehicle`',
    }));

  it('that says the same in two units says one thing', async () => {
    expect(await faultsOf('vehicle|front lift [mm]|lift', 'ghyll|50.8|2 in')).toEqual([]);
    expect(await faultsOf('vehicle|offset|ET', 'ghyll|25.0 mm|25')).toEqual([]);
    expect(await faultsOf('vehicle|load [lb]|cargo [kg]', 'ghyll|100|45.359237')).toEqual([]);
    expect(await faultsOf('vehicle|front lift [mm]|lift', 'ghyll|50|2 in')).toHaveLength(1);
  });

  it('that names a part twice is asked which is meant', async () => {
    for (const [titles, cells] of [
      ['vehicle|winch|accessories', 'ghyll|winch-36|winch-36; winch-45'],
      ['vehicle|accessories|winch', 'ghyll|winch-36|winch-36'],
    ] as const)
      expect((await faultsOf(titles, cells))[0]?.message, titles).toMatch(
        /^the part `winch-36` is named twice, here and in `(winch|accessories)`$/,
      );
    expect((await faultsOf('vehicle|accessories', 'ghyll|winch-36; winch-36'))[0]?.message).toBe('the part `winch-36` is named twice');
  });

  it('with more parts in a cell than any has is not looked through', async () =>
    expect((await faultsOf('vehicle|accessories', `ghyll|${'a;'.repeat(61)}`)).map(({ message }) => message)).toEqual([
      'it names 61 parts',
    ]));

  it('with an error of the spreadsheet in a cell says so once, by its column', async () =>
    expect(await faultsOf('vehicle|Lift|Tire diameter', 'ghyll|#REF!|#DIV/0!')).toEqual([
      { row: 2, column: 'Lift', message: '`#REF!` is an error of the spreadsheet', help: 'mend the formula of the cell, or empty it' },
      expect.objectContaining({ column: 'Tire diameter' }),
    ]));

  it('reads lengths with fractions as people write them, and never guesses what a comma is', async () => {
    for (const cell of ['2 1/2"', '2-1/2 in', '2½"'])
      expect(await partsOf('vehicle|body lift', `ghyll|${cell}`)).toMatchObject([{ attributes: { height: cell } }]);
    expect(await partsOf('vehicle|body lift (mm)', 'ghyll|40,5')).toMatchObject([{ attributes: { height: '40,5' } }]);
  });

  it('with a cell longer than any is told so; nothing of it is cut', async () =>
    expect((await faultsOf('vehicle|accessories', `ghyll|winch-36;${' '.repeat(33_000)};winch-45`))[0]?.message).toBe(
      'the cell is longer than 32767 characters',
    ));

  it('whose request has a fault is told it by the heading, never by our path', async () => {
    const read = await readRow('Truck|Pull of the winch|Winch', 'ghyll||12 apples');
    const fault = { pointer: '/parts/0/attributes/line_pull', code: 'X', message: 'm', help: 'h' };
    expect(read.locate(fault)).toEqual({ row: 2, column: 'Winch', message: 'm', help: 'h' });
  });
});

describe('a row of totals', () => {
  it.each([
    [['Total', '', '12', '1,340.5 kg'], true],
    [['', 'SUM:', '-3'], true],
    [['Grand total'], true],
    [['Total', 'merrowdale-ghyll', '12'], false],
    [['Totally new build', '12'], false],
    [['Tender 1', '12'], false],
    [['Sum', '265/70R17'], false],
    [['Total', '', '135', '$2,099.50', '€ 12', '(3)'], true],
  ])('%j: %s', (cells, is) => expect(isTotals({ n: 9, cells }, headings)).toBe(is));
});

describe('a note below the table', () => {
  it.each([
    [['Note: prices without tax'], true],
    [['', '* on request'], true],
    [['Note 1', 'merrowdale-ghyll'], false],
    [['Noted'], false],
    [['Tender: two', '3'], false],
  ])('%j: %s', (cells, is) => expect(isNote({ n: 9, cells }, headings)).toBe(is));
});
