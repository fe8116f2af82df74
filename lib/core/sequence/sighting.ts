/** One piece of evidence that something happened, and when. */

/**
 * `discrete`: a telemetry channel that changed state; `motion`: read from the estimated motion;
 * `written`: an entry that names an event; `voice`: words that were spoken; `declared`: a person's
 * correction, which stands in place of what was found.
 */
export type EvidenceKind = 'declared' | 'discrete' | 'motion' | 'written' | 'voice';

/** `halfS` is the half-width of the 95 % interval, s; `null` where nothing tells it. */
export type Sighting = Readonly<{
  kind: EvidenceKind;
  atS: number;
  halfS: number | null;
  /** What was seen or said, in words. */
  words: string;
  /** File of the log or telemetry; `null` for the estimated motion. */
  source: string | null;
  /** Line of the log; `null` elsewhere. */
  line: number | null;
  channels: readonly string[];
  method: string;
}>;

/** An entry of a log on session time. */
export type LoggedEntry = Readonly<{
  timeS: number;
  source: string;
  line: number;
  event: string | null;
  text: string | null;
  speaker: string | null;
}>;

const CAPTIONS = /\.(vtt|srt)(\.gz)?$/i;

/** Whether an entry was written by somebody as an event, or is what was spoken. */
export function entryKind(entry: LoggedEntry): 'written' | 'voice' {
  if (entry.event !== null) return 'written';
  return entry.speaker !== null || CAPTIONS.test(entry.source) ? 'voice' : 'written';
}

/** The words of an entry with who said them; the event where there are no words. */
export function entryWords(entry: LoggedEntry): string {
  const words = entry.text ?? entry.event ?? '';
  return entry.speaker === null || entry.speaker === '' ? words : `${entry.speaker}: ${words}`;
}

/** An entry as evidence. */
export function entrySighting(entry: LoggedEntry): Sighting {
  const kind = entryKind(entry);
  return {
    kind,
    atS: entry.timeS,
    halfS: null,
    words: entryWords(entry),
    source: entry.source,
    line: entry.line,
    channels: [],
    method:
      kind === 'voice'
        ? 'Start of the spoken line on session time; what a person needs to speak is not taken out.'
        : 'Stamp of the log entry on session time.',
  };
}

/** The order in which kinds of evidence are believed where several tell one instant. */
const RANK: readonly EvidenceKind[] = ['declared', 'motion', 'discrete', 'written', 'voice'];

/** Sightings by kind, best first, by time within one kind. */
export function bestFirst(sightings: readonly Sighting[]): readonly Sighting[] {
  return [...sightings].sort(
    (a, b) => RANK.indexOf(a.kind) - RANK.indexOf(b.kind) || a.atS - b.atS,
  );
}
