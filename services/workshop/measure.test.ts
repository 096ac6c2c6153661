/** What to measure next: the order, what shares a position, and that what is said of a reading comes true when it is taken. */
import { describe, expect, it } from 'vitest';
import { assemble, type CheckRequest, createWorld } from '../vehicle/index.ts';
import { groupEvaluations } from './findings.ts';
import type { Answer, ToMeasure } from './index.ts';
import { ofText } from './measure.ts';
import { candidateReadings, positionOf } from './reading-plan.ts';
import { evaluateAll, makeRuleSet } from './rule-set.ts';
import { Standing } from './standing.ts';
import { answer, checker, demoBuild, demoCatalogue, type Mutable } from './testing.ts';

const bare = answer(demoBuild('bare'));
const bold = answer(demoBuild('bold'));

/** The build with those readings taken, each at the value it was expected to have. */
function taken(name: 'bare' | 'bold', given: Answer, readings: readonly ToMeasure[]): Mutable<CheckRequest> {
  const build = demoBuild(name);
  const values = answer({ ...build, values: 'all' }).values;
  const measured = readings.flatMap(({ ids, write_down: { quantity, of }, accuracy }) => {
    const { value, unit } = values[ids[0] as string] ?? given.values[ids[0] as string] ?? {};
    return typeof value === 'number'
      ? [{ quantity, ...(of && { of }), value: `${value} ${unit === '1' ? '' : unit} ± ${accuracy?.value ?? 0}` }]
      : [];
  });
  return { ...build, vehicle: { ...build.vehicle, measured: [...(build.vehicle.measured ?? []), ...measured] } };
}

describe('the list of what to measure', () => {
  it.each([
    ['bare', bare],
    ['bold', bold],
  ])('of the %s build is in order, each once, in the group of its position', (_, { measure, measuring }) => {
    expect(measure.map(({ order }) => order)).toEqual(measure.map((__, i) => i + 1));
    expect(new Set(measure.map(({ ids }) => ids.join())).size).toBe(measure.length);
    for (const { id, readings } of measuring.groups)
      for (const order of readings) expect([order, measure[order - 1]?.group]).toEqual([order, id]);
    expect(measuring.groups.flatMap(({ readings }) => readings).sort((a, b) => a - b)).toEqual(measure.map(({ order }) => order));
  });

  it('shares the time of a position: all of it takes less than each on its own', () => {
    for (const { measure, measuring } of [bare, bold]) {
      expect(measuring.minutes).toBeLessThan(measure.reduce((sum, { minutes = 10 }) => sum + minutes, 0));
      for (const { setup_minutes, minutes, readings } of measuring.groups) {
        const own = readings.reduce((sum, order) => sum + (measure[order - 1]?.minutes_there ?? 0), 0);
        expect(Math.abs(setup_minutes + own - minutes)).toBeLessThanOrEqual(1);
      }
    }
  });

  it('says which few decide, and they come first', () => {
    expect(bare.measuring.decide.readings.length).toBeGreaterThan(0);
    expect(bare.measuring.decide.readings.length).toBeLessThanOrEqual(6);
    expect(bare.measure.filter(({ decides }) => decides).map(({ order }) => order)).toEqual(bare.measuring.decide.readings);
  });

  it('begins with what lets an unknown be told, before anything that is only too close', () => {
    const tells = bold.measure.filter(({ could_overturn }) => could_overturn.length === 0).map(({ would_tell }) => would_tell.length > 0);
    expect(tells[0]).toBe(true);
    expect(tells.lastIndexOf(true)).toBe(tells.filter(Boolean).length - 1);
  });

  it('asks with the planned parts on only for what cannot be told before', () => {
    for (const { state, would_settle, would_tell } of bare.measure.filter((one) => one.state === 'planned-parts-on'))
      expect([state, would_settle.length + would_tell.length > 0]).toEqual(['planned-parts-on', true]);
    const gap = bare.measure.filter(({ quantity }) => quantity.startsWith('tyre_gap'));
    expect(gap[0]?.state).toBe('as-it-stands');
  });

  it('puts stands, and never a jack alone, before whatever is read with the wheels off the ground', () => {
    const groups = [...bare.measuring.groups, ...bold.measuring.groups].filter(({ id }) => /hanging|bump/.test(id));
    expect(groups.length).toBeGreaterThan(2);
    for (const { cautions } of groups) expect(cautions.join()).toContain('never under a vehicle held by a jack alone');
  });

  it('tells of each reading that was given what is settled of all that rests on it, and what is not', () => {
    const verdicts = new Map(bold.findings.map(({ id, verdict }) => [id, verdict]));
    expect(bare.measuring.taken).toEqual([]);
    expect(bold.measuring.taken.length).toBeGreaterThan(3);
    for (const { settled, open, remark } of bold.measuring.taken) {
      expect(settled.length + open.length > 0).toBe(remark === undefined);
      for (const id of settled) expect([id, verdicts.get(id)]).toEqual([id, expect.stringMatching(/^(clear|conflict)$/)]);
      for (const id of open) expect([id, verdicts.get(id)]).toEqual([id, expect.stringMatching(/^(close|unknown)$/)]);
    }
    const gap = bold.measuring.taken.find(({ ids }) => ids.some((id) => id.startsWith('tyre_gap(cab-mounts')));
    expect([...(gap?.settled ?? []), ...(gap?.open ?? [])].some((id) => id.startsWith('cab-mount-gap'))).toBe(true);
  });

  it('says how each is sent', () => {
    for (const { write_down, ids, quantity } of bare.measure) {
      expect(write_down.quantity).toBe(quantity);
      expect(ids[0]?.includes('(')).toBe(write_down.of !== undefined);
    }
  });
});

