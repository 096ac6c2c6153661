import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseDesignation } from '../models/tyres/designation.ts';
import { checker } from '../workshop/testing.ts';
import { compareTyres } from '../workshop/tyre-comparison.ts';
import { tyreFacts } from '../workshop/tyre-facts.ts';
import type { App } from './app.ts';
import { testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const ask = (path: string) => app.inject({ method: 'GET', url: `/v1/tyres/${path}` });
const of = (typed: string, query = '') => ask(`${encodeURIComponent(typed)}${query}`);

describe('GET /v1/tyres/{designation}', () => {
  it('tells dimensions, rims and ratings with what they rest on', async () => {
    const response = await of('P265/70R16 111T');
    expect(response.statusCode).toBe(200);
    const facts = response.json();
    // Section height 185.5 mm goes up to 186: 406 + 372 = 778 mm (UN R30 table, second-hand); 778 mm turns 421.4 times a kilometre.
    expect(facts.dimensions.overall_diameter).toEqual({ value: 778, least: 766.8, most: 792.9, unit: 'mm' });
    expect(facts.dimensions.revolutions).toEqual({ value: 421.4, unit: '1/km' });
    expect(facts.rating).toMatchObject({ load_index: 111, load: { value: 1090, unit: 'kg' }, speed: { value: 190, unit: 'km/h' } });
    // 49 CFR 571.120: 1090 / 1.10.
    expect(facts.rating.on_truck).toEqual({ value: 990, unit: 'kg' });
    expect(facts.rims.measuring).toEqual({ value: 8, unit: 'in' });
    expect(facts.sources.map(({ source }: { source?: string }) => source)).toEqual(expect.arrayContaining(['un-r30', 'cfr-571-120']));
    for (const source of facts.sources) expect(source.kind === 'common-practice' || source.read !== undefined).toBe(true);
  });

  it('takes strokes as dashes, and answers in either units', async () => {
    const facts = (await ask('LT285-70R17%20121-118Q%20E?units=us&load=1500lb&pressure=40psi&rim_width=8.5in')).json();
    expect(facts.designation).toBe('LT285/70R17 121/118Q E');
    expect(facts.dimensions.overall_diameter).toMatchObject({ value: 32.76, unit: 'in' });
    expect(facts.dimensions.revolutions.unit).toBe('1/mi');
    expect(facts.rating.load.unit).toBe('lb');
    expect(facts.dimensions.loaded_radius.value).toBeGreaterThan(14.5);
    expect(facts.dimensions.loaded_radius.value).toBeLessThan(16.38);
    expect(facts.off_road).toHaveLength(3);
    expect(facts.pressure_needed.unit).toBe('psi');
  });

  it('says of plain talk what it does not say', async () => {
    const facts = (await of('33s')).json();
    expect(facts).toMatchObject({ form: 'plain', rim_diameter: null, rims: null, dimensions: { section_width: null } });
    expect(facts.not_said.join(' ')).toMatch(/states no width/);
    expect(facts.not_said.join(' ')).toMatch(/no load index/);
    expect(facts.loads).toEqual([]);
  });

  it('tells what a pressure carries, where it is too low, and where it is more than the sidewall allows', async () => {
    const low = (await of('265/70R17 115S', '?load=1000kg&pressure=25psi')).json();
    expect(low.carries.value).toBeLessThan(1000);
    expect(low.not_said.join(' ')).toMatch(/too little for 1000 kg/);
    const high = (await of('265/70R17 115S', '?load=700kg&pressure=100psi')).json();
    expect(high.not_said.join(' ')).toMatch(/more than sidewalls of that kind allow/);
    const right = (await of('265/70R17 115S', '?load=700kg&pressure=35psi')).json();
    expect(right.not_said).toEqual([]);
  });

  it('tells the lower load below the rated pressure, what tables may print above it, and says which side is safe', async () => {
    const facts = (await of('35x12.50R17LT 121Q E', '?units=us&load=2405lb&pressure=35psi')).json();
    // A trade page's flotation table (second-hand): 2405 lb at 35 psi, 3195 lb at 65 psi. By the law 3195·(35/65)^0.7 = 2072 lb.
    expect(facts.carries.value).toBeLessThanOrEqual(2405);
    expect(facts.carries.value).toBeGreaterThan(2050);
    expect(facts.carries.plus_minus).toBeUndefined();
    // The load of the table at 35 psi asks by the lower load for 65·(2405/3197)^(1/0.7) = 43.3 psi.
    expect(facts.pressure_needed.value).toBeGreaterThan(43);
    expect(facts.pressure_needed.value).toBeLessThan(45);
    expect(facts.safe_side).toMatch(/lower ones.*18 %.*pressure needed goes by the lower load/);
    const at35 = facts.loads.find(({ pressure }: { pressure: { value: number } }) => Math.abs(pressure.value - 36.3) < 0.5);
    expect(at35.tables_up_to.value / at35.load.value).toBeCloseTo(1.18, 2);
    const { rating, loads } = facts;
    expect([rating.load.value, rating.on_truck.value, loads.at(-1).load.value]).toEqual([3197, 3197, 3197]);
    expect(loads.at(-1).tables_up_to).toBeUndefined();
    for (const { load, tables_up_to: most } of loads) if (most) expect(most.value).toBeGreaterThanOrEqual(load.value);
  });

  it('tells a passenger tyre’s with its tolerance either way', async () => {
    const facts = (await of('265/70R17 115S')).json();
    expect(facts.loads[0].load.plus_minus).toBeGreaterThan(0);
    expect(facts.loads[0].tables_up_to).toBeUndefined();
    expect(facts.safe_side).toMatch(/count on the lower end/);
  });

  it('says of a bare size what it is taken for, and of a high wall that its sidewall must say', async () => {
    expect((await of('265/75R16')).json().not_said.join(' ')).toMatch(/taken for a passenger tyre/);
    const tall = (await of('235/85-16')).json();
    expect(tall).toMatchObject({ made_for: 'light-truck or commercial', rating: { pressure: null } });
    expect(tall.not_said.join(' ')).toMatch(/LT or C\?/);
  });

  it('puts readings in place of what the size says', async () => {
    const { dimensions } = (await of('33x12.50R17', '?measured_diameter=32.6in&new_tread=15mm&tread=5mm')).json();
    expect(dimensions.measured).toBe(true);
    expect(dimensions.overall_diameter).toMatchObject({ value: 828, least: 828, most: 828.1 });
    expect(dimensions.worn_diameter).toEqual({ value: 808, unit: 'mm' });
  });

  it('tells more load at more pressure, up to the rating and no further', async () => {
    const { loads, rating } = (await of('LT235/85R16 120/116R E')).json();
    const carried = loads.map(({ load }: { load: { value: number } }) => load.value);
    expect(carried).toEqual([...carried].sort((a: number, b: number) => a - b));
    expect(carried.at(-1)).toBe(rating.load.value);
    expect(loads.at(-1).pressure).toEqual(rating.pressure);
  });

  it('asks back where it cannot read, and says why a size cannot be', async () => {
    const typo = await of('265/17R70');
    expect(typo.statusCode).toBe(422);
    expect(typo.json()).toMatchObject({
      code: 'TYRE_UNREADABLE',
      faults: [{ pointer: '/designation', help: 'did you mean `265/70R17`?' }],
    });
    expect((await of('33x20R26')).json().detail).toContain('too low for a tyre 20 in wide');
  });

  it('names every fault of the query', async () => {
    const wrong = await of('265/70R17', '?load=600&pressure=-3%20psi&rim_width=8%20kg');
    expect(wrong.statusCode).toBe(400);
    expect(
      wrong
        .json()
        .faults.map(({ pointer }: { pointer: string }) => pointer)
        .sort(),
    ).toEqual(['/load', '/pressure', '/rim_width']);
    expect((await of('265/70R17', '?colour=black')).statusCode).toBe(400);
  });

  it('says that no pressure makes up for a load beyond the rating', async () => {
    const facts = (await of('265/70R16 112S', '?load=1100kg')).json();
    expect(facts.pressure_needed).toBeNull();
    expect(facts.not_said.join(' ')).toContain('no pressure makes up for that');
  });
});

describe('GET /v1/tyres/{designation}/compare/{other}', () => {
  it('tells what a bigger tyre changes', async () => {
    const response = await ask(`${encodeURIComponent('265/65R17 112T')}/compare/${encodeURIComponent('LT285/70R17 121/118Q E')}`);
    expect(response.statusCode).toBe(200);
    const { differences, speedometer, gearing, says } = response.json();
    // 432 + 2·172 = 776 mm; 432 + 2·200 = 832 mm: 56 mm, 7.2 %; at a true 100 km/h it shows 776/832 = 93.3.
    expect(differences.overall_diameter).toMatchObject({ value: 56, unit: 'mm' });
    expect(differences.ground_clearance.value).toBe(28);
    expect(differences.gap_round_the_tread.value).toBe(-28);
    expect(differences.same_rim).toBe(true);
    expect(speedometer).toMatchObject({ at: { value: 100, unit: 'km/h' }, shows: { value: 93.3, unit: 'km/h' } });
    expect(gearing).toEqual({ effective: 0.9327, to_match: 1.0722 });
    expect(differences.rated_load_on_truck.value).toBe(Math.round(1450 - 1120 / 1.1));
    expect(says.join(' ')).toContain('asks for more pressure');
  });

  it('leaves open what one of them does not say', async () => {
    const { differences, says } = (await ask(`33s/compare/${encodeURIComponent('285/75R16')}`)).json();
    expect(differences).toMatchObject({ section_width: null, rated_load: null, speed: null, same_rim: null });
    expect(differences.overall_diameter.least).toBeLessThan(differences.overall_diameter.most);
    expect(says.some((said: string) => said.includes('NaN'))).toBe(false);
  });

  it('points at the one that cannot be read', async () => {
    const response = await ask(`${encodeURIComponent('265/65R17')}/compare/${encodeURIComponent('265/72R17')}`);
    expect(response.json().faults).toMatchObject([{ pointer: '/other', help: 'did you mean `265/70R17`?' }]);
  });

  it('of a tyre with itself is nothing, and turned round is the opposite', () => {
    const sizes = ['265/65R17 112T', 'LT285/70R17 121/118Q E', '33x12.50R15LT 108Q C', '7.50R16 122/118L', 'P265/70R16 111T'] as const;
    const tyre = (typed: string) => {
      const read = parseDesignation(typed);
      if (!read.ok) throw new Error(read.reason);
      return read.value;
    };
    fc.assert(
      fc.property(fc.constantFrom(...sizes), fc.constantFrom(...sizes), (a, b) => {
        const there = compareTyres([tyre(a), tyre(b)], {}, checker.library, 'metric').differences;
        const back = compareTyres([tyre(b), tyre(a)], {}, checker.library, 'metric').differences;
        expect((there.overall_diameter?.value ?? Number.NaN) + (back.overall_diameter?.value ?? Number.NaN)).toBe(0);
        expect(Math.abs((there.section_width?.least ?? Number.NaN) + (back.section_width?.most ?? Number.NaN))).toBeLessThanOrEqual(1);
        if (a === b) expect(there).toMatchObject({ overall_diameter: { value: 0 }, rated_load: { value: 0 }, same_rim: true });
      }),
    );
  });

  it('holds every number it tells between its least and most', () => {
    for (const typed of ['265/65R17', '33s', '185R14C', '7.50R16', '285/45R20', '33x12.50D15']) {
      const read = parseDesignation(typed);
      if (!read.ok) throw new Error(read.reason);
      const { overall_diameter: d, section_width: w } = tyreFacts(read.value, {}, checker.library, 'metric').dimensions;
      for (const told of [d, w]) if (told) expect(told.least <= told.value && told.value <= told.most).toBe(true);
    }
  });
});
