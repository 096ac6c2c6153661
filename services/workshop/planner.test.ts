/** Plans of a small vehicle and of the demo's bold build. */

import { Decimal as Oracle } from 'decimal.js';
import ExcelJS from 'exceljs';
import { beforeAll, describe, expect, it } from 'vitest';
import { createChecker, type Plan, type PlanRequest } from './index.ts';
import { bitsOf } from './plan/setup-order.ts';
import { planSheet } from './plan-sheets/index.ts';
import { checker, demoBuild, demoCatalogue } from './testing.ts';
import { ROOF, SHAFT, type SmallRule, smallLibrary } from './testing-small.ts';

const TERMS: Pick<PlanRequest, 'shop' | 'estimate'> = {
  shop: { people: 1, start: '2026-12-01', km_per_week: 160 },
  estimate: {
    currency: 'EUR',
    labour: { default: '72.35' },
    contingency: '12.5 %',
    shop_supplies: '4 %',
    tax: [{ name: 'VAT', rate: '19.6 %' }],
  },
};
const small = createChecker(smallLibrary([ROOF, SHAFT]));
const smallRequest = (more: Partial<PlanRequest> = {}): PlanRequest =>
  ({
    vehicle: {
      from: 'inline',
      class: 'small',
      values: { roof_gap: '-40 mm ± 0' },
      fitted: [{ from: 'inline', kind: 'shaft', attributes: { engagement: '50 mm ± 0' } }],
    },
    ...more,
  }) as PlanRequest;
const nothing = { vehicles: new Map(), parts: new Map(), hash: 'small' };
const planOf = (request: PlanRequest): Plan => {
  const planned = small.plan(request, nothing);
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  return planned.plan;
};
const faultsOf = (request: PlanRequest) => {
  const planned = small.plan(request, nothing);
  return planned.ok ? [] : planned.faults.map(({ pointer, code }) => [pointer, code]);
};

describe('from a half-built state', () => {
  it('what was done is taken as done, and the rest remains', () => {
    expect(planOf(smallRequest()).check.work.steps.map(({ id }) => id)).toEqual(['raise-body', 'extend-shaft:shaft']);
    const plan = planOf(smallRequest({ state: { done: [{ step: 'raise-body' }] } }));
    expect(plan.check.work.steps.map(({ id }) => id)).toEqual(['extend-shaft:shaft']);
    expect(plan.done).toMatchObject([{ step: 'raise-body', as_built: false }]);
  });

  it('done with another amount than planned, the rest is planned from that', () => {
    const plan = planOf(smallRequest({ state: { done: [{ step: 'raise-body', amounts: { height: '60 mm' } }] } }));
    const [step] = plan.check.work.steps;
    // 50 mm engaged, 60 mm up, 25 mm must stay.
    expect(step?.amounts['amount']?.value).toBe(35);
  });

  it('is written so that nothing of a name is live in Markdown, and ids can be copied', async () => {
    const fitted = [{ from: 'inline', kind: 'shaft', name: '@everyone http://e.test', attributes: { engagement: '5 mm ± 0' } }];
    const accepted = [{ finding: 'shaft-engaged:shaft', by: 'A. Dale', date: '2026-12-01' }];
    const plan = planOf(smallRequest({ vehicle: { from: 'inline', class: 'small', fitted } as never, state: { accepted } }));
    const text = Buffer.from(await planSheet(plan, 'markdown')).toString();
    expect(text).not.toMatch(/@everyone|http:\/\/e/);
    expect(text).toContain('(at)everyone');
    expect(text).toContain('`shaft-engaged:shaft`');
  });

  it('refuses prices of what is not in the job', () => {
    const priced = (more: object) => faultsOf(smallRequest({ estimate: { currency: 'EUR', labour: { default: '70.00' }, ...more } }));
    expect(priced({ parts: { wnich: { price: '1.00' } } })).toEqual([['/estimate/parts/wnich', 'PART_NOT_PLANNED']]);
    expect(priced({ buys: { moon: { price: '1.00' } } })).toEqual([['/estimate/buys/moon', 'PART_NOT_PLANNED']]);
  });

  it('refuses steps, parts and points that there are not, each where it stands', () => {
    expect(faultsOf(smallRequest({ state: { done: [{ step: 'raise-bodyy' }] } }))).toEqual([['/state/done/0/step', 'STEP_UNKNOWN']]);
    expect(faultsOf(smallRequest({ state: { accepted: [{ finding: 'rubb', by: 'A', date: '2026-12-01' }] } }))).toEqual([
      ['/state/accepted/0/finding', 'FINDING_UNKNOWN'],
    ]);
    expect(faultsOf(smallRequest({ state: { fitted: ['winch'] } }))).toEqual([['/state/fitted/0', 'PART_NOT_PLANNED']]);
    expect(faultsOf(smallRequest({ state: { inspection: [{ point: 'moon', result: 'sound', by: 'A', date: '2026-12-01' }] } }))).toEqual([
      ['/state/inspection/0/point', 'POINT_UNKNOWN'],
    ]);
    expect(faultsOf(smallRequest({ state: { done: [{ step: 'raise-body', amounts: { width: '1 mm' } }] } }))).toEqual([
      ['/state/done/0/amounts/width', 'AMOUNT_UNKNOWN'],
    ]);
  });
});

