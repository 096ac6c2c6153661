import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../engine/index.ts';
import { RULES_FOLDER } from '../paths.ts';
import { type PartInput, PLACE_LEVELS } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { answer, checker, demoBuild, demoCatalogue, faults, findingsOf } from './testing.ts';

const measured = (build: ReturnType<typeof demoBuild>) => {
  if (!build.vehicle.measured) throw new Error('the build has no readings');
  return build.vehicle.measured;
};
const only = <T>(items: readonly T[]): T => {
  expect(items).toHaveLength(1);
  return items[0] as T;
};

/** Of the front; the rear hoses are another finding. */
const frontHoses = (given: ReturnType<typeof answer>) =>
  findingsOf(given, 'brake-hose-reach').filter(({ parts }) => parts[0]?.at?.startsWith('front'));

describe('the demo builds', () => {
  it('the modest one is clear, every finding of it', () => {
    const modest = answer(demoBuild('modest'));
    expect(modest.verdict).toBe('clear');
    expect(modest.findings.length).toBeGreaterThan(20);
    expect(modest.findings.every(({ verdict }) => verdict === 'clear')).toBe(true);
    expect(modest.work.steps.map(({ id }) => id).sort()).toEqual([
      'install-accessory:cotegarth-locker',
      'install-electrical:fairmere-lights',
      'install-electrical:fairmere-mast',
      'install-tyres:front',
      'install-tyres:rear',
      'retorque-wheels',
      'scan-for-faults',
      'test-circuit:fairmere-lights',
      'test-circuit:fairmere-mast',
      'torque-wheels',
    ]);
  });

  it('its bolder twin is close, because of the tyre alone', () => {
    const bolder = answer(demoBuild('bolder'));
    expect(bolder.verdict).toBe('close');
    expect(new Set(bolder.findings.filter(({ verdict }) => verdict === 'close').map(({ rule }) => rule))).toEqual(
      new Set(['cab-mount-gap', 'speedometer-not-under']),
    );
    // What fits the parts, and what is signed for after that, is done in any case.
    const steps = new Set(bolder.work.steps.map(({ id }) => id));
    const cures = bolder.work.steps.filter(({ because }) => because.some((id) => !steps.has(id) && !id.startsWith('part:')));
    expect(cures.length).toBeGreaterThan(0);
    expect(cures.every(({ contingent }) => contingent)).toBe(true);
  });

  it('the bold one has a chain of conflicts, worst first', () => {
    const bold = answer(demoBuild('bold'));
    expect(bold.verdict).toBe('conflict');
    const order = ['conflict', 'unknown', 'close', 'clear'];
    const places = bold.findings.map(({ verdict }) => order.indexOf(verdict));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(bold.findings.filter(({ verdict }) => verdict === 'conflict').map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(['brake-hose-reach', 'cab-mount-gap', 'top-liner-gap', 'speedometer-not-under', 'winch-pull']),
    );
  });

  it('the bare one says what it does not know, and never that it is fine', () => {
    const bare = answer(demoBuild('bare'));
    const load = findingsOf(bare, 'tyre-load')[0];
    expect([load?.verdict, load?.margin]).toEqual(['unknown', null]);
    expect(bare.measure.some(({ quantity }) => quantity === 'tyre_gap')).toBe(true);
    expect(bare.assumptions.join(' ')).toContain('As the class has them, since the vehicle does not say: ');
  });

  it('what the parts do not change is told apart, asks for nothing, and leaves the verdict to what they do change', () => {
    const bare = answer(demoBuild('bare'));
    const hose = only(frontHoses(bare));
    expect([hose.verdict, hose.as_before, hose.work]).toEqual(['unknown', true, []]);
    expect(bare.measure.some(({ quantity }) => quantity === 'hose_route')).toBe(false);
    const open = bare.findings.filter(({ verdict, as_before }) => as_before && verdict !== 'clear').length;
    expect(open).toBeGreaterThan(0);
    expect(bare.checked.as_before).toBe(open);
    expect(bare.summary).toContain(`${open} more ${open === 1 ? 'is' : 'are'} open as before`);
    const asItStands = answer({ ...demoBuild('bare'), parts: [] });
    expect(asItStands.findings.some(({ as_before }) => as_before)).toBe(false);
    expect(only(frontHoses(asItStands)).verdict).toBe('unknown');
    expect(asItStands.verdict).toBe('unknown');
  });
});

