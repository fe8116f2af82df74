/** A short excursion of a rate: it rises along a straight line, stays, and falls back along another. */

/**
 * Rises by `heightMps` from `atS` over `riseS`, stays for `flatS`, is taken back over `fallS`; 0 s is at once.
 * Rectangle, triangle and a jump that is taken back along a line are among them.
 */
export type ExcursionShape = Readonly<{
  atS: number;
  riseS: number;
  flatS: number;
  fallS: number;
  heightMps: number;
}>;

/** Way of a ramp to a rate of 1 m/s over `lastsS`, m, at a time after its middle. */
export function rampWayFromMiddleM(lastsS: number, afterMiddleS: number): number {
  const halfS = lastsS / 2;
  if (afterMiddleS <= -halfS) return 0;
  if (afterMiddleS >= halfS) return afterMiddleS;
  const inS = afterMiddleS + halfS;
  return (inS * inS) / (2 * lastsS);
}

/** Share of a ramp over `lastsS` that is done at a time after its middle. */
export function rampShareFromMiddle(lastsS: number, afterMiddleS: number): number {
  const halfS = lastsS / 2;
  if (afterMiddleS < -halfS) return 0;
  if (afterMiddleS >= halfS) return 1;
  return (afterMiddleS + halfS) / lastsS;
}

/** Middles of the two ramps of an excursion, s. */
function middlesS({ atS, riseS, flatS, fallS }: ExcursionShape): readonly [number, number] {
  return [atS + riseS / 2, atS + riseS + flatS + fallS / 2];
}

export function excursionEndS({ atS, riseS, flatS, fallS }: ExcursionShape): number {
  return atS + riseS + flatS + fallS;
}

/** Rate that an excursion adds at a time, m/s. */
export function excursionRateMps(shape: ExcursionShape, atS: number): number {
  const [upS, downS] = middlesS(shape);
  return (
    shape.heightMps *
    (rampShareFromMiddle(shape.riseS, atS - upS) - rampShareFromMiddle(shape.fallS, atS - downS))
  );
}

/** Way that an excursion has added by a time, m. */
export function excursionWayM(shape: ExcursionShape, atS: number): number {
  const [upS, downS] = middlesS(shape);
  return (
    shape.heightMps *
    (rampWayFromMiddleM(shape.riseS, atS - upS) - rampWayFromMiddleM(shape.fallS, atS - downS))
  );
}