describe('a body lift of which nobody said how high', () => {
  const { findings, measure } = answer({
    vehicle: { from: 'inline', class: 'midsize_independent_front' },
    parts: [{ from: 'inline', id: 'raise', kind: 'body_lift' }],
    load: { occupants: 1 },
    most_readings: 12,
  });

  it('leaves the tyre at what stands on the frame or turns with the wheel as it was', () => {
    const rules = ['ball-joint-gap', 'knuckle-gap', 'upper-arm-gap', 'cab-mount-gap', 'rear-spring-gap', 'spring-clamp-gap'];
    const frame = findings.filter(({ rule, verdict }) => rules.includes(rule) && verdict !== 'clear');
    expect(frame.map(({ rule }) => rule)).toContain('ball-joint-gap');
    for (const { id, verdict, as_before } of frame) expect([id, verdict, as_before]).toEqual([id, 'close', true]);
  });

  it('is not known at what is on the body', () => {
    const wanting = findings.filter(({ verdict, as_before }) => verdict === 'unknown' && !as_before).map(({ rule }) => rule);
    expect(wanting).toEqual(expect.arrayContaining(['steering-shaft-engagement', 'top-liner-gap', 'wing-lip-gap', 'bumper-alignment']));
    expect(wanting).not.toContain('ball-joint-gap');
  });

  it('asks for the height, and beside it for what can be read before that is chosen', () => {
    expect(measure[0]?.quantity).toBe('body_lift.height');
    const beside = measure.filter(({ why }) => /cannot be told yet will hang on it too/.test(why));
    expect(beside.map(({ subject }) => subject)).toEqual(expect.arrayContaining(['Steering shaft', 'Fuel filler hose', 'Ground strap']));
    for (const { state, would_narrow } of beside) expect([state, would_narrow.length > 0]).toEqual(['as-it-stands', true]);
  });
});