describe('margins, by hand', () => {
  it('the front hose of the bold build: 443 − (412 + 22) − 25 = −16 mm, within 3 + 5 + 3', () => {
    const { margin } = only(frontHoses(answer(demoBuild('bold'))));
    expect(margin).toMatchObject({ value: -16, unit: 'mm', low: -27, high: -5, plus_minus: 11 });
  });

  it('the cab mount of the bold build: the gap that is read and what geometry takes of it, less 6 mm for running and 6 mm of air', () => {
    const given = answer({ ...demoBuild('bold'), values: 'all' });
    const { margin } = only(findingsOf(given, 'cab-mount-gap'));
    const change = Number(given.values['tyre_gap_change(cab-mounts@front-left)']?.value);
    expect(change).toBeLessThan(0);
    expect(margin?.value).toBeCloseTo(26 + change - 6 - 6, 0);
  });

  it('about half an inch off the cab mount cures 33-inch tyres and a 2 to 3 in lift on a mid-size pickup (common practice, no source)', () => {
    for (const lift of ['2 in ± 0.1', '2.5 in ± 0.1', '3 in ± 0.1']) {
      const given = answer({
        vehicle: { from: 'inline', class: 'midsize_independent_front' },
        parts: [
          { from: 'inline', kind: 'tyre', at: 'all', replaces: 'factory-tyres', attributes: { designation: '33x10.50R17LT 115Q' } },
          { from: 'inline', kind: 'front_coilover', at: 'front', attributes: { height_added: lift, droop_added: '1 in ± 0.1' } },
        ],
      } as never);
      const { margin } = only(findingsOf(given, 'cab-mount-gap'));
      expect(margin?.value, lift).toBeLessThan(-8);
      expect(margin?.value, lift).toBeGreaterThan(-20);
      // Plastic in the wheel well may still touch.
      expect(only(findingsOf(given, 'top-liner-gap')).verdict, lift).not.toBe('clear');
    }
  });

  it('an inch of body lift and a steel front bumper no longer line up (common practice, no source)', () => {
    const build = demoBuild('modest');
    (build.parts as PartInput[]).push(
      { from: 'catalogue', part: 'thwaitesgill-body-25' },
      { from: 'catalogue', part: 'thwaitesgill-prow', replaces: 'front-bumper' },
    );
    const bumper = findingsOf(answer(build), 'bumper-alignment').find(({ parts }) => parts[0]?.id === 'thwaitesgill-prow');
    expect(bumper?.verdict).toBe('conflict');
    expect(bumper?.margin).toMatchObject({ value: -19, unit: 'mm' });
    expect(bumper?.work.map(({ work }) => work)).toEqual(['remake-bumper-brackets']);
  });
});

