/**
 * The chance that readings not yet taken settle a margin, before anybody knows what they will say.
 *
 * A margin's band is c ± h about its middle, by worst case; by root sum of squares ± r, which nineteen in twenty keep to. Readings leave ±w and
 * ±s of these. What they will show of the margin is spread about c with σ = √(r² − s²)/2, and no further than h − w. It is
 * settled where it then lies further from nothing than w:
 *
 *   P = 1 − (Φ((w' − c)/σ) − Φ((−w' − c)/σ)) / (Φ(k/σ) − Φ(−k/σ)),  k = h − w, ±w' kept within c ± k
 *
 * Φ: the normal distribution. It is small while much is left open, and grows fast with the last reading of those that matter.
 * Worked: c = 0, h = r = 1, w = s = 0.2: σ = 0.49, k = 0.8: P = 1 − 0.317/0.898 = 0.647.
 * Source: preposterior analysis, general textbook method; Φ by Abramowitz and Stegun, 7.1.26 (from memory), within 1.5e-7.
 */
export interface Spread {
  /** Half-width by worst case. */
  readonly worst: number;
  /** Half-width by root sum of squares. */
  readonly rss: number;
}

export function chanceSettled(middle: number, before: Spread, left: Spread): number {
  const most = before.worst - left.worst;
  if (!Number.isFinite(most) || !Number.isFinite(middle) || most <= 0) return 0;
  const sigma = Math.sqrt(Math.max(0, before.rss ** 2 - left.rss ** 2)) / 2;
  if (sigma === 0) return Math.abs(middle) > left.worst ? 1 : 0;
  const within = (x: number): number => Math.max(-most, Math.min(most, x - middle));
  const share = (from: number, to: number): number => normal(to / sigma) - normal(from / sigma);
  const whole = share(-most, most);
  return whole > 0 ? Math.max(0, Math.min(1, 1 - share(within(-left.worst), within(left.worst)) / whole)) : 0;
}

/** The normal distribution. */
export function normal(x: number): number {
  const z = Math.abs(x) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * z);
  const tail = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t * Math.exp(-z * z);
  return x < 0 ? tail / 2 : 1 - tail / 2;
}
