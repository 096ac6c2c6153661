/**
 * What must hold of the plan of any build: builds put together at random from the catalogue, the classes, lifts and loads.
 * A few in `npm test`; many with FETTLE_VERIFY=1 (`npm run verify`).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plan, PlanRequest } from '../../services/workshop/index.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';

const many = process.env['FETTLE_VERIFY'] !== undefined;
const RUNS = many ? 60 : 3;
const TIMEOUT = many ? 3_600_000 : 600_000;

const CLASSES = [...checker.library.classes.keys()];
const AT: Readonly<Record<string, string>> = {
  tyre: 'all',
  wheel: 'all',
  front_coilover: 'front',
  rear_spring: 'rear',
  front_spring: 'front',
  wheel_spacer: 'all',
};
const REPLACES = new Set(['tyre', 'wheel', 'front_bumper', 'rear_bumper']);
const parts = [...demoCatalogue.parts.values()];

const lift = fc.oneof(
  fc.integer({ min: 10, max: 60 }).map((mm) => ({ from: 'inline', kind: 'body_lift', id: 'lift', attributes: { height: `${mm} mm` } })),
  fc.integer({ min: 10, max: 60 }).map((mm) => ({
    from: 'inline',
    kind: 'rear_spring',
    id: 'lift',
    at: 'rear',
    replaces: 'fitted',
    attributes: { height_added: `${mm} mm` },
  })),
);
const tyre = fc
  .tuple(fc.integer({ min: 225, max: 325 }), fc.integer({ min: 60, max: 85 }), fc.constantFrom(15, 16, 17))
  .map(([width, aspect, rim]) => ({
    from: 'inline',
    kind: 'tyre',
    id: 'tyres',
    at: 'all',
    replaces: 'fitted',
    attributes: { designation: `${Math.round(width / 10) * 10 + 5}/${Math.round(aspect / 5) * 5}R${rim} 112T` },
  }));
const bought = fc.subarray(parts, { minLength: 0, maxLength: 4 }).map((chosen) =>
  [...new Map(chosen.map((part) => [part.kind, part])).values()].map(({ id, kind }) => ({
    from: 'catalogue',
    part: id,
    ...(AT[kind] && { at: AT[kind] }),
    ...(REPLACES.has(kind) && { replaces: 'fitted' }),
  })),
);
const request = fc
  .record({
    vehicle: fc.oneof(
      fc.constantFrom(...demoCatalogue.vehicles.keys()).map((vehicle) => ({ from: 'catalogue', vehicle })),
      fc.constantFrom(...CLASSES).map((name) => ({ from: 'inline', class: name })),
    ),
    bought,
    lift: fc.option(lift, { nil: undefined }),
    tyre: fc.option(tyre, { nil: undefined }),
    load: fc.record({
      occupants: fc.integer({ min: 0, max: 5 }),
      items: fc.array(
        fc.record({
          name: fc.constant('chest'),
          mass: fc.integer({ min: 5, max: 300 }).map((kg) => `${kg} kg`),
          behind_front_axle: fc.constant('3 m'),
        }),
        { maxLength: 1 },
      ),
    }),
  })
  .map(({ vehicle, bought: some, lift: raised, tyre: tyres, load }) => {
    const own = tyres ? some.filter(({ part }) => demoCatalogue.parts.get(part)?.kind !== 'tyre') : some;
    const others = raised?.kind === 'rear_spring' ? own.filter(({ part }) => demoCatalogue.parts.get(part)?.kind !== 'rear_spring') : own;
    const all = [...others, ...(raised ? [raised] : []), ...(tyres ? [tyres] : [])];
    // What to measure is no part of a plan, and takes a sixth of its time.
    return { vehicle, parts: all, load, most_readings: 1 } as unknown as PlanRequest;
  });

/** Not every kind goes on every vehicle; what is refused has no plan. */
const planOf = (of: PlanRequest): Plan | undefined => {
  const planned = checker.plan(of, demoCatalogue);
  return planned.ok ? planned.plan : undefined;
};
const idsOf = (plan: Plan): string[] => plan.check.work.steps.map(({ id }) => id);

const ONCE = [
  'align-wheels',
  'aim-headlamps',
  'torque-bushes',
  'zero-steering-angle-sensor',
  'calibrate-radar',
  'calibrate-camera',
  'road-test-brakes',
];

function keepsItsOrder({ check: { work } }: Plan): void {
  const place = new Map(work.steps.map(({ id }, i) => [id, i]));
  expect(place.size).toBe(work.steps.length);
  expect(work.rings).toEqual([]);
  for (const { id, after } of work.steps)
    for (const { step } of after) expect(place.get(step), `${step} before ${id}`).toBeLessThan(place.get(id) as number);
}

