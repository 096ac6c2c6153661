/**
 * Where a function meets zero between two ends, by false position with the Illinois step (textbook, memory), halving
 * instead where an end has no finite value or the ends draw together too slowly: a stop may be infinitely short where a
 * link does not reach.
 */
export function rootBetween(of: (x: number) => number, from: number, to: number, atFrom = of(from), atTo = of(to)): number {
  let [a, fa] = [from, atFrom];
  let [b, fb] = [to, atTo];
  if (fa === 0) return a;
  const positive = fa > 0;
  // The last end replaced; the other one is weighed less if it stays twice.
  let kept = 0;
  for (let i = 0; i < 80 && Math.abs(b - a) > 1e-13; i++) {
    const straight = a - (fa * (b - a)) / (fb - fa);
    const within = (straight - a) * (straight - b) < 0;
    const x = within && i % 4 !== 3 ? straight : (a + b) / 2;
    const fx = of(x);
    if (Math.abs(fx) < 1e-14) return x;
    if (fx > 0 === positive) {
      if (kept === 1) fb /= 2;
      [a, fa, kept] = [x, fx, 1];
    } else {
      if (kept === -1) fa /= 2;
      [b, fb, kept] = [x, Number.isNaN(fx) ? Number.NEGATIVE_INFINITY * (positive ? 1 : -1) : fx, -1];
    }
  }
  return a;
}
