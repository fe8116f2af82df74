/** What the reviewers of the flight before found; what they asked for stands in the next flight's rules. */
import type { DemoFinding } from './demo-findings';
import { earlierMoments } from './earlier-flight';
import type { FlightTruth } from './flight-truth';

export function earlierFindings(truth: FlightTruth): readonly DemoFinding[] {
  const { holdNearS, finalS, armedS, contactS } = earlierMoments(truth);
  return [
    {
      title: 'Capture ring armed less than a minute before contact',
      seen: 'The ring was still unarmed when the vehicle was four metres out. The capture position noticed it by itself; nothing in the procedure or in the rules had asked for it.',
      change: 'Rules: the ring is armed before contact, and the event is logged.',
      kind: 'procedure',
      severity: 'serious',
      fromS: Math.round(armedS) - 20,
      toS: Math.round(contactS),
      channels: ['range', 'closing_rate'],
    },
    {
      title: 'Hold at 40 m was left before the station was ready',
      seen: 'The poll came half a minute into the hold and the go followed. The station was still setting its cameras during the first metres of the final approach.',
      change:
        'Rules: a least length of the hold at 40 m, 180 s, and a greatest. Watch the speed inside 18 m from then on as well: it had no lower bound.',
      kind: 'procedure',
      severity: 'minor',
      fromS: Math.round(holdNearS),
      toS: Math.round(finalS) + 80,
      channels: ['range', 'mode'],
    },
  ];
}

export const EARLIER_DEBRIEF = {
  title: 'Debrief of Wherry 1 arrival at Farpier (invented demo, the flight before)',
  invented:
    'This flight is invented. It was flown by a simulator so that the demo has a flight before; vehicle, station and people do not exist.',
  summary:
    'Wherry 1 came in without an interruption and was captured inside the contact limits. Its ring was armed late and its hold at 40 m was cut short.',
  course:
    'The approach from 300 m to 40 m was flown in one piece. The hold at 40 m was left after a minute and a half.',
  data: 'A row a second was kept, from the hold at 300 m until shortly after contact. There is no voice log.',
  lessons: [],
  outlook:
    'Three lessons go to the next flight, Wherry 2, as rules: the capture ring is armed before contact; the hold at 40 m has a least and a greatest length; the closing rate inside 18 m has a lower and an upper bound.',
} as const;