describe('what the customer accepts', () => {
  const rub: SmallRule = {
    id: 'rub',
    hazard: 'comfort',
    body: 'require: "floor_gap + trimmed >= 200 mm"',
    work: '- trim-floor: { amount: 200 mm - floor_gap - trimmed }',
  };
  const both = createChecker(smallLibrary([rub, SHAFT]));
  const accepting = (finding: string): Plan => {
    const request = smallRequest({ state: { accepted: [{ finding, by: 'A. Dale', date: '2026-12-01' }] } });
    const planned = both.plan(
      {
        ...request,
        vehicle: { ...request.vehicle, fitted: [{ from: 'inline', kind: 'shaft', attributes: { engagement: '5 mm ± 0' } }] } as never,
      },
      nothing,
    );
    if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
    return planned.plan;
  };

  it('is recorded, asks for no work, and is handed over as known', () => {
    const plan = accepting('rub');
    expect(plan.check.work.steps.map(({ work }) => work)).toEqual(['extend-shaft']);
    expect(plan.hand_over.known_contacts).toMatchObject([{ finding: 'rub', by: 'A. Dale' }]);
    expect(plan.hand_over.still_open.map(({ id }) => id)).not.toContain('rub');
  });

  it('is refused where it can hurt people, and its work stays', () => {
    const plan = accepting('shaft-engaged:shaft');
    expect(plan.contacts).toMatchObject({ accepted: [], refused: [{ finding: 'shaft-engaged:shaft' }] });
    expect(plan.check.work.steps.map(({ work }) => work)).toContain('extend-shaft');
  });
});

describe('what turns up half-way', () => {
  it('re-plans the rest, with its price', () => {
    const found = { note: 'the roof is lower than was read', measured: [{ quantity: 'floor_gap', value: '90 mm ± 1' }] };
    const near: SmallRule = {
      id: 'near',
      body: 'require: "floor_gap + trimmed >= 100 mm"',
      work: '- trim-floor: { amount: 100 mm - floor_gap - trimmed }',
    };
    const planned = createChecker(smallLibrary([ROOF, near])).plan(smallRequest({ ...TERMS, turned_up: found }), nothing);
    if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
    const { variation } = planned.plan;
    expect(variation).toMatchObject({ added: ['trim-floor'], dropped: [], changed: [], hours: { before: 1, after: 2 } });
    // 72.35 for the hour, 4 % supplies (2.89), 12.5 % contingency (9.41), 19.6 % tax: each rounded once.
    const price = variation?.price as NonNullable<typeof variation>['price'] & object;
    expect(new Oracle(price.after).minus(price.before).toString()).toBe(new Oracle(price.difference).toString());
    expect(Number(price.difference)).toBeCloseTo(72.35 * 1.04 * 1.125 * 1.196, 1);
  });

  it('tells a fault of it where it was sent', () => {
    expect(faultsOf(smallRequest({ turned_up: { measured: [{ quantity: 'moon', value: '1 mm' }] } }))).toEqual([
      ['/turned_up/measured/0/quantity', 'QUANTITY_UNKNOWN'],
    ]);
  });
});