describe('a fabricator changes one thing', () => {
  it('halving the tolerance of a reading narrows the band, and settles a close verdict', () => {
    const wide = demoBuild('bolder');
    const narrow = demoBuild('bolder');
    for (const reading of measured(narrow)) if (reading.of === 'cab-mounts@front-left') reading.value = '34 mm ± 0.5';
    for (const reading of measured(wide)) if (reading.of === 'cab-mounts@front-left') reading.value = '34 mm ± 5';
    const gap = (build: ReturnType<typeof demoBuild>) =>
      findingsOf(answer(build), 'cab-mount-gap').find(({ parts }) => parts[0]?.at === 'front-left');
    expect([gap(wide)?.verdict, gap(narrow)?.verdict]).toEqual(['close', 'clear']);
    expect(gap(narrow)?.margin?.value).toBe(gap(wide)?.margin?.value);
    expect(gap(narrow)?.margin?.plus_minus).toBeLessThan(gap(wide)?.margin?.plus_minus ?? 0);
  });

  it('leaving out a reading that nothing else stands in for makes it unknown', () => {
    const build = demoBuild('bold');
    build.vehicle.measured = measured(build).filter(({ quantity }) => quantity !== 'hose_route');
    const hose = only(frontHoses(answer(build)));
    expect([hose.verdict, hose.as_before]).toEqual(['unknown', false]);
  });

  it('leaving out a reading that the class has a default for widens the band to that', () => {
    const build = demoBuild('modest');
    build.vehicle.measured = measured(build).filter(({ of }) => !String(of).startsWith('cab-mounts'));
    const gap = only(findingsOf(answer(build), 'cab-mount-gap'));
    expect(gap.verdict).toBe('close');
    expect(gap.doubt[0]?.id).toBe('tyre_obstacle.gap_as_built(cab-mounts@front-left)');
  });

  it('US units in are the same build, and US units out the same answer', () => {
    const metric = demoBuild('bold');
    const us = demoBuild('bold');
    us.units = 'us';
    for (const reading of measured(us))
      if (reading.quantity === 'hose_route' && reading.of === 'front-hoses') reading.value = `${412 / 25.4} in ± ${5 / 25.4}`;
    const [a, b] = [answer(metric), answer(us)];
    expect(b.findings.map(({ rule, verdict }) => [rule, verdict])).toEqual(a.findings.map(({ rule, verdict }) => [rule, verdict]));
    const hose = only(frontHoses(b));
    expect(hose.margin).toMatchObject({ unit: 'in', value: -0.63 });
    expect(hose.says).toContain('0.63 in too short');
    expect(b.work.hours).toEqual(a.work.hours);
  });

  it('a reading wins over the catalogue, and one that contradicts it beyond both tolerances is a finding', () => {
    const build = demoBuild('modest');
    const tyre = build.parts?.[0];
    if (tyre) tyre.measured = { overall_diameter: '770 mm ± 3' };
    const given = answer(build);
    const contradiction = only(findingsOf(given, 'statements-agree').filter(({ id }) => id.includes('rear-left')));
    expect(contradiction.says).toContain('770 mm (measured');
    expect(contradiction.says).toContain('788 mm (catalogue');
    expect(given.verdict).toBe('close');
  });

  it('a reading that agrees is no finding', () => {
    const build = demoBuild('modest');
    const tyre = build.parts?.[0];
    if (tyre) tyre.measured = { overall_diameter: '787 mm ± 3' };
    expect(findingsOf(answer(build), 'statements-agree')).toEqual([]);
  });

  it('taking a part off without another in its place leaves a position unfilled, which is unknown', () => {
    const build = demoBuild('modest');
    build.vehicle = { from: 'inline', class: 'midsize_independent_front', fitted: [] } as never;
    build.parts = [{ from: 'inline', kind: 'light_bar', replaces: 'factory-shroud' }] as never;
    const given = answer(build);
    expect(only(findingsOf(given, 'position-filled')).verdict).toBe('unknown');
  });
});