/** By what works change, not by what they say of their order. */
function doesOnceAtTheEnd({ check: { work } }: Plan): void {
  const works = work.steps.map((step) => step.work);
  for (const once of ONCE) expect(works.filter((name) => name === once).length, once).toBeLessThanOrEqual(1);
  const changes = (work: string, aspect: string): boolean => checker.library.works.get(work)?.planning.changes.includes(aspect) ?? false;
  const last = (aspect: string): number => works.findLastIndex((name) => changes(name, aspect));
  const place = (name: string): number => (works.includes(name) ? works.indexOf(name) : Number.POSITIVE_INFINITY);
  for (const aspect of ['ride-height', 'mass', 'suspension', 'steering', 'wheels'])
    expect(last(aspect), aspect).toBeLessThan(place('align-wheels'));
  for (const aid of ONCE.slice(3, 6)) expect(last('alignment')).toBeLessThan(place(aid));
  expect(works.lastIndexOf('bleed-brakes')).toBeLessThan(place('road-test-brakes'));
  expect(last('body-height')).toBeLessThan(works.includes('install-bumper') ? works.indexOf('install-bumper') : Number.POSITIVE_INFINITY);
  expect(works.lastIndexOf('install-exhaust')).toBeLessThan(place('install-skid-plates'));
}

const conflictsOf = (findings: readonly { readonly id: string; readonly verdict: string; readonly as_before?: boolean }[]): string[] =>
  findings
    .filter(({ verdict, as_before }) => verdict === 'conflict' && !as_before)
    .flatMap(({ id }) => id.split('+'))
    .sort();

/** Everything stated is done, and the vehicle is checked anew as it then is: it finds what was told, and is clear where that was. */
function namesWhatIsLeft(plan: Plan, of: PlanRequest): void {
  const { after_work, work } = plan.check;
  const done = work.steps.filter(({ contingent }) => !contingent).map(({ id: step }) => ({ step }));
  const then = planOf({ ...of, state: { done } }) as Plan;
  const told = new Set(after_work.remaining.flatMap(({ id }) => id.split('+')));
  for (const id of conflictsOf(then.check.findings)) expect(told, `${id} is in conflict with all done`).toContain(id);
  if (after_work.verdict === 'clear')
    expect(
      then.check.findings.filter(({ verdict, as_before }) => verdict !== 'clear' && !as_before).map(({ id }) => id),
      'told to be clear',
    ).toEqual([]);
}

/** With a finding taken away, every step has something left that asks for it. */
function asksForNothingMore(plan: Plan, of: PlanRequest): void {
  const gone = plan.check.findings.find(
    ({ verdict, hazard, work }) => verdict === 'conflict' && (hazard === 'damage' || hazard === 'comfort') && work.length > 0,
  );
  if (!gone) return;
  const accepted = [{ finding: gone.id, by: 'A. Dale', date: '2026-12-01' }];
  const less = planOf({ ...of, state: { accepted } }) as Plan;
  if (less.contacts.accepted.length === 0) return;
  const { findings, work, after_work } = less.check;
  const away = new Set(gone.id.split('+'));
  const left = new Set([...findings, ...after_work.broken].flatMap(({ id }) => id.split('+')).filter((id) => !away.has(id)));
  const before = new Set(idsOf(plan));
  const steps = new Map(work.steps.map((step) => [step.id, step]));
  const asked = (id: string, seen: ReadonlySet<string>): boolean =>
    left.has(id) ||
    id.startsWith('part:') ||
    (!seen.has(id) && (steps.get(id)?.because ?? []).some((why) => asked(why, new Set([...seen, id]))));
  for (const { id, because } of work.steps) {
    for (const why of because) expect(away, `${id} because of what was taken away`).not.toContain(why);
    if (!before.has(id)) expect(asked(id, new Set()), `${id} is new, and nothing left asks for it`).toBe(true);
  }
}

describe('the plan of any build', () => {
  it(
    'keeps its order, does once what is done once, names what is left, asks for nothing that nobody asks for, and is the same bytes again after another',
    () => {
      let planned = 0;
      const before: { of: PlanRequest; bytes: string }[] = [];
      fc.assert(
        fc.property(request, (of) => {
          const plan = planOf(of);
          fc.pre(plan !== undefined);
          keepsItsOrder(plan);
          doesOnceAtTheEnd(plan);
          // Each of these plans once more: a third of the builds each.
          const again = before[planned - 1];
          if (planned % 3 === 0) namesWhatIsLeft(plan, of);
          else if (planned % 3 === 1) asksForNothingMore(plan, of);
          else if (again) expect(JSON.stringify(planOf(again.of))).toBe(again.bytes);
          before.push({ of, bytes: JSON.stringify(plan) });
          planned++;
        }),
        { numRuns: RUNS, seed: many ? Date.now() : 7, endOnFailure: true },
      );
      expect(planned).toBe(RUNS);
    },
    TIMEOUT,
  );
});
