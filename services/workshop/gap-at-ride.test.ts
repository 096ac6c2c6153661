/**
 * A gap gauged standing, to something that is drawn. What turns and rises with the wheel keeps that gap in every position; what is straight above
 * comes nearer by what the wheel rises (both plane geometry). Between them the drawing says what travel takes, and how far it is off in that.
 */
import { describe, expect, it } from 'vitest';
import { assemble, type CheckRequest, createWorld, type PartInput, type VehicleReading } from '../vehicle/index.ts';
import { fitToReadings } from './fit-readings.ts';
import { makeRuleSet } from './rule-set.ts';
import { checker, demoCatalogue } from './testing.ts';

const rules = makeRuleSet(checker.library);
const CLASS = 'midsize_independent_front';
const atRide = (of: string, value: string): VehicleReading => ({ quantity: 'tyre_gap_at_ride', of, value, with: [] });

function look(measured: readonly VehicleReading[] = [], { fit = false, fitted = [] as readonly unknown[] } = {}) {
  const request: CheckRequest = { vehicle: { from: 'inline', class: CLASS, measured, fitted: fitted as PartInput[] } };
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const done = fit ? fitToReadings(made.assembly, rules, 'metric') : { ok: true as const, assembly: made.assembly };
  if (!done.ok) throw new Error(JSON.stringify(done.faults));
  const { assembly } = done;
  const world = createWorld(assembly, rules.library, rules.texts);
  const slot = (name: string, of: string): number =>
    world.values.slot(name, [assembly.parts.find(({ id }) => id === of)?.subject ?? (world.placed(of) as number)]);
  return {
    mm: (name: string, of: string): number => 1000 * world.values.read(slot(name, of)),
    /** Half of the band that decides. */
    open: (name: string, of: string): number => {
      const { low, high } = world.bands.of(slot(name, of));
      return 500 * (high - low);
    },
  };
}

describe('a gap gauged at ride height', { timeout: 120_000 }, () => {
  const bare = look();

  it('is that over the whole travel of what turns with the wheel, and of a beam axle’s own', () => {
    for (const of of ['knuckle-necks@front-left', 'spring-clamps@rear-left']) {
      expect(bare.open('tyre_gap', of)).toBeGreaterThan(15);
      expect(bare.mm('gap_taken_by_travel', of)).toBeCloseTo(0, 6);
      const read = look([atRide(of, '40 mm ± 4')]);
      expect(read.mm('tyre_gap', of)).toBeCloseTo(40, 6);
      expect(read.open('tyre_gap', of)).toBeCloseTo(4, 6);
    }
  });

  it('loses to the liner above most of what the wheel rises, and no more', () => {
    const axle = (name: string): number => bare.mm(name, 'front');
    const rises = axle('full_bump_fitted') - axle('full_droop_fitted') - axle('droop_left_fitted');
    const taken = bare.mm('gap_taken_by_travel', 'top-liners@front-left');
    expect(taken).toBeLessThan(rises);
    expect(taken).toBeGreaterThan(0.75 * rises);
  });

  it('leaves what is above the tyre open over bumps, be the defaults made to agree with it or not', () => {
    const of = 'top-liners@front-left';
    const read = look([atRide(of, '115 mm ± 4')], { fit: true });
    expect(read.open('tyre_gap', of)).toBeGreaterThan(25);
    expect(read.open('tyre_gap', of)).toBeLessThanOrEqual(bare.open('tyre_gap', of) * (1 + 1e-9));
  });

  it('says more of what somebody drew than the drawing does, where travel takes little', () => {
    const tank = {
      from: 'inline',
      kind: 'own_obstacle',
      id: 'tank',
      name: 'Washer tank',
      at: 'front',
      shape: { lines: [['-600, 600, 372 mm']], plus_minus: '10 mm' },
    };
    const of = 'tank@front-left';
    const drawn = look([], { fitted: [tank] });
    const read = look([atRide(of, `${drawn.mm('tyre_gap_at_ride', of) + 8} mm ± 3`)], { fitted: [tank] });
    expect(read.mm('tyre_gap', of)).toBeCloseTo(drawn.mm('tyre_gap', of) + 8, 6);
    expect(read.open('tyre_gap', of)).toBeLessThan(drawn.open('tyre_gap', of));
  });
});
