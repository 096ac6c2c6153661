/** What people commonly get wrong, and whether the answer tells them how to mend it. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { App } from '../api/app.ts';
import { readSettings } from '../api/settings.ts';
import { testApp } from '../api/testing.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { readArguments } from './arguments.ts';
import { readBuild } from './read-build.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

async function faultsOf(build: object): Promise<RequestFault[]> {
  const response = await app.inject({ method: 'POST', url: '/v1/checks', payload: build });
  expect([400, 422]).toContain(response.statusCode);
  return (response.json() as { faults: RequestFault[] }).faults;
}

const own = { from: 'inline', class: 'midsize_independent_front' };
const ghyll = { from: 'catalogue', vehicle: 'merrowdale-ghyll' };
const part = (more: object) => ({ vehicle: own, parts: [{ from: 'inline', kind: 'body_lift', ...more }] });
const tyre = { from: 'catalogue', part: 'orrisbeck-trail-265', at: 'all' };

describe('a decimal comma in a file', () => {
  const read = (text: string) => {
    const file = join(mkdtempSync(join(tmpdir(), 'fettle-')), 'comma.yaml');
    writeFileSync(file, text);
    const found = readBuild(file);
    return found.ok ? undefined : found.faults[0];
  };

  it('is told where it stands, with the point', () => {
    const text = `vehicle:
  from: inline
  class: midsize_independent_front
  measured:
    - { quantity: wheelbase, value: 3200 mm }
    - { quantity: tyre_gap, of: cab-mounts, value: 14,5 mm }`;
    expect(read(text)).toMatchObject({
      pointer: '/vehicle/measured/1/value',
      message: expect.stringContaining('`14,5 mm`'),
      help: 'write `14.5 mm`, with a point',
    });
  });

  it('in a text that no number follows is told to stand in quotes', () => {
    const text = `vehicle: { from: inline, class: midsize_independent_front }
parts: [{ from: inline, kind: winch, name: big, heavy one }]`;
    expect(read(text)).toMatchObject({ pointer: '/parts/0/name', help: 'put the text in quotes' });
  });
});

describe('what check is called with', () => {
  it.each([
    [['a.yaml', '--unit', 'us'], 'did you mean `--units`?'],
    [['a.yaml', '--al'], 'did you mean `--all`?'],
    [['a.yaml', 'b.yaml'], 'one file is checked at a time'],
    [['a.yaml', '--units', 'feet'], '`metric` or `us`'],
    [['a.yaml', '--units'], '`metric` or `us`'],
    [['--json'], 'no file is named'],
  ])('%j is refused with its fix', (args, help) => expect(readArguments(args)).toEqual({ fault: expect.stringContaining(help) }));

  it('is taken', () => {
    expect(readArguments(['a.yaml'])).toEqual({ file: 'a.yaml', json: false, all: false, alternatives: false });
    expect(readArguments(['--units=us', '--json', 'a.yaml'])).toEqual({
      file: 'a.yaml',
      json: true,
      all: false,
      alternatives: false,
      units: 'us',
    });
  });
});

describe('a build in fault', () => {
  it.each<[string, object, string, string]>([
    ['a vehicle mistyped', { vehicle: { ...ghyll, vehicle: 'merrowdale-ghyl' } }, '/vehicle/vehicle', 'did you mean `merrowdale-ghyll`?'],
    [
      'a part mistyped',
      { vehicle: ghyll, parts: [{ ...tyre, part: 'orrisbek-trail-265' }] },
      '/parts/0/part',
      'did you mean `orrisbeck-trail-265`?',
    ],
    ['a class unlike any', { vehicle: { from: 'inline', class: 'heavy' } }, '/vehicle/class', '/v1/classes lists them all'],
    ['a kind unlike any', part({ kind: 'leveling_kit' }), '/parts/0/kind', '/v1/kinds lists them all'],
    [
      'a quantity unlike any',
      { vehicle: { ...own, measured: [{ quantity: 'hubcap', value: '1 mm' }] } },
      '/vehicle/measured/0/quantity',
      '/v1/quantities lists them all',
    ],
    [
      'a word of an attribute',
      part({ kind: 'front_coilover', at: 'front', attributes: { height: '2 in' } }),
      '/parts/0/attributes/height',
      'did you mean `height_added`',
    ],
    ['a speed without its unit', { vehicle: own, use: { top_speed: 75 } }, '/use/top_speed', '"75 mph"'],
    [
      'a load of no place',
      { vehicle: own, load: { items: [{ name: 'x', mass: '9 kg' }] } },
      '/load/items/0/behind_front_axle',
      'such as "behind_front_axle": "3.2 m"',
    ],
    ['a vehicle of no class', { vehicle: { from: 'inline' } }, '/vehicle/class', 'such as "class": "midsize_independent_front"'],
    ['a name for a vehicle', { vehicle: 'x' }, '/vehicle', '{ "from": "catalogue", "vehicle": "merrowdale-ghyll" }'],
  ])('%s', async (_, build, pointer, help) => {
    const fault = (await faultsOf(build)).find((each) => each.pointer === pointer);
    expect(fault?.help).toContain(help);
  });

  it('a fault of one part at four corners is told once', async () => {
    const faults = await faultsOf({ vehicle: ghyll, parts: [{ ...tyre, replaces: 'road-tyre' }] });
    expect(faults.filter(({ pointer }) => pointer === '/parts/0/replaces')).toMatchObject([{ help: 'did you mean `road-tyres`?' }]);
  });

  it('faults of the parts and the use are told together with an unknown vehicle', async () => {
    const faults = await faultsOf({
      vehicle: { from: 'catalogue', vehicle: 'nothing-like-it' },
      parts: [
        { from: 'inline', kind: 'body_lift', attributes: { height: '25' } },
        { from: 'inline', kind: 'bodylift' },
      ],
      use: { top_speed: '75' },
    });
    expect(faults.map(({ pointer }) => pointer).sort()).toEqual([
      '/parts/0/attributes/height',
      '/parts/1/kind',
      '/use/top_speed',
      '/vehicle/vehicle',
    ]);
  });

  it.each([
    ['a: b: c', 'stands in quotes'],
    ['a:\n\t- b', 'with spaces'],
    ['vehicle: [', 'every bracket is closed'],
    ['a: "x', 'check the quotes'],
  ])('YAML such as %j', (text, help) => {
    const file = join(mkdtempSync(join(tmpdir(), 'fettle-')), 'build.yaml');
    writeFileSync(file, text);
    expect(readBuild(file)).toMatchObject({
      ok: false,
      faults: [{ message: expect.stringMatching(/at line \d/), help: expect.stringContaining(help) }],
    });
  });
});

describe('the service asked wrongly', () => {
  it('names the method that a path takes', async () => {
    expect((await app.inject({ method: 'GET', url: '/v1/checks' })).json().detail).toContain('`POST` is');
  });

  it('refuses a kind there is not, and lists the parts of one there is', async () => {
    const response = await app.inject({ method: 'GET', url: '/v1/parts?kind=tyres' });
    expect([response.statusCode, response.json().faults]).toMatchObject([400, [{ pointer: '/kind', help: 'did you mean `tyre`?' }]]);
    expect((await app.inject({ method: 'GET', url: '/v1/parts?kind=tyre' })).json().items.length).toBeGreaterThan(1);
  });

  it.each(['abc', '70000', '1.5'])('says what a port is when given %s', (PORT) => {
    expect(readSettings({ PORT })).toEqual({ ok: false, faults: ['PORT: a whole number from 0 to 65535 is expected'] });
  });
});
