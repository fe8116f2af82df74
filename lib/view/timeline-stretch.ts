/** The figures of a stretch as the sheet beside the strips shows them. */
import type { CapturedFigure } from '../core/findings/finding';
import type { SessionEvent } from '../core/reconstruction/reconstruction';
import { type FigureView, figureView } from './figure-view';
import type { FigureForm } from './format-figure';
import { logText } from './timeline-readout';

export type StretchView = Readonly<{
  figures: readonly Readonly<{ key: string; figure: FigureView }>[];
  words: readonly Readonly<{ tS: number; text: string }>[];
  /** Entries beyond those shown. */
  moreWords: number;
}>;

const WORDS_SHOWN = 12;
/** Two stamps that read alike, to a tenth of a second. */
const SAME_S = 0.05;

export function stretchView(
  sessionId: string,
  stretch: Readonly<{ figures: readonly CapturedFigure[]; words: readonly SessionEvent[] }>,
): StretchView {
  const spoken = stretch.words.map((event) => ({
    tS: event.timeS,
    text: logText({ speaker: event.speaker, text: event.text ?? event.event ?? '' }),
  }));
  // The same words at the same time stand in two logs: they are said once.
  const words = spoken.filter((each, index) => {
    return (
      index ===
      spoken.findIndex((one) => Math.abs(one.tS - each.tS) < SAME_S && one.text === each.text)
    );
  });
  return {
    figures: capturedViews(sessionId, stretch.figures),
    words: words.slice(0, WORDS_SHOWN),
    moreWords: Math.max(0, words.length - WORDS_SHOWN),
  };
}

/** Instants read as a clock, lengths as said, margins with their sign. */
function formOf(key: string): FigureForm {
  if (key.endsWith('.margin')) return 'signed';
  if (key === 'stretch.duration_s') return 'spoken';
  return /(start|end|time|worst)_s$/.test(key) ? 'time' : 'number';
}

/** Captured figures in the reader's units, the same beside the strips and on the finding's page. */
export function capturedViews(
  sessionId: string,
  figures: readonly CapturedFigure[],
): StretchView['figures'] {
  return figures.map(({ key, label, figure }) => ({
    key,
    figure: figureView(figure, { sessionId, label, form: formOf(key) }),
  }));
}