describe('the work', () => {
  it('doing what is stated clears the finding that asked for it', () => {
    const bold = answer(demoBuild('bold'));
    // What may come to nothing is measured first, and its finding may stay open until then.
    const perhaps = new Set(bold.work.steps.filter(({ contingent }) => contingent).map(({ id }) => id));
    const conflicts = bold.findings.filter(
      ({ verdict, work }) => verdict === 'conflict' && work.length > 0 && !work.some(({ step }) => perhaps.has(step ?? '')),
    );
    expect(conflicts.length).toBeGreaterThanOrEqual(5);
    for (const { id } of conflicts) for (const single of id.split('+')) expect(bold.after_work.cleared).toContain(single);
  });

  it('shows what it newly breaks: body lift for the liner, then bumper brackets', () => {
    const tight = demoBuild('bold');
    for (const reading of measured(tight)) if (reading.of === 'top-liners') reading.value = '0 mm ± 4';
    const { after_work } = answer(tight);
    const broken = new Set(after_work.broken.map(({ rule }) => rule));
    expect(broken).toContain('bumper-alignment');
    expect(after_work.rounds).toBeGreaterThan(1);
  });

  it('raises nothing for a millimetre: after the plastic is formed it is measured, with the brackets it would take named', () => {
    const { work, after_work } = answer(demoBuild('bold'));
    const of = (name: string) => work.steps.filter((step) => step.work === name);
    const [lift] = of('fit-body-lift');
    expect(lift?.contingent).toBe(true);
    expect(lift?.amounts['height']?.nominal).toBeLessThan(2);
    expect(of('heat-form-liner').some(({ contingent }) => !contingent)).toBe(true);
    const brackets = of('remake-bumper-brackets');
    expect(brackets).toHaveLength(2);
    for (const { contingent, because } of brackets) expect([contingent, because.includes('fit-body-lift')]).toEqual([true, true]);
    expect(after_work.remaining.every(({ verdict }) => verdict !== 'conflict')).toBe(true);
  });

  it('a body lift gains nothing at the cab mount, and at the liner as much of its height as points upward there', () => {
    const with25 = demoBuild('bold');
    (with25.parts as PartInput[]).push({ from: 'catalogue', part: 'thwaitesgill-body-25' });
    const margin = (build: ReturnType<typeof demoBuild>, rule: string) => only(findingsOf(answer(build), rule)).margin?.value ?? Number.NaN;
    const gained = (rule: string) => margin(with25, rule) - margin(demoBuild('bold'), rule);
    // Its blocks weigh something, which the springs feel.
    expect(Math.abs(gained('cab-mount-gap'))).toBeLessThan(0.2);
    expect(gained('top-liner-gap')).toBeGreaterThan(18);
    expect(gained('top-liner-gap')).toBeLessThanOrEqual(25);
  });

  it('keeps every order the works ask for, and each step once', () => {
    const { steps } = answer(demoBuild('bold')).work;
    const place = new Map(steps.map(({ id }, i) => [id, i]));
    expect(place.size).toBe(steps.length);
    for (const step of steps) for (const { step: earlier } of step.after) expect(place.get(earlier)).toBeLessThan(place.get(step.id) ?? -1);
    for (const [i, step] of steps.entries())
      for (const earlier of checker.library.works.get(step.work)?.after.map(({ work }) => work) ?? [])
        expect(steps.slice(i + 1).map(({ work }) => work)).not.toContain(earlier);
    const at = (work: string) => steps.findIndex((step) => step.work === work);
    expect(at('fit-body-lift')).toBeLessThan(at('remake-bumper-brackets'));
    expect(at('bleed-brakes')).toBeLessThan(at('road-test-brakes'));
    const bled = steps.filter(({ work }) => work === 'bleed-brakes');
    expect(bled.map(({ id, contingent }) => [id, contingent])).toEqual([
      ['bleed-brakes:front', false],
      ['bleed-brakes:rear', true],
    ]);
  });

  it('amounts are enough at the worse end of the tolerances, and state the nominal one beside it', () => {
    const { findings, work } = answer(demoBuild('bold'));
    const asked = findings.find(({ rule, subject }) => rule === 'brake-hose-reach' && subject.startsWith('Front'))?.work[0];
    // 412 + 22 + 25 mm; 5 and 3 mm more at the worse end, and what the new hose may be off by; to the next 5 mm.
    expect(asked?.amounts['length']).toEqual({ value: 475, nominal: 459, unit: 'mm' });
    // Where the damper is missing too, geometry is less sure of the way than a string: one hose does for both.
    const [hose] = work.steps.filter(({ work }) => work === 'fit-longer-brake-hose');
    expect(hose?.amounts['length']?.value).toBeGreaterThan(475);
    expect(hose?.because).toHaveLength(2);
  });

  it('nothing is built on work that measuring may show not to be needed', () => {
    const bolder = demoBuild('bolder');
    for (const reading of measured(bolder)) if (reading.of === 'top-liners') reading.value = '18 mm ± 22';
    const bare = answer(bolder);
    expect(bare.work.steps.some(({ contingent, work }) => contingent && work === 'fit-body-lift')).toBe(true);
    expect(bare.after_work.broken.map(({ rule }) => rule)).not.toContain('bumper-alignment');
    expect(bare.work.hours.low).toBeLessThan(bare.work.hours.high);
  });
});

