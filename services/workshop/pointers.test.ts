/** Faults point at what is in the request, or at what is missing right below something in it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assemble } from '../vehicle/assembly.ts';
import { checker, demoBuild, demoCatalogue, faults } from './testing.ts';

type Json = unknown;
const CODED = new Set(['from', 'units', 'values', 'class', 'version', 'occupants', 'date', 'tool', 'by', 'note', 'name']);

/** Paths of the texts that can be wrong. */
function textsIn(node: Json, path: readonly (string | number)[] = []): readonly (readonly (string | number)[])[] {
  if (typeof node === 'string') return [path];
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => (CODED.has(key) ? [] : textsIn(value, [...path, key])));
}

function put(node: Json, [step, ...rest]: readonly (string | number)[], value: Json): void {
  const at = node as Record<string | number, Json>;
  if (rest.length === 0) at[step as string] = value;
  else put(at[step as string], rest, value);
}

/** What a pointer leads to (RFC 6901); undefined where there is nothing. */
const lookUp = (node: Json, pointer: string): Json =>
  pointer
    .split('/')
    .slice(1)
    .map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'))
    .reduce<Json>((at, step) => (typeof at === 'object' && at !== null ? (at as Record<string, Json>)[step] : undefined), node);

const leadsSomewhere = (request: Json, pointer: string): boolean =>
  lookUp(request, pointer) !== undefined || typeof lookUp(request, pointer.slice(0, pointer.lastIndexOf('/'))) === 'object';

const request = () => {
  const build = demoBuild('bold');
  build.vehicle.measured?.push(
    { quantity: 'kerb_axle_mass', of: 'front', value: '1140 kg' },
    { quantity: 'wheelbase', value: '3200 mm' },
    { quantity: 'lower_ball_joint', of: 'front', value: '8, 728, 212 mm' },
    { quantity: 'mass', of: 'winch', value: '28 kg' },
  );
  (build.parts as unknown[]).push(
    { from: 'inline', kind: 'light_bar', attributes: { mass: '4 kg' }, measured: { mass: { value: '4.1 kg' } } },
    { from: 'inline', kind: 'wheel_spacer', at: 'front', attributes: { thickness: '20 mm' }, measured: { thickness: '21 mm' } },
  );
  return build;
};

describe('a pointer', () => {
  it('leads to something that was sent, or to what is missing from it, whatever was wrong', () => {
    const paths = textsIn(request());
    const junk = fc.constantFrom('nonsense', '12 furlongs', '5 kg', '-7 mm', 'rear-left', '', '3, 4 mm', 'fitted');
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.constantFrom(...paths), junk), { minLength: 1, maxLength: 4 }), (wrong) => {
        const build = request();
        for (const [path, value] of wrong) put(build, path, value);
        const checked = assembled(build);
        for (const { pointer, code } of checked) expect([pointer, code, leadsSomewhere(build, pointer)]).toEqual([pointer, code, true]);
      }),
      { numRuns: 120 },
    );
  });

  it('is that of the value where a reading of a place cannot be read, and that of its place where there is none', () => {
    const build = request();
    build.vehicle.measured = [
      { quantity: 'kerb_axle_mass', of: 'front', value: '12 furlongs' },
      { quantity: 'wheelbase', value: '5 kg' },
      { quantity: 'kerb_axle_mass', of: 'front-left', value: '500 kg' },
      { quantity: 'lower_ball_joint', of: 'front', value: 'nowhere' },
    ];
    expect(faults(build).map(({ pointer }) => pointer)).toEqual([
      '/vehicle/measured/0/value',
      '/vehicle/measured/1/value',
      '/vehicle/measured/2/of',
      '/vehicle/measured/3/value',
    ]);
  });

  it('counts parts as they were sent, those that could not be read included', () => {
    const build = demoBuild('modest');
    build.parts = [
      { from: 'catalogue', part: 'nothing' },
      { from: 'inline', kind: 'rear_bumper' },
    ] as never;
    expect(faults(build).map(({ pointer, code }) => [pointer, code])).toEqual([
      ['/parts/0/part', 'PART_UNKNOWN'],
      ['/parts/1', 'PLACE_TAKEN'],
    ]);
  });
});

function assembled(build: unknown) {
  const found = assemble(build as never, demoCatalogue, checker.library);
  return found.ok ? [] : found.faults;
}
