/** What the reviewers of the invented flight found, and what they wrote in its debrief. */
import type { Finding } from '@/lib/core/findings/finding';

/** A finding before it has a session, a number and captured figures; times are session time, s. */
export type DemoFinding = Readonly<
  Pick<Finding, 'title' | 'seen' | 'change' | 'kind' | 'severity'> & {
    fromS: number;
    toS: number;
    channels: readonly string[];
  }
>;

export const DEMO_FINDINGS: readonly DemoFinding[] = [
  {
    title: 'Axial jets stayed on and took the closing rate over the profile',
    seen: 'Inside 134 m the axial pair fired without a command for about three seconds. Closing rate rose past the braking profile and stayed past it until the second pair took the speed out. The crew reported it at once; the hold was called 24 s after the jets came on.',
    change:
      'Propulsion: find why the valve of the first axial pair did not close, before the next flight. Guidance: let the opposing pair fire while the first one is still on.',
    kind: 'anomaly',
    severity: 'serious',
    fromS: 972,
    toS: 1002,
    channels: ['closing_rate', 'jet_x_on'],
  },
  {
    title: 'Vertical axis hunts under manual control',
    seen: 'Sideways the pilot reached the new place in one movement and stopped there. Up and down the vehicle swung past it again and again, about 2 m each way, with the stick reversed each time; the pilot called the axis loose.',
    change:
      'Flight control: measure the delay between stick and vertical jets, which looks longer than a second. Crew: no manual approach until that is understood.',
    kind: 'handling',
    severity: 'minor',
    fromS: 192,
    toS: 362,
    channels: ['z', 'vz', 'hc_z'],
  },
  {
    title: 'Hold at 40 m ran over because the poll came before the leak check',
    seen: 'The poll was taken with the leak check of the second axial pair still open. Propulsion answered no go, and the poll was repeated almost five minutes later. The hold passed its upper limit.',
    change:
      'Procedure: after a change of jets, the leak check is a condition for starting the poll.',
    kind: 'procedure',
    severity: 'minor',
    fromS: 1910,
    toS: 2432,
    channels: ['range', 'mode'],
  },
];

/** Free texts of the demo's debrief, in the order in which they stand in the document. */
export const DEMO_DEBRIEF = {
  title: 'Debrief of Wherry 2 arrival at Farpier (invented demo)',
  invented:
    'This flight is invented. It was flown by a simulator to show what a debrief looks like; vehicle, station and people do not exist.',
  summary:
    'Wherry 2 reached Farpier and was captured inside the contact limits. On the way an axial jet pair stayed on; the approach was stopped, the vehicle backed off to 150 m, changed to its second pair and came in again. The manual test showed a loose vertical axis.',
  course:
    'The first hold was lengthened until the motion left over from the manual test had settled. The approach to 40 m was flown in two pieces, with an unplanned hold, a back-off and a second hold between them. The hold at 40 m ran over its limit because the poll had to be repeated.',
  data: 'Telemetry is missing for 38 s during the first piece of the approach, and one attitude channel froze for 28 s during the second. Pressure at the port was not recorded, so the plume rule could not be evaluated.',
  lessons: [
    {
      before:
        'Wherry 1, flown on 2 February 2027, armed its capture ring within the last metres. The rules now ask for it before contact: it was armed ',
      key: 'rules[armed-first].margin',
      after: ' before it.',
    },
    {
      before:
        'Wherry 1 left the hold at 40 m before the station was ready. The hold now has a least and a greatest length: it was long enough, and over its upper bound by its margin of ',
      key: 'rules[hold-40-length].margin',
      after: '.',
    },
    {
      before:
        'Wherry 1 had no lower bound of the closing rate inside 18 m. It now has one, and a narrower upper one: the smallest margin was ',
      key: 'rules[final-rate].margin',
      after: '.',
    },
  ],
  outlook:
    'Before the next arrival: the cause of the jet that stayed on, the delay on the vertical axis, and the order of leak check and poll.',
} as const;