describe('a conflict that rests on defaults of the class', () => {
  const given = answer({
    vehicle: { from: 'inline', class: 'midsize_independent_front' },
    parts: [{ from: 'inline', id: 'tall', kind: 'tyre', at: 'all', replaces: 'fitted', attributes: { designation: '35x12.50R17' } }],
    load: { occupants: 1 },
  });
  const likely = given.findings.filter(({ verdict, on_defaults }) => verdict === 'conflict' && on_defaults);
  const { measure, measuring } = given;

  it('has what decides it first on the list, said to be able to overturn it', () => {
    expect(likely.map(({ rule }) => rule)).toContain('cab-mount-gap');
    const overturning = measure.filter(({ could_overturn }) => could_overturn.length > 0);
    expect(overturning.map(({ order }) => order)).toEqual(overturning.map((_, i) => i + 1));
    for (const { id, on_defaults } of likely.filter(({ hazard }) => hazard !== 'comfort'))
      for (const reading of on_defaults?.decide ?? []) {
        const found = overturning.find(({ ids }) => ids.includes(reading.id));
        expect([reading.id, found?.could_overturn]).toEqual([reading.id, expect.arrayContaining([id])]);
        expect([found?.how, found?.write_down.quantity].every(Boolean)).toBe(true);
        expect(found?.why).toMatch(/could overturn/);
      }
  });

  it('is the verdict whatever else is read, and the others say so', () => {
    const others = measure.filter(({ could_overturn }) => could_overturn.length === 0);
    expect(others.length).toBeGreaterThan(5);
    for (const { why } of others) expect(why).toMatch(/the verdict stays conflict|will hang on it too|both cannot be true/);
  });

  it('leaves nothing among the few that decide which ends, tells and settles nothing, alone or with a later one of them', () => {
    const few = measure.filter(({ decides }) => decides);
    expect(few.map(({ order }) => order)).toEqual(measuring.decide.readings);
    few.forEach(({ would_settle, would_tell, could_overturn, would_narrow }, i) => {
      const later = new Set(few.slice(i + 1).flatMap(({ would_settle: settles }) => settles.map(({ finding }) => finding)));
      const does = would_settle.length + would_tell.length + could_overturn.length;
      expect(does > 0 || would_narrow.some((id) => later.has(id))).toBe(true);
    });
  });

  it('no finding says that a reading decides which is not on the list', () => {
    const listed = new Set(measure.flatMap(({ ids }) => ids));
    for (const { says, on_defaults, settled_by } of given.findings.filter(({ says: text }) => /readings? decides?:/.test(text)))
      for (const { id } of on_defaults?.decide ?? settled_by?.readings ?? []) expect([says, listed.has(id)]).toEqual([says, true]);
  });
});

describe('a rear corner that nobody has drawn', () => {
  const own = (measured: readonly { quantity: string; of?: string; value: string }[]) =>
    answer({
      vehicle: {
        from: 'inline',
        class: 'solid_axle_long',
        fitted: [{ from: 'inline', id: 'own-arch', kind: 'rear_arch', at: 'rear' }],
        measured,
      },
    });
  const ride = { quantity: 'tyre_gap_at_ride', of: 'own-arch', value: '190 mm ± 4' };

  it('may be read by its set of five instead of gauged at bump; a drawn one is not', () => {
    const { measure, measuring } = own([ride]);
    const set = measuring.sets.find(({ id }) => id === 'rear-leaf-corner');
    expect(set?.quantities.slice(0, 5)).toEqual([
      'rear_stop_gap',
      'stop_free_height',
      'hub_to_frame',
      'hub_to_frame_hanging',
      'tyre_gap_at_ride',
    ]);
    const instead = set?.instead_of.map((order) => measure[order - 1]) ?? [];
    expect(instead.map((one) => [one?.quantity, one?.write_down.of])).toEqual([['tyre_gap', 'own-arch']]);
    expect(measure.filter(({ quantity, group }) => quantity === 'tyre_gap' && group === 'bump:rear').length).toBeGreaterThan(1);
    // Read at ride height alone it settles nothing, and is told so.
    const [taken] = measuring.taken;
    expect(measuring.taken.map(({ quantity }) => quantity)).toEqual(['tyre_gap_at_ride']);
    expect([taken?.settled, taken?.open.some((id) => id.startsWith('rear-arch-gap'))]).toEqual([[], true]);
  });
});

