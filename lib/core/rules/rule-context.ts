/** What rules are evaluated against. */
import { lowerBound } from '../math/search';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { RateCourses } from '../motion/rate-courses';
import { motionAt, rowsAround } from '../motion/sample-motion';
import type { When, Within } from '../session/rule';

/** A fault of the data under a quantity: `what` for a person, the channel as written. */
export type QuantityFault = Readonly<{
  what: string;
  /** null for the whole source. */
  channel: string | null;
  startS: number;
  endS: number;
}>;

/** A quantity estimated over time: NaN = not known. */
export type EstimatedQuantity = Readonly<{
  tS: Float64Array;
  value: Float64Array;
  /** Standard deviation of each; 0 throughout where the scatter cannot tell it (`noise` unknown). */
  sd: Float64Array;
  noise: 'estimated' | 'unknown';
  unit: string;
  /** Rows `[from, to)` between gaps. */
  stretches: readonly Readonly<{ from: number; to: number }>[];
  /** Time over which errors hang together, s. */
  spanS: number;
  /** How fast the correlation of errors falls with the time apart, 1/s; absent: one over the span. */
  partingPerS?: number;
  /** Span of the lines that smoothed it, s, where they may have flattened a bend; absent elsewhere. */
  linesS?: number;
  /** Largest excursion that would not stand out of the noise, at each row; absent where it shows. */
  unseen?: Float64Array;
  /** How fast such an excursion rises and falls, per second; absent: at once. */
  unseenPerS?: number;
  /** Largest jump that would not, taken back along a line, at each row; absent where one of either is seen. */
  unseenJump?: Float64Array;
  /** Courses it may have taken where an excursion stands out; absent where its errors are normal ones throughout. */
  courses?: readonly RateCourses[];
  /** Stated systematic half-width (95 %), in the unit; `null` where not stated. */
  systematic: number | null;
  channels: readonly string[];
  /** Faults of those channels and of their source, by time; absent where nobody looked. */
  faults?: readonly QuantityFault[];
  method: string;
}>;

export type RuleEvent = Readonly<{ timeS: number; event: string; source: string }>;

/** A step's flown span, s; `null` half-widths where not known. */
export type StepSpan = Readonly<{
  startS: number;
  endS: number;
  startHalfS: number;
  endHalfS: number;
}>;

export type RuleContext = Readonly<{
  motion: MotionEstimate | null;
  /** From the first row to contact or the last row; `null` without telemetry. */
  evaluated: Readonly<{ fromS: number; toS: number }> | null;
  /** Steps that were flown, by id. */
  steps: ReadonlyMap<string, StepSpan>;
  /** Entries that name an event, in time order. */
  events: readonly RuleEvent[];
  /** Entries of all logs, those that name no event included. */
  logEntryCount: number;
  /** From the first to the last entry of the logs that name events; absent where nobody looked. */
  eventLogs?: Readonly<{ fromS: number; toS: number }>;
  /** The quantity of that name; `null` where no channel carries it. */
  quantity: (name: string) => EstimatedQuantity | null;
  /** A channel of states as recorded; `null` where no source has it. Absent: there are none. */
  states?: (name: string) => StateColumn | null;
}>;

/** States over time: NaN = not known. */
export type StateColumn = Readonly<{ tS: Float64Array; values: Float64Array; channel: string }>;

/** Whether an instant lies inside a rule's `within`; `unknown` in a gap whose sides differ. */
export type Inside = 'inside' | 'outside' | 'unknown';

/** True where there are no bounds, or the value lies on or between them. */
export function isBetween(value: number, bounds: readonly [number, number] | null): boolean {
  return bounds === null || (value >= bounds[0] && value <= bounds[1]);
}

/**
 * Where an instant stands to `within` and to the evaluated stretch.
 *
 * In a gap the range is not known: the instant is outside when the two sides of the gap lie on one
 * side of the bounds, else it cannot be told.
 */
export function insideWithin(within: Within | null, atS: number, context: RuleContext): Inside {
  const { evaluated, motion } = context;
  if (evaluated !== null && (atS < evaluated.fromS || atS > evaluated.toS)) return 'outside';
  if (within === null) return 'inside';
  if (within.step !== null) {
    const step = context.steps.get(within.step);
    if (step === undefined || atS < step.startS || atS > step.endS) return 'outside';
  }
  if (within.rangeM === null && within.axialM === null) return 'inside';
  if (motion === null) return 'unknown';
  const lastS = motion.tS[motion.tS.length - 1] ?? Number.NaN;
  // Contact may lie up to two seconds after the last row.
  const heldS = Math.min(atS, lastS);
  if (rowsAround(motion, heldS) !== null) {
    const inside =
      isBetween(motionAt(motion, 'rangeM', heldS), within.rangeM) &&
      isBetween(motionAt(motion, 'axialM', heldS), within.axialM);
    return inside ? 'inside' : 'outside';
  }
  return insideGap(within, heldS, motion);
}

function insideGap(within: Within, atS: number, motion: MotionEstimate): Inside {
  let before = -1;
  for (const span of motion.stretches) {
    if ((motion.tS[span.to - 1] ?? Number.POSITIVE_INFINITY) < atS) before = span.to - 1;
  }
  if (before < 0) return 'outside';
  const apart = (values: Float64Array, bounds: readonly [number, number] | null): boolean => {
    if (bounds === null) return false;
    const a = values[before] ?? Number.NaN;
    const b = values[before + 1] ?? Number.NaN;
    return Math.min(a, b) > bounds[1] || Math.max(a, b) < bounds[0];
  };
  if (apart(motion.rangeM, within.rangeM) || apart(motion.axialM, within.axialM)) return 'outside';
  return 'unknown';
}

/** As `insideWithin`, with the state of a channel; `unknown` where no row tells the state. */
export function insideWhen(when: When | null, atS: number, context: RuleContext): Inside {
  const place = insideWithin(when, atS, context);
  const mode = when?.mode ?? null;
  if (mode === null || place === 'outside') return place;
  const states = context.states?.(mode.channel) ?? null;
  if (states === null) return 'unknown';
  const row = lowerBound(states.tS, atS + 1e-9) - 1;
  const state = states.values[row] ?? Number.NaN;
  if (Number.isNaN(state)) return 'unknown';
  return mode.is.includes(state) ? place : 'outside';
}