describe('the plan of the bold build', () => {
  let plan: Plan;
  const request = { ...demoBuild('bold'), ...TERMS } as PlanRequest;
  beforeAll(() => {
    const planned = checker.plan(request, demoCatalogue);
    if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
    plan = planned.plan;
  });

  it('keeps every precedence, each step once', () => {
    const place = new Map(plan.check.work.steps.map(({ id }, i) => [id, i]));
    expect(place.size).toBe(plan.check.work.steps.length);
    for (const step of plan.check.work.steps)
      for (const { step: earlier } of step.after) expect(place.get(earlier)).toBeLessThan(place.get(step.id) ?? -1);
    expect(plan.check.work.rings).toEqual([]);
  });

  it('does once, at the right end, what the trade does once', () => {
    const works = plan.check.work.steps.map(({ work }) => work);
    const [first, last] = [(work: string) => works.indexOf(work), (work: string) => works.lastIndexOf(work)];
    for (const work of ['align-wheels', 'aim-headlamps', 'torque-bushes', 'road-test-brakes', 'recalibrate-speedometer'])
      expect(first(work)).toBe(last(work));
    for (const height of ['install-coilovers', 'install-rear-springs', 'uprate-springs'])
      expect(last(height)).toBeLessThan(first('align-wheels'));
    expect(last('fit-body-lift')).toBeLessThan(first('install-bumper'));
    expect(last('bleed-brakes')).toBeLessThan(first('road-test-brakes'));
    expect(last('align-wheels')).toBeLessThan(first('trim-cab-mount'));
    expect(last('fit-upper-arms')).toBeLessThan(first('trim-cab-mount'));
    expect(works).not.toContain('install-winch');
    // What it always carries is on it before its height is measured by, and aids are taught once, after all of that.
    for (const mass of ['install-bumper', 'fit-stronger-winch', 'install-second-battery'])
      expect(last(mass)).toBeLessThan(first('align-wheels'));
    for (const aid of ['zero-steering-angle-sensor', 'calibrate-camera']) {
      expect(first(aid)).toBe(last(aid));
      for (const work of ['align-wheels', 'install-bumper', 'fit-body-lift', 'trim-cab-mount']) expect(last(work)).toBeLessThan(first(aid));
      expect(first(aid)).toBeGreaterThan(0);
    }
    expect(first('zero-steering-angle-sensor')).toBeLessThan(first('road-test-brakes'));
    expect(works).not.toContain('calibrate-radar');
    expect(last('heat-form-liner')).toBeLessThan(first('road-test-brakes'));
    expect(first('recalibrate-speedometer')).toBeGreaterThan(first('road-test-brakes'));
    for (const work of ['fit-longer-brake-hose', 'install-coilovers']) expect(last(work)).toBeLessThan(first('install-wheels'));
    expect(plan.calendar.visits.map(({ after }) => after.value)).toEqual([80, 150, 800]);
    // At 160 km a week: half a week, most of one, five of them.
    const days = (a: string, b: string): number => (Date.parse(b) - Date.parse(a)) / 86_400_000;
    const ready = plan.calendar.ready.date as string;
    for (const { after, date } of plan.calendar.visits)
      expect(Math.abs(days(ready, date as string) - (after.value / 160) * 7)).toBeLessThanOrEqual(1);
  });

  it('has an order of set-ups that nothing can beat', () => {
    const { order } = plan.check.work;
    expect([order.exact, order.set_up.value]).toEqual([true, order.at_least.value]);
    expect(bitsOf(5)).toEqual([0, 2]);
  });

  it('puts nothing back over paint that is wet', () => {
    const { entries } = plan.calendar;
    const back = entries.find(({ what }) => what === 'unmake:liners-out:front') as (typeof entries)[number];
    const cuts = entries.filter(({ what }) => what.startsWith('trim-cab-mount'));
    expect(cuts.length).toBeGreaterThan(0);
    const at = ({ day, hour }: { readonly day: number; readonly hour: number }): number => day * 24 + hour;
    for (const { ready } of cuts) expect(at(back.from)).toBeGreaterThanOrEqual(at(ready as NonNullable<typeof ready>) - 24);
    for (const { to } of cuts) expect(back.from.day).toBeGreaterThan(to.day);
  });

  it('does not sell the customer what is theirs', () => {
    const given = {
      ...request,
      estimate: { ...request.estimate, parts: { 'prow-bumper': { price: '1490.00', supplied_by: 'customer' } } },
    } as PlanRequest;
    const planned = checker.plan(given, demoCatalogue);
    const line = planned.ok ? planned.plan.estimate?.lines.find(({ kind, text }) => kind === 'part' && text.includes('Prow')) : undefined;
    expect(line).toMatchObject({ price: '0', amount: '0.00' });
    expect(line?.note).toContain('worth 1490.00');
  });

  it('bills nothing of a part that another is put on in the place of, and knows nothing of its cable', () => {
    const line = plan.estimate?.lines.find(({ kind, text }) => kind === 'part' && text === 'Hallrigg winch 36 kN');
    expect(line).toMatchObject({ amount: '0.00' });
    expect(line?.note).toContain('not put on');
    const circuit = plan.hand_over.wiring.circuits.find(({ part }) => part === 'winch');
    expect(circuit).toMatchObject({ state: 'asked', current: null });
  });

  it('names what comes off for good, said or not', () => {
    const off = plan.hand_over.parts_taken_off;
    expect(off).toContain('skid plates that were on it');
    expect(off.filter((what) => /brake hoses \(front left\)/.test(what))).toHaveLength(1);
  });

  it('hands over front angles of the front alone', () => {
    const of = (id: string) => plan.hand_over.sections.find((section) => section.id === id)?.values ?? [];
    expect(of('alignment').length).toBeGreaterThan(0);
    expect(new Set(of('alignment').map(({ subject }) => subject))).toEqual(new Set(['front']));
    expect(plan.hand_over.alignment.map(({ angle, from }) => [angle, from])).toEqual([
      ['camber', 'maker'],
      ['caster', 'maker'],
      ['toe', 'maker'],
    ]);
  });

  it('has power where power is needed, and nobody aboard while the body is up', () => {
    const { entries } = plan.calendar;
    const stands = (setup: string, at: number): boolean =>
      entries.slice(0, at).filter(({ what }) => what === `make:${setup}`).length >
      entries.slice(0, at).filter(({ what }) => what === `unmake:${setup}`).length;
    const places = (work: string): number[] => entries.flatMap(({ what }, i) => (what.startsWith(work) ? [i] : []));
    for (const work of ['aim-headlamps', 'align-wheels', 'calibrate-camera', 'road-test-brakes', 'recalibrate-speedometer']) {
      expect(places(work)).toHaveLength(1);
      for (const at of places(work)) expect(stands('battery-off', at)).toBe(false);
    }
    // Signed for where it can be: heights standing, circuits under power, nuts with the wheels on the ground.
    for (const [work, setup] of Object.entries({
      'read-height': 'on-stands',
      'torque-wheels': 'on-stands',
      'test-circuit': 'battery-off',
      'test-winch': 'battery-off',
      'scan-for-faults': 'battery-off',
    })) {
      expect(places(work).length, work).toBeGreaterThan(0);
      for (const at of places(work)) expect(stands(setup, at), work).toBe(false);
    }
    expect(Math.min(...places('read-height'))).toBeGreaterThan(Math.max(...places('torque-bushes')));
    expect(Math.min(...places('torque-wheels'))).toBeGreaterThan(
      Math.max(...entries.flatMap(({ what }, i) => (what.startsWith('unmake:wheels-off') ? [i] : []))),
    );
    for (const work of ['fit-body-lift', 'remake-bumper-brackets']) for (const at of places(work)) expect(stands('loaded', at)).toBe(false);
    for (const at of places('remake-bumper-brackets')) expect(stands('battery-off', at)).toBe(true);
  });

  it('prices every line once, exactly, each with what asks for it', () => {
    const { lines, totals } = plan.estimate as NonNullable<Plan['estimate']>;
    const known = new Set([...plan.check.findings, ...plan.check.after_work.broken].flatMap(({ id }) => [id, ...id.split('+')]));
    const steps = new Set(plan.check.work.steps.map(({ id }) => id));
    for (const line of lines.filter(({ kind }) => kind !== 'supplies')) {
      expect(line.because.length).toBeGreaterThan(0);
      for (const id of line.steps) expect(steps).toContain(id);
      if (line.price !== null && line.unit === 'h')
        expect(line.amount).toBe(new Oracle(line.quantity).times(line.price).toDecimalPlaces(2, Oracle.ROUND_HALF_UP).toFixed(2));
    }
    const traced = (id: string, seen = new Set<string>()): boolean =>
      known.has(id) ||
      id.startsWith('part:') ||
      (!seen.has(id) &&
        (plan.check.work.steps.find((step) => step.id === id)?.because ?? []).some((why) => traced(why, new Set([...seen, id]))));
    for (const { because } of lines) for (const id of because) expect(traced(id), id).toBe(true);
    const sum = lines.reduce((all, { amount }) => all.plus(amount ?? 0), new Oracle(0));
    const contingency = sum.times('0.125').toDecimalPlaces(2, Oracle.ROUND_HALF_UP);
    expect([totals.contingency, totals.net]).toEqual([contingency.toFixed(2), sum.plus(contingency).toFixed(2)]);
    expect(totals.total).toBe(
      new Oracle(totals.net).plus(new Oracle(totals.net).times('0.196').toDecimalPlaces(2, Oracle.ROUND_HALF_UP)).toFixed(2),
    );
    expect((plan.estimate as NonNullable<Plan['estimate']>).complete).toBe(false);
  });

  it('names what is left when it is done, or leaves nothing', () => {
    const { after_work } = plan.check;
    expect(after_work.verdict === 'clear' || after_work.remaining.length > 0).toBe(true);
  });

  it('is the same bytes when planned again, and the same sheets', async () => {
    const again = checker.plan(request, demoCatalogue);
    expect(JSON.stringify(again.ok && again.plan)).toBe(JSON.stringify(plan));
    const [a, b] = [await planSheet(plan, 'csv'), await planSheet(plan, 'csv')];
    expect(Buffer.from(a).equals(Buffer.from(b))).toBe(true);
    const book = await planSheet(plan, 'xlsx');
    // A pack writes times to two seconds.
    await new Promise((done) => setTimeout(done, 2100));
    expect(Buffer.from(await planSheet(plan, 'xlsx')).equals(Buffer.from(book))).toBe(true);
  });

  it('tells beside the job the same in every form', async () => {
    const [csv, markdown] = await Promise.all(
      (['csv', 'markdown'] as const).map(async (form) => Buffer.from(await planSheet(plan, form)).toString()),
    );
    const book = new ExcelJS.Workbook();
    await book.xlsx.load((await planSheet(plan, 'xlsx')).buffer as never);
    const cells: string[] = [];
    for (const name of ['Hand-over', 'Beside the job'])
      book.getWorksheet(name)?.eachRow((row) => row.eachCell(({ value }) => cells.push(String(value))));
    const [target] = plan.hand_over.alignment;
    const [look] = plan.inspection;
    const fuse = plan.hand_over.wiring.circuits.find(({ fuse: { choose } }) => choose);
    for (const told of [
      target?.title,
      look?.title,
      fuse?.name,
      plan.risks.confirm_first[0]?.title,
      plan.hand_over.parts_taken_off[0],
    ] as string[]) {
      expect(csv).toContain(told);
      expect(markdown).toContain(told);
      expect(
        cells.some((cell) => cell.includes(told)),
        told,
      ).toBe(true);
    }
    expect(cells).toContain(String(fuse?.fuse.choose?.value));
  });

  it('is a workbook whose sums are live and right', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load((await planSheet(plan, 'xlsx')).buffer as never);
    const sheet = book.getWorksheet('Estimate');
    const rows = (sheet?.getRows(1, sheet.rowCount) ?? []).map((row) => [row.getCell(2).value, row.getCell(6).value] as const);
    const total = rows.find(([text]) => String(text).startsWith('Total'))?.[1] as { formula: string; result: number };
    expect(total.formula).toMatch(/^F\d+\+F\d+$/);
    expect(total.result).toBe(Number(plan.estimate?.totals.total));
  });
});

describe('removing a finding', () => {
  it('adds no step that nothing left asks for', () => {
    const names = ['prow-bumper', 'winch', 'scree-tyres', 'skelbrook-front-50'];
    const whole = demoBuild('bold');
    const parts = (whole.parts ?? []).filter((part) => !names.slice(0, 2).includes((part as { id?: string }).id ?? ''));
    const given = checker.check({ ...whole, parts } as never, demoCatalogue);
    if (!given.ok) throw new Error(JSON.stringify(given.faults));
    const steps = new Set(given.answer.work.steps.map(({ id }) => id));
    const findings = new Set([...given.answer.findings, ...given.answer.after_work.broken].flatMap(({ id }) => id.split('+')));
    for (const { because } of given.answer.work.steps) {
      expect(because.length).toBeGreaterThan(0);
      for (const id of because) expect(id.startsWith('part:') || steps.has(id) || findings.has(id)).toBe(true);
    }
  });
});
