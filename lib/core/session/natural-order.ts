/** Names in the order a person counts them: `run-9` before `run-10`, the same under any language. */

const PIECES = /\d+|\D+/g;

function comparePieces(a: string, b: string): number {
  const isNumber = /^\d/.test(a) && /^\d/.test(b);
  const byValue = isNumber ? Number(a) - Number(b) : 0;
  if (byValue !== 0) return byValue;
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/**
 * Order of two names: digits by their value, everything else by its code units.
 *
 * @returns negative where `a` comes first, 0 for equal names, positive otherwise
 *
 * Valid: any text; a run of digits beyond 2^53 is ordered by its nearest double, then as text.
 * Source: elementary.
 */
export function naturalOrder(a: string, b: string): number {
  const left = a.match(PIECES) ?? [];
  const right = b.match(PIECES) ?? [];
  for (let index = 0; index < Math.min(left.length, right.length); index += 1) {
    const order = comparePieces(left[index] ?? '', right[index] ?? '');
    if (order !== 0) return order;
  }
  return left.length - right.length;
}
