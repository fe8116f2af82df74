/** What was logged and said in the invented sample session. */
import type { Callout, SessionEvent } from '@/lib/core/reconstruction/reconstruction';
import { EVENTS, sampleFigure, VOICE } from './sample-figure';

export const sampleEvents: readonly SessionEvent[] = [
  [95.2, EVENTS.file, 2, 'cabin-configured', null, null],
  [110.5, VOICE.file, 5, null, 'All positions go for the approach.', 'Flight'],
  [203.1, VOICE.file, 8, null, 'Your rate is high.', 'Flight'],
  [231.9, VOICE.file, 11, null, 'Range 70 meters.', 'Crew'],
  [345, VOICE.file, 14, null, 'Holding here.', 'Crew'],
  [399, VOICE.file, 17, null, 'Back off to fifty.', 'Flight'],
  [655.4, VOICE.file, 20, null, 'Range 10 meters.', 'Crew'],
  [796.4, EVENTS.file, 3, 'contact', null, null],
  [803.1, EVENTS.file, 4, 'soft-capture', null, null],
].map(([timeS, source, line, event, text, speaker]) => ({
  timeS: Number(timeS),
  endS: null,
  source: String(source),
  line: Number(line),
  event: event === null ? null : String(event),
  text: text === null ? null : String(text),
  speaker: speaker === null ? null : String(speaker),
}));

export const sampleCallouts: readonly Callout[] = [
  {
    timeS: 231.9,
    kind: 'range',
    said: sampleFigure(70, 'm'),
    telemetry: sampleFigure(72.1, 'm', 0.2, { from: 231.1, to: 231.1 }),
    difference: sampleFigure(-2.1, 'm', 0.2),
    text: 'Range 70 meters.',
    doubtful: false,
    source: VOICE.file,
    line: 9,
    nth: 1,
    review: null,
  },
  {
    timeS: 655.4,
    kind: 'range',
    said: sampleFigure(10, 'm'),
    telemetry: sampleFigure(9.95, 'm', 0.06, { from: 654.6, to: 654.6 }),
    difference: sampleFigure(0.05, 'm', 0.06),
    text: 'Range 10 meters.',
    doubtful: true,
    source: VOICE.file,
    line: 21,
    nth: 1,
    review: null,
  },
];
