/** Closed forms of braking and of constant-rate moves. */

/** Way needed to stop from a speed at a constant deceleration, m: v2 / (2 a). */
export function stoppingDistanceM(speedMps: number, decelerationMps2: number): number {
  return (speedMps * speedMps) / (2 * decelerationMps2);
}

/**
 * Time for a move from rest to rest: speeding up, holding the rate, slowing down, one acceleration.
 *
 * @param distanceM way, m
 * @param rateMps rate held in between, m/s
 * @param accelMps2 acceleration at both ends, m/s2
 * @public
 * @returns duration, s; where the way is too short to reach the rate, of speeding up and slowing down
 */
export function moveDurationS(distanceM: number, rateMps: number, accelMps2: number): number {
  const rampM = stoppingDistanceM(rateMps, accelMps2);
  if (2 * rampM >= distanceM) return 2 * Math.sqrt(distanceM / accelMps2);
  return (2 * rateMps) / accelMps2 + (distanceM - 2 * rampM) / rateMps;
}

/**
 * Time of an exponential approach, closing rate = lambda x range.
 *
 * @param lambdaPerS rate over range, 1/s
 * @public
 * @returns time from one range to a smaller one, s: ln(from / to) / lambda
 */
export function exponentialApproachS(fromM: number, toM: number, lambdaPerS: number): number {
  return Math.log(fromM / toM) / lambdaPerS;
}
