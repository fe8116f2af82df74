/** Words for kinds of evidence, and evidence as it is shown. */
import type { SeenThing } from '../core/reconstruction/contact-report';
import type { EvidenceKind } from '../core/sequence/sighting';
import { type FigureView, figureView } from './figure-view';

export const EVIDENCE_WORDS: Readonly<Record<EvidenceKind, string>> = {
  declared: 'by hand',
  motion: 'motion',
  discrete: 'discrete',
  written: 'written',
  voice: 'voice',
};

export type SeenView = Readonly<{
  key: string;
  kind: string;
  time: FigureView;
  words: string;
  /** File and line, where it stands in a log. */
  place: string | null;
}>;

/** One piece of evidence; `what` names what it shows. */
export function seenView(seen: SeenThing, what: string, sessionId: string): SeenView {
  const kind = EVIDENCE_WORDS[seen.kind];
  return {
    key: `${seen.kind}-${seen.source ?? 'motion'}-${seen.line ?? 0}`,
    kind,
    time: figureView(seen.timeS, { sessionId, label: `${what}, ${kind}`, form: 'time' }),
    words: seen.words,
    place: placeText(seen),
  };
}

/** `events.csv, line 12`; null for what stands in no file. */
export function placeText({ source, line }: Pick<SeenThing, 'source' | 'line'>): string | null {
  if (source === null) return null;
  return line === null ? source : `${source}, line ${line}`;
}
