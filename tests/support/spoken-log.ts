/** A voice log for the small session: ranges said on a clock 12 s behind session time. */
import { smallSession } from './small-session';

const OFFSET_S = 12;

/** Ranges said, m, and how long after they were passed, s: the small session closes at 0.3 m/s from 40 s on. */
const SAID: readonly (readonly [rangeM: number, lateS: number])[] = [
  [25, 0.6],
  [20, 1.3],
  [15, 0.8],
  [10, 0.5],
  [8, 1.0],
];

/** A cue takes three lines, its first is the timing. */
const lineOfCue = (index: number): number => 3 + 3 * index;
export const LINE_OF_25 = lineOfCue(0);
export const LINE_OF_20 = lineOfCue(1);
export const LINE_OF_15 = lineOfCue(2);
export const LINE_OF_DOUBT = lineOfCue(SAID.length);

const stamp = (timeS: number): string =>
  `${String(Math.floor(timeS / 60)).padStart(2, '0')}:${(timeS % 60).toFixed(3).padStart(6, '0')}`;

function cue(rangeM: number, lateS: number, words: string): string {
  const sourceS = 40 + (30 - rangeM) / 0.3 + lateS - OFFSET_S;
  return `${stamp(sourceS)} --> ${stamp(sourceS + 2)}\n${words}\n`;
}

/** Files to lay over the small session: its description with the log, and the log. */
export function spokenLog(): Readonly<Record<string, string>> {
  const source = '  - { file: loop.vtt, type: events, clock: { align: callouts } }\n';
  const description = smallSession().get('session.yaml') ?? '';
  const cues = SAID.map(([rangeM, lateS]) => cue(rangeM, lateS, `Range ${rangeM} metres.`));
  const doubt = cue(7, 0.7, 'We expect 7 metres soon.');
  return {
    'session.yaml': description.replace('plan: plan.yaml', `${source}plan: plan.yaml`),
    'loop.vtt': `WEBVTT\n\n${[...cues, doubt].join('\n')}`,
  };
}
