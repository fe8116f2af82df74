/** Limit cycles: the closed form of a dead band without torque, and what a column shows. */

/** A vehicle about one axis with pulsed jets. */
export type DeadBandJets = Readonly<{
  inertiaKgM2: number;
  thrustN: number;
  jetCount: number;
  leverArmM: number;
  /** Half-width of the dead band, rad. */
  halfBandRad: number;
  pulseS: number;
}>;

/**
 * Drift rate between edges and time of one coast from edge to edge, when each edge is answered by one
 * pulse that turns the rate about. A whole cycle is two coasts and two pulses.
 *
 * Valid: no external torque; the pulse is short against the coast.
 * Source: C. D. Brown, "Elements of Spacecraft Design" (2002), limit cycles; worked in lectures on space
 * propulsion of TU Wien, example 8: rate n F L Pw / (2 I), coast 4 I theta / (n F L Pw).
 */
export function deadBandCoast(
  jets: DeadBandJets,
): Readonly<{ rateRadPerS: number; coastS: number }> {
  const momentNm = jets.jetCount * jets.thrustN * jets.leverArmM;
  const rateRadPerS = (momentNm * jets.pulseS) / (2 * jets.inertiaKgM2);
  return { rateRadPerS, coastS: (2 * jets.halfBandRad) / rateRadPerS };
}

/** `amplitude` is half the mean distance of a top from the bottom that follows; NaN without both. */
export type MeasuredCycle = Readonly<{ cycles: number; amplitude: number; periodS: number }>;

/**
 * Amplitude and period of a column that swings about its mean: turns are the extremes between crossings
 * of the mean that go beyond a threshold on the other side, so that noise makes no turn.
 *
 * @param threshold half-width about the mean within which a crossing does not count
 * @returns `cycles` counts whole ones, from a top to the next top
 */
export function measureCycle(
  tS: Float64Array,
  values: Float64Array,
  threshold: number,
): MeasuredCycle {
  const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
  const turns: { atS: number; value: number }[] = [];
  let side = 0;
  values.forEach((value, row) => {
    const off = value - mean;
    const atS = tS[row] ?? Number.NaN;
    const now = off > threshold ? 1 : off < -threshold ? -1 : side;
    const last = turns[turns.length - 1];
    if (now !== 0 && now !== side) turns.push({ atS, value });
    else if (last !== undefined && now * (value - last.value) > 0)
      turns[turns.length - 1] = { atS, value };
    side = now;
  });
  // The first and the last turn may be cut off by the ends of the stretch.
  const whole = turns.slice(1, -1);
  const cycles = Math.floor((whole.length - 1) / 2);
  if (cycles < 1) return { cycles: 0, amplitude: Number.NaN, periodS: Number.NaN };
  let swing = 0;
  for (let i = 1; i < whole.length; i++)
    swing += Math.abs((whole[i]?.value ?? 0) - (whole[i - 1]?.value ?? 0));
  const first = whole[0]?.atS ?? Number.NaN;
  const end = whole[2 * cycles]?.atS ?? Number.NaN;
  return { cycles, amplitude: swing / (whole.length - 1) / 2, periodS: (end - first) / cycles };
}
