/** Numbers spread evenly over 0 to 1 without chance: the same each time. */

/**
 * A term of the van der Corput sequence: the digits of a number behind the point, turned round.
 *
 * @param index 0, 1, 2 ...
 * @param base a prime; different ones are spread independently of each other (the Halton sequence)
 * @returns over 0 and under 1
 *
 * Source: H. Niederreiter, "Random Number Generation and Quasi-Monte Carlo Methods" (1992), section 3.1.
 */
export function vanDerCorput(index: number, base: number): number {
  let share = 1;
  let sum = 0;
  for (let rest = index + 1; rest > 0; rest = Math.floor(rest / base)) {
    share /= base;
    sum += share * (rest % base);
  }
  return sum;
}
