/** Which sensor fed a solution when, from the column that says so. */
import type { NavigationState } from '../session/session-input';

/** `unknown` is a value that no state of the session file explains. */
export type FeedKind = NavigationState['kind'] | 'unknown';

/**
 * From its first row to the first row of the next stretch, or to its own last row before a gap. `beforeS` is
 * the row just before its first; absent at the start of the data and after a gap.
 */
export type FeedStretch = Readonly<{
  name: string;
  kind: FeedKind;
  fromS: number;
  beforeS?: number;
  toS: number;
  settlesS: number;
}>;

/** The solution began to be fed by something else between two rows. */
export type HandOver = Readonly<{
  from: string;
  to: string;
  toKind: FeedKind;
  /** The first row of the new state, s, and the last row of the old one. */
  atS: number;
  beforeS: number;
  settlesS: number;
}>;

const UNKNOWN_SETTLING_S = 10;

function stateOf(
  value: number,
  states: readonly NavigationState[],
): Omit<FeedStretch, 'fromS' | 'toS' | 'beforeS'> {
  const state = states.find((each) => each.value === value);
  return state === undefined
    ? { name: `value ${value}, not explained`, kind: 'unknown', settlesS: UNKNOWN_SETTLING_S }
    : { name: state.name, kind: state.kind, settlesS: state.settlesS };
}

/**
 * Stretches of one state each, in time order.
 *
 * A stretch ends where the next one begins; it ends at its last row where rows are missing after it,
 * and the same state after the gap is a stretch of its own. Rows without a value belong to none.
 *
 * @param tS session time of the rows, s, ascending
 * @param values the selector; NaN = no value
 * @param longestStepS a longer step is a gap, s
 */
export function feedStretches(
  tS: Float64Array,
  values: Float64Array,
  states: readonly NavigationState[],
  longestStepS: number,
): readonly FeedStretch[] {
  const stretches: FeedStretch[] = [];
  let from = -1;
  let before = -1;
  let last = -1;
  const close = (nextRow: number | null): void => {
    if (from < 0) return;
    const toS = tS[nextRow ?? last] ?? Number.NaN;
    const beforeS = tS[before];
    stretches.push({
      ...stateOf(values[from] ?? Number.NaN, states),
      fromS: tS[from] ?? 0,
      ...(beforeS === undefined ? {} : { beforeS }),
      toS,
    });
    from = -1;
  };
  for (let row = 0; row < values.length; row++) {
    const value = values[row] ?? Number.NaN;
    const isApart = last >= 0 && (tS[row] ?? 0) - (tS[last] ?? 0) > longestStepS;
    if (isApart) close(null);
    if (Number.isNaN(value)) continue;
    if (from >= 0 && value !== values[from]) close(row);
    if (from < 0) {
      from = row;
      before = isApart ? -1 : last;
    }
    last = row;
  }
  close(null);
  return stretches;
}

/**
 * Where one state gives way to another, also across a gap.
 *
 * @param stretches of one selector, in time order
 */
export function handOvers(stretches: readonly FeedStretch[]): readonly HandOver[] {
  return stretches.flatMap((next, index): HandOver[] => {
    const before = stretches[index - 1];
    if (before === undefined || before.name === next.name) return [];
    return [
      {
        from: before.name,
        to: next.name,
        toKind: next.kind,
        atS: next.fromS,
        beforeS: next.beforeS ?? before.toS,
        settlesS: next.settlesS,
      },
    ];
  });
}
