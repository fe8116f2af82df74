/** Words of a log that tell its clock: spoken ranges, calls of contact, points set by hand. */
import type { HumanLag } from '../clock/clock-solution';
import type { HandTie } from '../session/clock-correction';
import type { CalledEvent, EventCall } from './event-calls';
import type { RangePass } from './range-passes';
import type { ReviewedValue } from './review-callouts';

/** How a log is aligned: the human lag, and what is supposed of a range bias (its spread, m). */
export type AlignOptions = HumanLag & Readonly<{ rangeBiasSdM: number }>;

/** What a word may belong to: a session time (lag added) and how a range bias would shift it. */
export type Candidate = Readonly<{ sessionS: number; biasSPerM: number }>;

/**
 * A moment of the log with every moment of the session it may be. `lagSdS` is its scatter in time,
 * `valueM` the range said, `null` for what is no range. `fixed` ones are never rejected.
 */
export type ClockWord = Readonly<{
  kind: 'range' | 'event' | 'hand';
  label: string;
  line: number | null;
  spokenIndex: number | null;
  sourceS: number;
  valueM: number | null;
  lagSdS: number;
  fixed: boolean;
  candidates: readonly Candidate[];
}>;

/** An instant known without the log: session time and its standard deviation, s. */
export type KnownInstant = Readonly<{ event: CalledEvent; timeS: number; sdS: number }>;

/** Passes of a range as what a word spoken `lagS` later may belong to. */
export function candidatesOf(passes: readonly RangePass[], lagS: number): readonly Candidate[] {
  return passes.map(({ timeS, closingMps }) => ({
    sessionS: timeS + lagS,
    biasSPerM: 1 / closingMps,
  }));
}

/** Certain spoken ranges, still without their passes. Rates and doubtful values tell no clock. */
export function rangeWords(spoken: readonly ReviewedValue[], lag: HumanLag): readonly ClockWord[] {
  return spoken.flatMap((value, spokenIndex): ClockWord[] => {
    if (value.kind !== 'range' || value.doubtful) return [];
    return [
      {
        kind: 'range',
        label: value.text,
        line: value.line,
        spokenIndex,
        sourceS: value.sourceS,
        valueM: value.valueSi,
        lagSdS: lag.lagSdS,
        fixed: false,
        candidates: [],
      },
    ];
  });
}

/** Calls of events whose instant is known; the call follows it by the lag. */
export function eventWords(
  calls: readonly EventCall[],
  known: readonly KnownInstant[],
  lag: HumanLag,
): readonly ClockWord[] {
  return calls.flatMap((call): ClockWord[] => {
    const instant = known.find(({ event }) => event === call.event);
    if (instant === undefined) return [];
    return [
      {
        kind: 'event',
        label: call.text,
        line: call.line,
        spokenIndex: null,
        sourceS: call.sourceS,
        valueM: null,
        lagSdS: Math.hypot(lag.lagSdS, instant.sdS),
        fixed: false,
        candidates: [{ sessionS: instant.timeS + lag.lagS, biasSPerM: 0 }],
      },
    ];
  });
}

/** Points set by hand: no lag, never rejected. */
export function handWords(ties: readonly HandTie[]): readonly ClockWord[] {
  return ties.map(({ sourceS, sessionS, sdS }) => ({
    kind: 'hand',
    label: 'set by hand',
    line: null,
    spokenIndex: null,
    sourceS,
    valueM: null,
    lagSdS: sdS,
    fixed: true,
    candidates: [{ sessionS, biasSPerM: 0 }],
  }));
}
