/**
 * Static stability factor: half of the track over the height of the centre of mass, T / 2h. A rigid body on a level road tips
 * at that sideways acceleration, in g (statics; any textbook).
 *
 *   h = Σ m·h / Σ m, over the vehicle and what is put on it
 *
 * kg and m. Worked: 2000 kg at 0.7 m and 100 kg at 1.96 m → 0.76 m; track 1.52 m → 1.0.
 */
export interface HighMass {
  readonly mass: number;
  readonly height: number;
}

export const centreHeight = (masses: readonly HighMass[]): number =>
  masses.reduce((sum, { mass, height }) => sum + mass * height, 0) / masses.reduce((sum, { mass }) => sum + mass, 0);

export const stabilityFactor = (track: number, height: number): number => track / (2 * height);
