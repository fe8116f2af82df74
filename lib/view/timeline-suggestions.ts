/** What a finding on a stretch might say, put together from what was computed there. */
import type { FindingKind } from '../core/findings/finding';
import type { TimeWindow } from './charts/time-window';
import type { LaneBar, TimelineView } from './timeline';

export type FindingSuggestion = Readonly<{
  title: string;
  seen: string;
  kind: FindingKind;
  severity: 'minor' | 'note';
}>;

const MOST = 5;
const MOST_WORDS = 3;

/**
 * Suggestions in the order of their weight: beyond a limit, not planned, later than planned, data faults.
 * Nothing is judged here: each says what was computed, and a person takes it or leaves it.
 *
 * @param view with its sentences on the reader's clock
 */
export function suggestFindings(
  view: Pick<TimelineView, 'beyond' | 'phases' | 'faults' | 'log' | 'plan'>,
  stretch: TimeWindow,
): readonly FindingSuggestion[] {
  const inside = <Bar extends LaneBar>(bars: readonly Bar[]): readonly Bar[] =>
    bars.filter((bar) => liesIn(bar, stretch));
  const said = wordsIn(view, stretch);
  const beyond = inside(view.beyond).map((bar): FindingSuggestion => {
    const seen = [`${bar.detail}.`, said].filter((part) => part !== '').join(' ');
    const title = bar.rule === 'limit' ? `${bar.label} beyond its limit` : bar.label;
    return { title, seen, kind: 'anomaly', severity: 'minor' };
  });
  const unplanned = inside(view.phases)
    .filter((phase) => !phase.planned)
    .map((phase): FindingSuggestion => {
      const seen = [`${phase.detail}. No step of the plan asks for it.`, said]
        .filter((part) => part !== '')
        .join(' ');
      return { title: `Not planned: ${phase.label}`, seen, kind: 'observation', severity: 'note' };
    });
  const faults = inside(view.faults).map(
    (bar): FindingSuggestion => ({
      title: `Data fault: ${bar.label}`,
      seen: bar.detail,
      kind: 'anomaly',
      severity: 'note',
    }),
  );
  const flown = inside(view.phases)
    .filter((phase) => phase.planned && isMostly(phase, stretch))
    .map(
      (phase): FindingSuggestion => ({
        title: `${phase.label} as flown`,
        seen: [`${phase.detail}.`, said].filter((part) => part !== '').join(' '),
        kind: 'observation',
        severity: 'note',
      }),
    );
  return [...beyond, ...unplanned, ...faults, ...flown].slice(0, MOST);
}

/** Stretches that only touch share nothing, unless one of them is an instant. */
function liesIn(bar: TimeWindow, stretch: TimeWindow): boolean {
  if (bar.fromS === bar.toS || stretch.fromS === stretch.toS)
    return bar.toS >= stretch.fromS && bar.fromS <= stretch.toS;
  return bar.toS > stretch.fromS && bar.fromS < stretch.toS;
}

/** A stretch that covers most of a phase is about that phase. */
function isMostly(bar: LaneBar, { fromS, toS }: TimeWindow): boolean {
  const shared = Math.min(bar.toS, toS) - Math.max(bar.fromS, fromS);
  return shared > 0.8 * (bar.toS - bar.fromS);
}

/** The first words of the stretch, as they were said. */
function wordsIn({ log }: Pick<TimelineView, 'log'>, { fromS, toS }: TimeWindow): string {
  const said = log.filter((mark) => mark.kind === 'said' && mark.tS >= fromS && mark.tS <= toS);
  const words = said.slice(0, MOST_WORDS).map(({ speaker, text }) => {
    return speaker === null || speaker === '' ? `“${text}”` : `${speaker}: “${text}”`;
  });
  return words.length === 0 ? '' : `Said meanwhile: ${words.join('; ')}.`;
}

/** The suggestion after the one that stands in the fields; null where words of one's own stand there. */
export function nextSuggestion(
  suggestions: readonly FindingSuggestion[],
  fields: Readonly<{ title: string; seen: string }>,
): FindingSuggestion | null {
  const isEmpty = fields.title.trim() === '' && fields.seen.trim() === '';
  const now = suggestions.findIndex(
    (each) => each.title === fields.title && each.seen === fields.seen,
  );
  if (!isEmpty && now === -1) return null;
  return suggestions[(now + 1) % Math.max(1, suggestions.length)] ?? null;
}