describe('the answer', () => {
  it('is the same bytes for the same request, whatever was asked before', () => {
    const first = JSON.stringify(answer(demoBuild('bold')));
    answer(demoBuild('bare'));
    expect(JSON.stringify(answer(demoBuild('bold')))).toBe(first);
  });

  it('refers only to values, steps and findings that are in it', () => {
    for (const name of ['bold', 'bare', 'bolder'] as const) {
      const given = answer({ ...demoBuild(name), values: 'all' });
      const steps = new Set(given.work.steps.map(({ id }) => id));
      const known = new Set(Object.keys(given.values));
      for (const finding of given.findings) {
        for (const { step } of finding.work) expect(steps).toContain(step);
        for (const id of [...finding.missing, ...finding.numbers.flatMap((n) => (n.id === undefined ? [] : [n.id]))])
          expect(known).toContain(id);
      }
      for (const value of Object.values(given.values)) for (const id of value.from) expect(known).toContain(id);
      const findings = new Set(given.findings.map(({ id }) => id));
      for (const { findings: asked } of given.measure) for (const id of asked) expect(findings).toContain(id);
    }
  });

  it('every number down to what was given has a unit and an origin', () => {
    const { values } = answer({ ...demoBuild('bold'), values: 'all' });
    expect(Object.keys(values).length).toBeGreaterThan(60);
    for (const value of Object.values(values)) {
      if (typeof value.value === 'number') expect(value.unit).toEqual(expect.any(String));
      if (value.origin.kind === 'computed') expect(value.origin.note).toEqual(expect.any(String));
    }
    expect(values['hose_route(front-hoses@front-left)']).toMatchObject({
      value: 412,
      plus_minus: 5,
      origin: { kind: 'measured', date: '2026-10-03', tool: 'string' },
    });
  });

  it('JSON can hold it: no NaN, no infinity', () => {
    for (const name of ['bold', 'bare'] as const) {
      const given = answer(demoBuild(name));
      expect(JSON.parse(JSON.stringify(given))).toEqual(given);
    }
  });
});

describe('a request that cannot be put together', () => {
  it('has every fault said at once, each at its pointer with a fix', () => {
    const found = faults({
      vehicle: { from: 'catalogue', vehicle: 'merrowdale-gyll', measured: [] },
      parts: [{ from: 'catalogue', part: 'nothing' }],
    });
    expect(found).toContainEqual(
      expect.objectContaining({ pointer: '/vehicle/vehicle', code: 'VEHICLE_UNKNOWN', help: 'did you mean `merrowdale-ghyll`?' }),
    );
    const more = faults({
      ...demoBuild('modest'),
      parts: [
        { from: 'catalogue', part: 'orrisbek-trail-255', at: 'all' },
        { from: 'inline', kind: 'tyre', at: 'front', attributes: { overall_diameter: 790, mas: '20 kg', section_width: '26 kg' } },
        { from: 'inline', kind: 'bumper' },
        { from: 'inline', kind: 'wheel' },
        { from: 'inline', kind: 'winch', attributes: { line_pull: '45000 N', mass: '-4 kg' } },
      ],
      load: { items: [{ name: 'bags', mass: 'heavy', behind_front_axle: '3,2 m' }] },
    });
    const at = new Map(more.map(({ pointer, code }) => [pointer, code]));
    expect(at.get('/parts/0/part')).toBe('PART_UNKNOWN');
    expect(at.get('/parts/1/attributes/overall_diameter')).toBe('UNIT_MISSING');
    expect(at.get('/parts/1/attributes/mas')).toBe('ATTRIBUTE_UNKNOWN');
    expect(at.get('/parts/1/attributes/section_width')).toBe('DIMENSION_WRONG');
    expect(at.get('/parts/2/kind')).toBe('KIND_ABSTRACT');
    expect(at.get('/parts/3')).toBe('AT_MISSING');
    expect(at.get('/parts/4/attributes/mass')).toBe('VALUE_OUT_OF_RANGE');
    expect(at.get('/load/items/0/mass')).toBe('NOT_A_QUANTITY');
    expect(at.get('/load/items/0/behind_front_axle')).toBe('AMBIGUOUS_NUMBER');
    expect(more.every(({ help }) => help.length > 0)).toBe(true);
  });

  it('two tyres at one corner: says which one is there, and how to say that it comes off', () => {
    const build = demoBuild('modest');
    if (build.parts?.[0]) delete build.parts[0].replaces;
    expect(faults(build)).toEqual([
      expect.objectContaining({ pointer: '/parts/0', code: 'PLACE_TAKEN', help: expect.stringContaining('replaces: road-tyres') }),
    ]);
  });

  it('readings of things that are not there', () => {
    const build = demoBuild('modest');
    measured(build).push(
      { quantity: 'hose_rout', value: '400 mm' },
      { quantity: 'hose_route', value: '400 mm', of: 'winch' },
      { quantity: 'tyre_gap', value: '4 mm', of: 'middle' },
      { quantity: 'hose_route', value: '400 mm' },
    );
    const n = measured(build).length;
    const at = new Map(faults(build).map(({ pointer, code }) => [pointer, code]));
    expect(at.get(`/vehicle/measured/${n - 4}/quantity`)).toBe('QUANTITY_UNKNOWN');
    expect(at.get(`/vehicle/measured/${n - 3}/of`)).toBe('OF_UNKNOWN');
    expect([...at.keys()].some((pointer) => pointer.startsWith(`/vehicle/measured/${n - 2}`))).toBe(true);
    expect(at.get(`/vehicle/measured/${n - 1}`)).toBe('OF_MISSING');
  });
});

