/** What was logged and said: one script of the flight, written as events.csv and loop.vtt. */
import {
  DAMPED_AFTER_S,
  HARD_CAPTURE_AFTER_S,
  RETRACTION_AFTER_S,
  SOFT_CAPTURE_AFTER_S,
} from './capture-ring';
import { clockText, VOICE_OFFSET_S } from './demo-clock';
import type { FlightTruth } from './flight-truth';
import { HOLD_CALL_DELAY_S } from './guidance';
import { MANUAL_END_S, MANUAL_START_S } from './pilot';
import { makeRandom } from './random';

/** `event` null: said on the loop only. `spoken` null: in the events log only. */
type ScriptLine = Readonly<{ timeS: number; event: string | null; speaker: string; text: string }>;

/** First time after `fromS` at which the range falls to `rangeM`, s; interpolated between rows. */
export function rangeCrossingS(truth: FlightTruth, rangeM: number, fromS: number): number {
  const { timeS, x, y, z } = truth.columns;
  const distance = (row: number) => {
    const [px, py, pz] = [x[row] ?? 0, y[row] ?? 0, z[row] ?? 0];
    return Math.sqrt(px * px + py * py + pz * pz);
  };
  for (let row = 1; row < truth.rows; row += 1) {
    const [before, after] = [distance(row - 1), distance(row)];
    const startS = timeS[row - 1] ?? 0;
    if (startS >= fromS && before > rangeM && after <= rangeM) {
      return startS + ((before - rangeM) / (before - after)) * ((timeS[row] ?? 0) - startS);
    }
  }
  return Number.NaN;
}

/** Ranges read out by the crew: after which moment to look, how far, in which words. */
const READ_OUTS = [
  [0, 250, 'Range 250 metres.'],
  [0, 200, 'Two hundred metres.'],
  [0, 170, 'Range 170 metres.'],
  [0, 150, 'Passing 150 metres.'],
  [1440, 120, 'Range 120 metres, closing again.'],
  [1440, 100, 'One hundred metres.'],
  [1440, 80, 'Passing 80 metres.'],
  [1440, 60, 'Sixty metres, corridor is good.'],
  [1440, 50, 'Range 50 metres.'],
  [2420, 30, 'Thirty metres.'],
  [2420, 20, 'Range 20 metres.'],
  [2420, 15, 'Fifteen metres.'],
  [2420, 10, 'Ten metres.'],
  [2420, 5, 'Five metres.'],
  [2420, 3, 'Three metres.'],
  [2420, 2, 'Two metres.'],
  [2420, 1, 'One metre.'],
] as const;

function readOuts(truth: FlightTruth): ScriptLine[] {
  const lag = makeRandom(5150);
  return READ_OUTS.map(([fromS, rangeM, text]) => ({
    // A person needs a moment to read and to speak; at 2 m and closer they speak at once.
    timeS: rangeCrossingS(truth, rangeM, fromS) + Math.max(0.8 + 0.4 * lag.normal(), 0.1),
    event: null,
    speaker: 'PILOT',
    text,
  }));
}

