/** Stretches on clocks that begin again, such as times of day, set beside one another. */

/** First and last moment of a stretch, s; both NaN where it has none. */
export type Stretch = Readonly<{ lowS: number; highS: number }>;

export type Beside = Readonly<{
  /** By how many spans each stretch moves on; 0 for the earliest. */
  spans: readonly number[];
  /** The first stretch that lies far from all before it; null where none does. */
  apart: number | null;
}>;

/** What lies between two stretches, s; 0 where they overlap, NaN where one has none. */
function gapS(one: Stretch, other: Stretch, shiftS: number): number {
  return Math.max(0, other.lowS + shiftS - one.highS, one.lowS - other.highS - shiftS);
}

/**
 * By how many whole spans stretches of the same time move so that each lies nearest to those before it.
 *
 * @param stretches as their own clocks give them, each going on inside itself
 * @param spanS after how long the clock begins again, s
 * @param mostS a stretch that lies before the others by more than this is `apart`, s
 *
 * Valid: stretches of one time, no two of them more than a span apart.
 */
export function spansBeside(stretches: readonly Stretch[], spanS: number, mostS: number): Beside {
  const spans: number[] = [];
  let placed: Stretch = { lowS: Number.NaN, highS: Number.NaN };
  let apart: number | null = null;
  for (const [index, stretch] of stretches.entries()) {
    let span = 0;
    for (const other of [1, -1])
      if (gapS(placed, stretch, other * spanS) < gapS(placed, stretch, span * spanS)) span = other;
    const follows = span === 0 && stretch.lowS > placed.highS;
    if (gapS(placed, stretch, span * spanS) > mostS && !follows) apart ??= index;
    spans.push(span);
    if (Number.isNaN(stretch.lowS)) continue;
    const [lowS, highS] = [stretch.lowS + span * spanS, stretch.highS + span * spanS];
    const isFirst = Number.isNaN(placed.lowS);
    placed = isFirst
      ? { lowS, highS }
      : { lowS: Math.min(placed.lowS, lowS), highS: Math.max(placed.highS, highS) };
  }
  const least = Math.min(0, ...spans);
  return { spans: spans.map((span) => span - least), apart };
}
