/** Statements that each read well and cannot both be true of one vehicle. */
import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';
import { smallLibrary } from './testing-small.ts';

const read = (of: string, measured: readonly VehicleReading[]) => answer({ vehicle: { from: 'inline', class: of, measured } });
const disagreeing = (given: ReturnType<typeof read>): string[] => findingsOf(given, 'statements-agree').map(({ says }) => says);
const gap = (quantity: string, value: string): VehicleReading => ({ quantity, of: 'cab-mounts@front-left', value });

describe('statements that bound each other', () => {
  it('a tyre that touches standing has no room over its travel: both readings are named, and the answer is not clear', () => {
    const given = read('solid_axle_long', [gap('tyre_gap', '60 mm ± 3'), gap('tyre_gap_at_ride', '-10 mm ± 2')]);
    expect(disagreeing(given)).toEqual([
      expect.stringMatching(
        /^Gap to the tyre, as it stands of .+, 60 mm \(measured, ± 3 mm\) is never above gap to the tyre at ride height of .+, -10 mm \(measured, ± 2 mm\)/,
      ),
    ]);
    expect(given.verdict).not.toBe('clear');
  });

  it('what rests on readings that contradict each other is settled by neither, and asks for both again', () => {
    const of = (ride: string) => read('solid_axle_long', [gap('tyre_gap', '60 mm ± 3'), gap('tyre_gap_at_ride', ride)]);
    const at = (given: ReturnType<typeof read>) =>
      given.findings.find(({ rule, id }) => rule === 'cab-mount-gap' && id.includes('front-left'));
    const [apart, agreeing] = [of('-10 mm ± 2'), of('70 mm ± 2')];
    const ids = ['tyre_gap(cab-mounts@front-left)', 'tyre_gap_at_ride(cab-mounts@front-left)'];
    expect(at(agreeing)?.verdict).toBe('clear');
    expect(at(apart)).toMatchObject({ verdict: 'close', contested: ids });
    expect(at(apart)?.says).toMatch(
      /^Too close to call: what was said of .+ \(60 mm\) and .+ \(-10 mm\) contradicts each other; read them again/,
    );
    const again = apart.measure.filter(({ ids: [id] }) => ids.includes(id as string));
    for (const { why } of again)
      expect(why).toMatch(/60 mm \(measured, ± 3 mm\).* -10 mm \(measured, ± 2 mm\): both cannot be true|-10 mm .* 60 mm/);
    expect([again.length, agreeing.measure.filter(({ why }) => why.includes('both cannot be true'))]).toEqual([2, []]);
    // Elsewhere nothing is doubted.
    const right = (given: ReturnType<typeof read>) => given.findings.find(({ id }) => id === 'cab-mount-gap:cab-mounts@front-right');
    expect(right(apart)).toEqual(right(agreeing));
  });

  it('two readings of one value are told over both, whichever was sent first', () => {
    const at = (...values: readonly string[]) =>
      read(
        'solid_axle_long',
        values.map((value) => gap('tyre_gap', value)),
      ).findings.find(({ id }) => id === 'cab-mount-gap:cab-mounts@front-left');
    const [near, far, both, turned] = [at('20 mm ± 2'), at('31 mm ± 2'), at('31 mm ± 2', '20 mm ± 2'), at('20 mm ± 2', '31 mm ± 2')];
    expect(near?.margin?.low).toBeLessThan(Number(far?.margin?.low));
    for (const one of [both, turned]) {
      expect([one?.verdict, one?.margin?.low, one?.margin?.high]).toEqual(['close', near?.margin?.low, far?.margin?.high]);
      expect(one?.says).toContain('. Over both: ');
    }
  });

  it('a reading that the size contradicts wins, and heads the list of what to read again', () => {
    const given = answer({
      vehicle: {
        from: 'inline',
        class: 'van',
        fitted: [{ from: 'inline', id: 'factory-tyres', kind: 'tyre', at: 'all', attributes: { designation: '265/65R17 112T' } }],
        measured: [{ quantity: 'tyre.overall_diameter', of: 'factory-tyres', value: '31.6 in ± 0.1' }],
      },
    });
    expect(disagreeing(given).join()).toContain('The one named first here is used');
    expect(given.measure[0]).toMatchObject({
      quantity: 'tyre.overall_diameter',
      // 31.6 in is 802.6 mm; the size has 17 · 25.4 + 2 · 0.65 · 265 = 776.3 mm, or what its standard lets it grow to.
      why: expect.stringMatching(/^802\.6 mm \(measured, ± 2\.5 mm\) against 77[67](\.\d)? mm \(computed, .+\): both cannot be true$/),
      would_tell: expect.arrayContaining(['statements-agree:tyre.overall_diameter(factory-tyres@front-left)']),
    });
    expect(given.measure.filter(({ quantity }) => quantity === 'tyre.overall_diameter').length).toBe(1);
  });

  it('readings that touch within their tolerances are left alone', () => {
    expect(disagreeing(read('solid_axle_long', [gap('tyre_gap', '60 mm ± 3'), gap('tyre_gap_at_ride', '56 mm ± 2')]))).toEqual([]);
    expect(disagreeing(read('solid_axle_long', [gap('tyre_gap', '60 mm ± 3')]))).toEqual([]);
  });

  it.each([
    [
      '9000 kg',
      '1200 kg',
      '1400 kg',
      /^Rated gross mass, 9000 kg .+ is never above the sum of rated axle load of the front axle, 1200 kg .+ and rated axle load of the rear axle, 1400 kg/,
    ],
    ['1300 kg', '1200 kg', '1400 kg', /^Rated gross mass, 1300 kg .+ is never below rated axle load of the rear axle, 1400 kg/],
  ])('a gross rating of %s on axles of %s and %s is one of the axles’ or of none', (gross, front, rear, says) => {
    const given = read('van', [
      { quantity: 'gross_mass_rating', value: gross },
      { quantity: 'axle_rating', of: 'front', value: front },
      { quantity: 'axle_rating', of: 'rear', value: rear },
    ]);
    expect(disagreeing(given)).toEqual([expect.stringMatching(says)]);
  });

  it('a wheel hangs lower than it stands', () => {
    const hub = (quantity: string, value: string): VehicleReading => ({ quantity, of: 'rear', value });
    expect(disagreeing(read('van', [hub('hub_to_frame', '420 mm ± 3'), hub('hub_to_frame_hanging', '380 mm ± 3')])).length).toBe(1);
    expect(disagreeing(read('van', [hub('hub_to_frame', '420 mm ± 3'), hub('hub_to_frame_hanging', '480 mm ± 3')]))).toEqual([]);
  });

  it('a bound that names nothing is refused when rules are read', () => {
    const quantities = 'room:\n  title: Room\n  unit: mm\n  per: vehicle\n  meaning: Room\n  comes: given\n  never_above: [roof_gab]\n';
    expect(() => smallLibrary([], { 'quantities/more.yaml': quantities })).toThrow(
      'is never above `roof_gab`, and there is no such quantity',
    );
  });
});