function script(truth: FlightTruth): ScriptLine[] {
  const { legStartS, stuckSinceS, contactS } = truth;
  const leg = (name: string) => legStartS[name] ?? Number.NaN;
  const line = (
    timeS: number,
    speaker: string,
    text: string,
    event: string | null = null,
  ): ScriptLine => ({
    timeS,
    event,
    speaker,
    text,
  });
  const near = leg('hold-near');
  return [
    line(20, 'DIRECTOR', 'Loop check, all positions.'),
    line(27.2, 'STATION', 'Station reads you.'),
    line(41, 'DIRECTOR', 'Holding at three hundred. Manual test when ready, page 14, step 2.'),
    line(MANUAL_START_S, 'PILOT', 'Taking manual control in translation.', 'manual-start'),
    line(86.5, 'PILOT', 'Fore and aft is tight.'),
    line(187.5, 'PILOT', 'Sideways is crisp. Going to the vertical.'),
    line(281.3, 'PILOT', 'Vertical is loose, I am chasing it.'),
    line(MANUAL_END_S, 'PILOT', 'Back in automatic.', 'manual-end'),
    line(371, 'DIRECTOR', 'Copy. We stay here until it has settled.'),
    line(455, 'DIRECTOR', 'Settled. Go for the approach to forty.', 'go-approach'),
    line(640.4, 'PILOT', 'Display page changed.', 'crew-command'),
    line(702, 'PILOT', 'Closing at 0.35 metres per second.'),
    line(829.6, 'GUIDANCE', 'Telemetry is back after thirty-eight seconds.'),
    line(stuckSinceS + 2.9, 'PILOT', 'Rate is going up, that is not commanded.'),
    line(
      stuckSinceS + 9.8,
      'PROPULSION',
      'Axial pair stayed on. Isolating it, second pair selected.',
      'jet-isolated',
    ),
    line(
      stuckSinceS + HOLD_CALL_DELAY_S,
      'DIRECTOR',
      'Hold, hold. Stop where you are.',
      'hold-command',
    ),
    line(leg('hold-unplanned') + 41, 'PILOT', 'Holding. Vertical drifts a little.'),
    line(leg('back-off'), 'DIRECTOR', 'Back off to one fifty.', 'back-off-command'),
    line(leg('hold-back') + 58, 'GUIDANCE', 'We expect 100 metres about four minutes after we go.'),
    line(
      leg('hold-back') + 90.6,
      'DIRECTOR',
      'Second pair is healthy. Resume the approach to forty.',
      'resume-command',
    ),
    line(near + 64, 'STATION', 'Port lights are on, cameras are set.', 'lights-on'),
    line(near + 150, 'DIRECTOR', 'All positions, go or no go for the final approach.', 'poll'),
    line(near + 158.2, 'STATION', 'Station is go.', 'poll-answer'),
    line(near + 163.7, 'GUIDANCE', 'Guidance is go.', 'poll-answer'),
    line(
      near + 169.1,
      'PROPULSION',
      'Propulsion is no go, the leak check is not done.',
      'poll-answer',
    ),
    line(near + 214, 'CAPTURE', 'Capture ring is out and armed.', 'capture-armed'),
    line(near + 436, 'PROPULSION', 'Leak check is done, second pair is good.', 'leak-check-done'),
    line(near + 444, 'DIRECTOR', 'Once more, go or no go for the final approach.', 'poll'),
    line(near + 451.4, 'STATION', 'Station is go.', 'poll-answer'),
    line(near + 455.9, 'GUIDANCE', 'Guidance is go.', 'poll-answer'),
    line(near + 460.3, 'PROPULSION', 'Propulsion is go.', 'poll-answer'),
    line(near + 464.8, 'PILOT', 'Crew is go.', 'poll-answer'),
    line(near + 472, 'DIRECTOR', 'You are go for the final approach.', 'go-final'),
    line(leg('final') + 61, 'PILOT', 'Closing at 0.12 metres per second.'),
    line(rangeCrossingS(truth, 8, 2420), 'PILOT', 'Closing at 0.08 metres per second.'),
    line(contactS - 20.6, 'DIRECTOR', 'Hands off, no commands from here.', 'command-cut-off'),
    line(contactS + 0.4, 'PILOT', 'Contact.', 'contact'),
    line(contactS + SOFT_CAPTURE_AFTER_S, 'CAPTURE', 'Soft capture.', 'soft-capture'),
    line(contactS + DAMPED_AFTER_S, 'CAPTURE', 'Motion is damped.', 'motion-damped'),
    line(contactS + RETRACTION_AFTER_S, 'CAPTURE', 'Retracting the ring.', 'ring-retraction'),
    line(
      contactS + HARD_CAPTURE_AFTER_S,
      'CAPTURE',
      'Hard capture, twelve latches closed.',
      'hard-capture',
    ),
    line(contactS + 424, 'DIRECTOR', 'Thank you all. Debrief tomorrow at nine.'),
  ];
}

/** events.csv: only lines that carry an event, elapsed time since session zero. */
export function eventsCsv(truth: FlightTruth): string {
  const rows = script(truth)
    .filter(({ event }) => event !== null)
    .sort((left, right) => left.timeS - right.timeS)
    .map(({ timeS, event, speaker, text }) => {
      const deciseconds = Math.round(timeS * 10);
      return `${clockText(deciseconds * 100).slice(0, -2)},${event},${speaker},"${text}"`;
    });
  return ['elapsed,event,speaker,text', ...rows, ''].join('\n');
}

/** loop.vtt: everything said, on the voice recorder's own clock. */
export function loopVtt(truth: FlightTruth): string {
  const said = [...script(truth), ...readOuts(truth)].sort(
    (left, right) => left.timeS - right.timeS,
  );
  const cues = said.map(({ timeS, speaker, text }, index) => {
    const startMs = Math.round((timeS - VOICE_OFFSET_S) * 1000);
    const endMs = startMs + 900 + 55 * text.length;
    return `${index + 1}\n${clockText(startMs)} --> ${clockText(endMs)}\n<v ${speaker}>${text}\n`;
  });
  return `WEBVTT\n\n${cues.join('\n')}`;
}
