/** How a source's clock came about and how well it is known, in words and figures. */
import type { HumanLag } from '../../core/clock/clock-solution';
import type {
  ClockFit,
  ClockFitEvidence,
  SourceReport,
} from '../../core/reconstruction/source-report';
import { formatNumber } from '../../core/units/number-text';
import { type FigureView, figureView, figureViewOrNull } from '../figure-view';
import { plural } from '../format-number';
import type { ClockItem, ItemState } from './clock-items';

export type ClockFacts = Readonly<{
  /** How the clock came about, in one sentence. */
  origin: string;
  offset: FigureView;
  drift: FigureView;
  rangeBias: FigureView | null;
  residualBefore: string;
  residualAfter: string;
  counts: string;
  /** What is assumed, by which rule, and what is to be said beside the numbers. */
  sentences: readonly Readonly<{ term: string; text: string }>[];
}>;

const STATES: readonly ItemState[] = ['used', 'rejected', 'doubtful', 'left out'];

export function clockFacts(
  { file, clock }: SourceReport,
  items: readonly ClockItem[],
  sessionId: string,
): ClockFacts {
  const { evidence } = clock;
  const named = (what: string) => ({ sessionId, label: `${file}, ${what}` });
  return {
    origin: originText(clock, evidence),
    offset: figureView(clock.offsetS, { ...named('clock offset'), form: 'signed' }),
    drift: figureView(clock.driftPpm, { ...named('clock drift'), form: 'signed' }),
    rangeBias: figureViewOrNull(evidence?.rangeBiasM ?? null, {
      ...named('range bias'),
      form: 'signed',
    }),
    residualBefore: rmsText(evidence?.residualRmsBeforeS ?? null),
    residualAfter: rmsText(evidence?.residualRmsAfterS ?? null),
    counts: countsText(items),
    sentences: sentencesOf(clock),
  };
}

function sentencesOf({ evidence, reason }: ClockFit): ClockFacts['sentences'] {
  const lag = evidence?.lag ?? null;
  const isFitted = evidence?.basis === 'callouts';
  return [
    { term: 'about the clock', text: reason },
    {
      term: 'assumed lag',
      text: lag === null ? null : `${lagText(lag)}${isFitted ? LAG_NOTE : ''}`,
    },
    { term: 'outlier rule', text: evidence?.outlierRule ?? null },
  ].flatMap(({ term, text }) => (text === null ? [] : [{ term, text }]));
}

function lagText({ lagS, lagSdS, lagMeanSdS }: HumanLag): string {
  const [lag, each, mean] = [lagS, lagSdS, lagMeanSdS].map((seconds) => formatNumber(seconds, 1));
  return `${lag} s; standard deviation ${each} s from word to word, ${mean} s in the mean.`;
}

const LAG_NOTE =
  ' Spoken ranges alone cannot tell lag and offset apart: if people spoke 0.1 s later than assumed, the offset is 0.1 s larger. The spread of the mean lag is inside the uncertainty of the offset.';

function originText(clock: ClockFit, evidence: ClockFitEvidence | null): string {
  const used = plural(clock.tiePointsUsed, 'tie point');
  switch (evidence?.basis) {
    case 'callouts': {
      const hand = evidence.ties.filter(({ kind, used: counts }) => kind === 'hand' && counts);
      const byHand = hand.length === 0 ? '' : `, ${hand.length} of them set by hand`;
      return clock.tiePointsUsed === 0
        ? 'To be found from spoken ranges, but none met a moment of the session: its own time is taken as session time.'
        : `Found from ${used} (spoken ranges and calls${byHand}) against the estimated range.`;
    }
    case 'tie-points': {
      const hand = evidence.ties.filter(({ kind }) => kind === 'hand').length;
      const some = hand === clock.tiePointsUsed ? 'set by hand' : `${hand} of them set by hand`;
      const whose = hand === 0 ? 'of the session file' : some;
      return `Fitted to ${used}, ${whose}.`;
    }
    case 'given':
      return 'Stated in the session file; nothing is fitted. What is spoken in the log stands beside it.';
    default:
      return 'Stated in the session file; nothing in this source can be held against it.';
  }
}

function rmsText(residualS: number | null): string {
  return residualS === null ? 'not known' : `${formatNumber(residualS, 2)} s rms`;
}

function countsText(items: readonly ClockItem[]): string {
  const parts = STATES.flatMap((state) => {
    const count = items.filter((item) => item.state === state).length;
    return count === 0 && state !== 'used' ? [] : [`${count} ${state}`];
  });
  return parts.join(', ');
}