describe('parts that are read as one', () => {
  it('are alike in what is read: four tyres have one mass, and each axle its own place', () => {
    const tyre = {
      from: 'inline',
      kind: 'tyre',
      id: 'tall',
      at: 'all',
      replaces: 'fitted',
      attributes: { designation: 'LT255/80R17 121/118Q E', mass: '22 kg ± 1' },
    } as const;
    const made = assemble({ vehicle: { from: 'inline', class: 'solid_axle_short' }, parts: [tyre] }, demoCatalogue, checker.library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const rules = makeRuleSet(checker.library);
    const world = createWorld(made.assembly, checker.library, rules.texts);
    const groups = groupEvaluations(evaluateAll(rules, world), world, new Standing(rules, made.assembly));
    const told = candidateReadings(groups, world).map(({ slots, signature: { name } }) => ({
      name,
      values: slots.map((slot) => world.values.read(slot)),
      of: ofText(slots, world),
    }));
    expect(told.filter(({ values }) => values.some((value) => !Object.is(value, values[0])))).toEqual([]);
    expect(told.filter(({ of }) => of === 'tall').map(({ name, values }) => [name, values.length])).toContainEqual(['overall_diameter', 4]);
  });
});

describe('what is expected of readings', () => {
  it('comes true when they have the values that were expected', () => {
    // A ratio read off a tag may not be the factory's any more: what is held against that opens until that is said too.
    const as = bare.measure.filter(({ state, quantity }) => state !== 'planned-parts-on' && quantity !== 'axle_ratio');
    const after = new Map(answer(taken('bare', bare, as)).findings.map((finding) => [finding.id, finding]));
    const width = (id: string, of: Answer['findings'] | typeof after): number => {
      const margin = (of instanceof Map ? of.get(id) : of.find((finding) => finding.id === id))?.margin;
      return (margin?.high ?? Number.NaN) - (margin?.low ?? Number.NaN);
    };
    const settled = bare.measuring.settles;
    expect(settled.length).toBeGreaterThan(10);
    const isSettled = (id: string): boolean => ['clear', 'conflict'].includes(after.get(id)?.verdict ?? '');
    for (const id of settled) expect([id, isSettled(id) || width(id, after) < 0.7 * width(id, bare.findings)]).toEqual([id, true]);
    const open = (findings: Iterable<Answer['findings'][number]>) =>
      [...findings].filter(({ verdict, as_before }) => verdict === 'close' && !as_before).length;
    expect(open(after.values())).toBeLessThan(open(bare.findings) * 0.6);
  });

  it('tells both stories of what is too close to call, and no margin of it as a bare number', () => {
    const close = [...bare.findings, ...bold.findings].filter(({ verdict, rule }) => verdict === 'close' && rule !== 'statements-agree');
    expect(close.length).toBeGreaterThan(20);
    for (const { id, says, margin } of close) {
      expect([id, says]).toEqual([
        id,
        expect.stringMatching(/At the worse end of the tolerances: .+\. (At the better end|How good it may be)/s),
      ]);
      if (margin) expect([id, (margin.low ?? -1) < 0, margin.high === null || margin.high >= 0]).toEqual([id, true, true]);
    }
    // What rests on defaults of the class says that it is likely, and which readings decide.
    const likely = [...bare.findings, ...bold.findings].filter(({ on_defaults }) => on_defaults);
    expect(likely.length).toBeGreaterThan(10);
    for (const { id, says, margin } of likely) {
      expect([id, says]).toEqual([id, expect.stringMatching(/[Ll]ikely/)]);
      if (margin) expect([id, margin.plus_minus !== undefined]).toEqual([id, true]);
    }
  });

  it('is honest about how often: no chance is above one, none is listed that does nothing', () => {
    for (const { would_settle, would_narrow, would_tell, could_overturn } of [...bare.measure, ...bold.measure]) {
      expect(would_settle.length + would_narrow.length + would_tell.length + could_overturn.length).toBeGreaterThan(0);
      for (const { chance } of would_settle) expect(chance > 0.49 && chance <= 1).toBe(true);
    }
  });

  it('a closed answer asks for nothing', () => {
    expect(answer(demoBuild('modest'))).toMatchObject({
      measure: [],
      measuring: { minutes: 0, groups: [], sets: [], settles: [], leaves_open: [] },
    });
  });
});

describe('a position', () => {
  it('is known for every reading of the dictionary, by what it says of the suspension', () => {
    const { quantities, kinds, measuringPositions } = checker.library;
    const all = [...quantities.values(), ...[...kinds.values()].flatMap(({ attributes }) => [...attributes.values()])];
    const suspensions = new Set([...measuringPositions.values()].flatMap(({ suspension }) => suspension));
    const tools = new Set([...measuringPositions.values()].flatMap(({ tools: named }) => named));
    const strays = all.filter(({ measure }) => measure?.suspension !== undefined && !suspensions.has(measure.suspension));
    expect(strays.map(({ name }) => name)).toEqual([]);
    expect([...tools].filter((tool) => !all.some(({ measure }) => measure?.tool === tool))).toEqual([]);
    const hose = quantities.get('hose_route');
    expect(hose && positionOf(hose, measuringPositions).id).toBe('hanging');
  });
});
