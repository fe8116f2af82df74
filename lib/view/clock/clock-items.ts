/** What a source's clock rests on, one item a spoken value or tie point, in numbers. */
import { toSessionSeconds } from '../../core/clock/clock-terms';
import type { ClockTie } from '../../core/clock/clock-tie';
import type { Callout, Reconstruction } from '../../core/reconstruction/reconstruction';
import type { ClockFitEvidence, SourceReport } from '../../core/reconstruction/source-report';

/** What became of a value: `left out` ones are certain and yet tell this clock nothing. */
export type ItemState = 'used' | 'rejected' | 'doubtful' | 'left out';

export type ClockItem = Readonly<{
  key: string;
  kind: ClockTie['kind'] | 'rate';
  words: string;
  /** Its time on the source's own clock, and on session time by the clock found. */
  sourceS: number;
  sessionS: number;
  state: ItemState;
  reason: string;
  callout: Callout | null;
  tie: ClockTie | null;
}>;

/** The way between a source's own time and session time. */
export type OwnTime = Readonly<{
  toSession: (sourceS: number) => number;
  toSource: (sessionS: number) => number;
}>;

export function ownTime({ clock }: SourceReport): OwnTime {
  const terms = { offsetS: clock.offsetS.value ?? 0, driftPpm: clock.driftPpm.value ?? 0 };
  return {
    toSession: (sourceS) => toSessionSeconds(terms, sourceS),
    toSource: (sessionS) => (sessionS - terms.offsetS) / (1 + terms.driftPpm * 1e-6),
  };
}

/** Items of a source in the order of its own time. */
export function clockItems(
  { callouts }: Reconstruction,
  source: SourceReport,
): readonly ClockItem[] {
  const { evidence } = source.clock;
  const ties = evidence?.ties ?? [];
  const basis = evidence?.basis ?? 'given';
  const own = callouts.filter((callout) => callout.source === source.file);
  const time = ownTime(source);
  const spoken = own.map((callout): ClockItem => {
    const tie = tieOf(callout, own, ties);
    const { kind, line, nth, text: words, timeS: sessionS } = callout;
    const sourceS = tie?.sourceS ?? time.toSource(sessionS);
    const base = { key: `${line}-${nth}`, kind, words, sourceS, sessionS, callout, tie };
    return { ...base, ...spokenState(callout, tie, basis) };
  });
  const others = ties
    .filter(({ kind }) => kind !== 'range')
    .map((tie, index): ClockItem => {
      const { kind, label: words, sourceS, reason } = tie;
      const base = { key: `${kind}-${index}`, kind, words, sourceS, callout: null, tie, reason };
      return { ...base, sessionS: time.toSession(sourceS), state: tieState(tie, basis) };
    });
  return [...spoken, ...others].sort((a, b) => a.sourceS - b.sourceS);
}

/**
 * The tie point of a spoken range. Certain ranges of a line and its tie points are the same values
 * in the same order, though they are counted differently.
 */
function tieOf(
  callout: Callout,
  own: readonly Callout[],
  ties: readonly ClockTie[],
): ClockTie | null {
  if (callout.kind !== 'range' || callout.doubtful) return null;
  const before = own.filter(
    ({ line, kind, doubtful, nth }) =>
      line === callout.line && kind === 'range' && !doubtful && nth < callout.nth,
  ).length;
  const onLine = ties
    .filter(({ kind, line }) => kind === 'range' && line === callout.line)
    .sort((a, b) => (a.spokenIndex ?? 0) - (b.spokenIndex ?? 0));
  return onLine[before] ?? null;
}

type Basis = ClockFitEvidence['basis'];

function spokenState(
  callout: Callout,
  tie: ClockTie | null,
  basis: Basis,
): Pick<ClockItem, 'state' | 'reason'> {
  const said = (callout.said.reason ?? '').replace(/^Doubtful: /, '').replace(/\.$/, '');
  if (callout.review === 'rejected') return { state: 'rejected', reason: said };
  if (callout.doubtful) return { state: 'doubtful', reason: said };
  const judged = callout.review === null ? '' : `${callout.review} by a person; `;
  if (callout.kind === 'rate') {
    return { state: 'left out', reason: `${judged}a rate tells no clock` };
  }
  if (tie === null) return { state: 'left out', reason: `${judged}not held against the range` };
  return { state: tieState(tie, basis), reason: `${judged}${tie.reason}` };
}

/** Beside a clock that was stated nothing is rejected, and what no moment answers to is no outlier. */
function tieState({ used, sessionS }: ClockTie, basis: Basis): ItemState {
  if (used) return 'used';
  return basis === 'given' || sessionS === null ? 'left out' : 'rejected';
}
