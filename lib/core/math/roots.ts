/** Roots of a function of one variable inside a bracket. */

export type Bracket = Readonly<{ low: number; high: number }>;

/**
 * A root inside a bracket, by bisection with a secant step where it helps (the Illinois variant of
 * false position).
 *
 * Supposes one crossing; with several it finds one of them, with no order. Either direction.
 *
 * @param f continuous over the bracket
 * @param bracket ends at which `f` has opposite signs (or is zero)
 * @param tolerance width of the last bracket, in the variable's unit
 * @returns the place; NaN where the ends have the same sign, or after 200 steps without convergence
 *
 * Source: M. Dowell, P. Jarratt, "A modified regula falsi method", BIT 11 (1971) 168.
 */
export function bracketedRoot(
  f: (x: number) => number,
  bracket: Bracket,
  tolerance: number,
): number {
  let { low, high } = bracket;
  let atLow = f(low);
  let atHigh = f(high);
  if (atLow === 0) return low;
  if (atHigh === 0) return high;
  if (!(atLow < 0 !== atHigh < 0) || Number.isNaN(atLow + atHigh)) return Number.NaN;
  let lastSide = 0;
  for (let step = 0; step < 200; step++) {
    if (Math.abs(high - low) <= tolerance) return (low + high) / 2;
    const secant = (low * atHigh - high * atLow) / (atHigh - atLow);
    const x = step % 3 === 2 ? (low + high) / 2 : secant;
    const here = f(x);
    if (here === 0) return x;
    if (here < 0 === atHigh < 0) {
      high = x;
      atHigh = here;
      if (lastSide === 1) atLow /= 2;
      lastSide = 1;
    } else {
      low = x;
      atLow = here;
      if (lastSide === -1) atHigh /= 2;
      lastSide = -1;
    }
  }
  return Number.NaN;
}
