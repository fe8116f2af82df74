/** The sample session with more of everything than a quick look has room for, in the longest words. */
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { Figure } from '@/lib/core/figure';
import type { CaptureStageResult } from '@/lib/core/reconstruction/contact-report';
import type {
  Reconstruction,
  SequenceItem,
  SessionEvent,
} from '@/lib/core/reconstruction/reconstruction';
import { CAPTURE_STAGES } from '@/lib/core/session/capture-plan';
import { sampleMaterial } from './sample-material';

const LONG =
  'Every word of this sentence is long and all of it stands in the log as it was said, '.repeat(6);

function timeFigure(value: number): Figure {
  return {
    value,
    unit: 's',
    uncertainty: { random: 0.4, systematic: null },
    method: LONG,
    evidence: { sources: [], channels: [], fromS: value, toS: value },
  };
}

const times = (count: number) => Array.from({ length: count }, (_, index) => index);

function spoken(index: number): SessionEvent {
  const words = { speaker: 'Approach engineer on the second loop', text: `${index} ${LONG}` };
  return {
    timeS: 60 * index,
    endS: null,
    source: 'loop.vtt',
    line: index + 1,
    event: null,
    ...words,
  };
}

function item(index: number): SequenceItem {
  const seen = { kind: 'voice', words: LONG, source: 'loop.vtt', line: index + 1 } as const;
  return {
    key: `event-${index}`,
    kind: index % 2 === 0 ? 'event' : 'step',
    what: `${index} ${LONG}`,
    plannedS: timeFigure(100 * index),
    seen: [{ ...seen, timeS: timeFigure(100 * index + 3) }],
    differenceS: timeFigure(3),
    note: null,
  };
}

function stage(name: (typeof CAPTURE_STAGES)[number]): CaptureStageResult {
  const figures = { afterContactS: timeFigure(30), differenceS: timeFigure(4) };
  const planned = { plannedS: 26, toleranceS: 2, outOfOrder: LONG };
  return { stage: name, event: name, seen: [], ...planned, ...figures };
}

const base = sampleMaterial.reconstruction;
const [firstRule] = base.rules.filter(({ verdict }) => verdict === 'broken');
const [firstExceedance] = base.exceedances;
if (firstRule === undefined || firstExceedance === undefined)
  throw new Error('the sample has both');

const crowded: Reconstruction = {
  ...base,
  session: { ...base.session, title: LONG.slice(0, 190) },
  rules: times(20).map((index) => ({ ...firstRule, id: `${index}-${LONG}`, explanation: LONG })),
  exceedances: times(20).map(() => ({ ...firstExceedance, rule: LONG })),
  events: times(40).map(spoken),
  sequence: times(60).map(item),
  capture: {
    reports: [],
    reportDelayS: null,
    stages: CAPTURE_STAGES.map(stage),
    settling: { limitMps: 0.01, forS: 10, peakMps: null, reason: LONG },
    retraction: null,
    latches: { planned: 12, closed: null, reason: LONG },
  },
  navigation: {
    solution: { file: 'telemetry.csv', channels: [] },
    selector: null,
    feeds: [],
    unused: times(30).map((index) => ({
      kind: 'gap' as const,
      what: LONG,
      channel: LONG,
      fromS: index,
      toS: index,
      note: '',
    })),
    steps: [],
    pairs: [],
    accuracies: [],
    turning: [],
    sources: [],
  },
  notes: times(30).map((index) => ({
    code: index < 3 ? 'source-awaited' : 'other',
    severity: 'note',
    message: LONG,
  })),
};

export const crowdedMaterial: DebriefMaterial = makeMaterial({
  ...sampleMaterial,
  reconstruction: crowded,
});
