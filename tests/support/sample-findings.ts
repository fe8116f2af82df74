/** Findings and marks of people on the invented sample session. */
import type { Annotation, Finding } from '@/lib/core/findings/finding';
import { SAMPLE_SESSION_ID, sampleFigure } from './sample-figure';

export const sampleFindings: readonly Finding[] = [
  {
    id: 'finding-1',
    number: 1,
    version: 2,
    title: 'Closing rate beyond the profile after the first burn',
    seen: 'The rate rose to 0.41 m/s for some four seconds and came back by itself.',
    change: 'Check the minimum on-time of the aft jets.',
    owner: '',
    due: '',
    kind: 'anomaly',
    severity: 'serious',
    state: 'accepted',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 195, toS: 210, channels: ['closing_rate'] },
    figures: [
      {
        key: 'exceedances[0].worst',
        label: 'Closing rate, worst',
        figure: sampleFigure(0.41, 'm/s', 0.003, { from: 200, to: 203.8 }),
      },
      {
        key: 'stretch.duration_s',
        label: 'Length of the stretch',
        figure: sampleFigure(15, 's', null, { from: 195, to: 210 }),
      },
    ],
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T10:00:00.000Z',
    updatedAtIso: '2016-03-09T10:30:00.000Z',
  },
  {
    id: 'finding-2',
    number: 2,
    version: 1,
    title: 'Unplanned hold and back-off at 46 m',
    seen: 'Held for a minute, then opened by six metres before the approach resumed.',
    change: '',
    owner: '',
    due: '',
    kind: 'observation',
    severity: 'minor',
    state: 'draft',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 338.2, toS: 451.9, channels: [] },
    figures: [],
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T11:00:00.000Z',
    updatedAtIso: '2016-03-09T11:00:00.000Z',
  },
];

export const sampleAnnotations: readonly Annotation[] = [
  {
    id: 'annotation-1',
    version: 1,
    text: 'Lighting poor in the camera here.',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 300, toS: 330, channels: [] },
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T11:10:00.000Z',
    updatedAtIso: '2016-03-09T11:10:00.000Z',
  },
];