describe("a stranger's rule", () => {
  it('that ranges over too much is not answered, says so, and takes nothing else down', () => {
    const text = `id: greedy
title: Greedy
hazard: comfort
for: { a: part, b: part, c: part }
require: "a.mass + b.mass + c.mass >= 1 kg"
unless_met: { says: too light }
basis: [{ kind: common-practice }]
examples:
  - { given: { a.mass: 1 kg, b.mass: 1 kg, c.mass: 1 kg }, verdict: clear }
  - { given: { a.mass: 0 kg, b.mass: 0 kg, c.mass: 0 kg }, verdict: conflict }
  - { given: { a.mass: unknown, b.mass: 1 kg, c.mass: 1 kg }, verdict: unknown }
`;
    const { library, diagnostics } = loadLibrary(
      [...readRuleFiles(RULES_FOLDER), { file: 'rules/constraints/x/greedy.yaml', text }],
      PLACE_LEVELS,
    );
    expect(diagnostics).toEqual([]);
    const build = demoBuild('modest');
    for (let i = 0; i < 40; i++) (build.parts as PartInput[]).push({ from: 'catalogue', part: 'fairmere-lights', id: `lights-${i}` });
    const checked = createChecker(library).check(build as never, demoCatalogue);
    const finding = checked.ok ? only(findingsOf(checked.answer, 'greedy')) : undefined;
    expect([finding?.verdict, finding?.says]).toEqual(['unknown', expect.stringContaining('more than 20000 combinations')]);
  });
});

describe('a rule that fails', () => {
  it('becomes a finding that says so, and takes nothing else down', () => {
    const library = { ...checker.library, rules: new Map(checker.library.rules) };
    const rule = library.rules.get('gross-mass')!;
    library.rules.set('gross-mass', {
      ...rule,
      require: { ...rule.require, a: { op: 'leaf', leaf: 99, depth: 0, dimension: undefined, span: rule.span } } as never,
    });
    const broken = createBroken(library);
    const finding = only(findingsOf(broken, 'gross-mass'));
    expect(finding.verdict).toBe('unknown');
    expect(finding.says).toContain('could not be evaluated');
    expect(broken.findings.length).toBe(answer(demoBuild('modest')).findings.length);
  });
});

function createBroken(library: typeof checker.library) {
  const checked = createChecker(library).check(demoBuild('modest'), demoCatalogue);
  if (!checked.ok) throw new Error('not answered');
  return checked.answer;
}
