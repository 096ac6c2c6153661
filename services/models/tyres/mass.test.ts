/** What tyres and wheels weigh by their size, held against masses from elsewhere. */
import { describe, expect, it } from 'vitest';
import { type MassByArea, TYRE_MASS_BY_AREA, tyreArea, tyreAreaByDiameter, WHEEL_MASS_BY_AREA, wheelArea } from './mass.ts';

const INCH = 0.0254;
type Case = readonly [
  name: string,
  kind: keyof typeof TYRE_MASS_BY_AREA,
  diameter: number,
  width: number,
  rim: number,
  mass: readonly number[],
];

/** How far beyond what the model says a mass lies, kg; 0 within. */
const beyond = (mass: number, { middle, plusMinus }: MassByArea, area: number): number =>
  Math.max(0, Math.abs(mass - middle * area) - plusMinus * area);

describe('masses of tyres', () => {
  // Tyre files of an open library of vehicle dynamics (seen): radius, width, rim radius and mass.
  it.each<Case>([
    ['37x12.50R16.5 of a military truck', 'heavier', 0.9398, 0.3175, 0.419, [37.6]],
    ['225/75R16C of a small bus', 'heavier', 0.744, 0.228, 0.4064, [19.8]],
    ['245 wide, 18 in, of a saloon', 'passenger', 0.6532, 0.245, 0.4572, [11.5]],
  ])('holds that of a %s', (_, kind, diameter, width, rim, masses) => {
    const off = masses.map((mass) => beyond(mass, TYRE_MASS_BY_AREA[kind], tyreArea(diameter, width, rim)));
    expect(off).toEqual([0]);
  });

  // From memory of what is sold, highway to mud tread, load range C to E (common practice, no source).
  it.each<Case>([
    ['235/65R16C', 'heavier', 0.712, 0.24, 0.406, [17]],
    ['245/70R16', 'passenger', 0.749, 0.248, 0.406, [14, 20]],
    ['265/65R17', 'passenger', 0.776, 0.272, 0.432, [16, 20]],
    ['LT285/70R17', 'heavier', 0.832, 0.292, 0.432, [23.5, 29]],
    ['35x12.50R17', 'heavier', 0.879, 0.318, 0.432, [22, 36]],
    ['40x15.50R20', 'heavier', 1.01, 0.394, 0.508, [40, 50]],
    ['LT235/85R16', 'heavier', 0.806, 0.238, 0.406, [19, 23]],
    ['31x10.50R15', 'heavier', 0.775, 0.268, 0.381, [17.7, 22]],
  ])('holds those of %s, and its ends are not twice as far apart as its middle', (_, kind, diameter, width, rim, masses) => {
    const { middle, plusMinus } = TYRE_MASS_BY_AREA[kind];
    for (const mass of masses) expect([mass, beyond(mass, { middle, plusMinus }, tyreArea(diameter, width, rim))]).toEqual([mass, 0]);
    expect(plusMinus / middle).toBeLessThan(1 / 3);
  });

  it('rises with diameter and width, and falls with the rim', () => {
    const base = tyreArea(0.8, 0.27, 0.43);
    expect(tyreArea(0.81, 0.27, 0.43)).toBeGreaterThan(base);
    expect(tyreArea(0.8, 0.28, 0.43)).toBeGreaterThan(base);
    expect(tyreArea(0.8, 0.27, 0.44)).toBeLessThan(base);
  });

  it('of a diameter alone holds the narrowest and the widest that have it', () => {
    const { byDiameter } = TYRE_MASS_BY_AREA;
    // 33x9.50R15 to 33x12.50R17, from memory: 19 to 29 kg.
    for (const mass of [19, 29]) expect([mass, beyond(mass, byDiameter, tyreAreaByDiameter(33 * INCH))]).toEqual([mass, 0]);
  });
});

describe('masses of wheels', () => {
  // From memory of what is sold, forged to steel (common practice, no source).
  it.each<readonly [string, number, number, readonly number[]]>([
    ['15x7', 0.381, 7, [8, 11]],
    ['16x7', 0.406, 7, [9, 14]],
    ['17x7.5', 0.432, 7.5, [9, 15]],
    ['17x9', 0.432, 9, [11, 18]],
    ['20x12', 0.508, 12, [16, 22]],
  ])('hold those of %s', (_, rim, width, masses) => {
    for (const mass of masses) expect([mass, beyond(mass, WHEEL_MASS_BY_AREA, wheelArea(rim, width * INCH))]).toEqual([mass, 0]);
  });
});
