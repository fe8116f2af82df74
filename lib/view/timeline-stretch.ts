/** The figures of a stretch as the sheet beside the strips shows them. */
import type { CapturedFigure } from '../core/findings/finding';
import type { SessionEvent } from '../core/reconstruction/reconstruction';
import { type FigureView, figureView } from './figure-view';
import { formatSessionTime } from './format-time';
import { logText } from './timeline-readout';

export type StretchView = Readonly<{
  figures: readonly Readonly<{ key: string; figure: FigureView }>[];
  words: readonly Readonly<{ time: string; text: string }>[];
  /** Entries beyond those shown. */
  moreWords: number;
}>;

const WORDS_SHOWN = 12;

export function stretchView(
  sessionId: string,
  stretch: Readonly<{ figures: readonly CapturedFigure[]; words: readonly SessionEvent[] }>,
): StretchView {
  return {
    figures: capturedViews(sessionId, stretch.figures),
    words: stretch.words.slice(0, WORDS_SHOWN).map((event) => ({
      time: formatSessionTime(event.timeS),
      text: logText({ speaker: event.speaker, text: event.text ?? event.event ?? '' }),
    })),
    moreWords: Math.max(0, stretch.words.length - WORDS_SHOWN),
  };
}

/** Captured figures in the reader's units, the margin with its sign. */
export function capturedViews(
  sessionId: string,
  figures: readonly CapturedFigure[],
): StretchView['figures'] {
  return figures.map(({ key, label, figure }) => ({
    key,
    figure: figureView(figure, {
      sessionId,
      label,
      form: key.endsWith('.margin')
        ? 'signed'
        : key === 'stretch.duration_s'
          ? 'duration'
          : 'number',
    }),
  }));
}
