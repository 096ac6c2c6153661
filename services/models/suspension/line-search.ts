/** Lowest point of a function with one valley, by golden sections with parabolic steps where it is smooth (Brent 1973, memory). */

export interface Lowest {
  readonly at: number;
  readonly value: number;
}

const GOLDEN = (3 - Math.sqrt(5)) / 2;

/** Over `low`…`high`, ends included; `tolerance` is relative to the interval. A valley at an end is found in four calls. */
export function minimise(f: (x: number) => number, low: number, high: number, tolerance = 1e-7): Lowest {
  const width = high - low;
  const atLow = f(low);
  if (!(width > 0)) return { at: low, value: atLow };
  const near = width * 1e-5;
  if (f(low + near) > atLow) return { at: low, value: atLow };
  const atHigh = f(high);
  if (f(high - near) > atHigh) return { at: high, value: atHigh };
  const inside = insideValley(f, low, high, width * tolerance);
  if (atLow < inside.value) return { at: low, value: atLow };
  return atHigh < inside.value ? { at: high, value: atHigh } : inside;
}

function insideValley(f: (x: number) => number, low: number, high: number, tolerance: number): Lowest {
  let [a, b] = [low, high];
  let x = a + GOLDEN * (b - a);
  let fx = f(x);
  let [w, fw, v, fv] = [x, fx, x, fx];
  let step = 0;
  let stepBefore = 0;
  for (let i = 0; i < 80; i++) {
    const middle = (a + b) / 2;
    if (Math.abs(x - middle) <= 2 * tolerance - (b - a) / 2) break;
    const parabolic = parabola(x, fx, w, fw, v, fv);
    const usable = Math.abs(parabolic) < Math.abs(stepBefore) / 2 && x + parabolic > a + tolerance && x + parabolic < b - tolerance;
    stepBefore = usable ? step : x < middle ? b - x : a - x;
    step = usable ? parabolic : GOLDEN * stepBefore;
    const u = x + (Math.abs(step) >= tolerance ? step : Math.sign(step || 1) * tolerance);
    const fu = f(u);
    if (fu <= fx) {
      if (u < x) b = x;
      else a = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
      continue;
    }
    if (u < x) a = u;
    else b = u;
    if (fu <= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
    else if (fu <= fv || v === x || v === w) [v, fv] = [u, fu];
  }
  return { at: x, value: fx };
}

/** Step from x to the vertex of the parabola through three points; infinite when they are in line. */
function parabola(x: number, fx: number, w: number, fw: number, v: number, fv: number): number {
  const r = (x - w) * (fx - fv);
  const q = (x - v) * (fx - fw);
  const below = 2 * (q - r);
  return below === 0 ? Number.POSITIVE_INFINITY : -((x - v) * q - (x - w) * r) / below;
}
