import { expect, test } from 'vitest';
import type { Figure } from '@/lib/core/figure';
import type { NavigationReport } from '@/lib/core/reconstruction/navigation-report';
import { feedBars, unusedBars } from '@/lib/view/navigation/feed-bars';
import { navigationView } from '@/lib/view/navigation/navigation-view';
import { sentenceText } from '@/lib/view/sentence';
import { timelineView } from '@/lib/view/timeline';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

const bias = sampleFigure(0.12, 'm', 0.01, { systematic: 0.05 });
const scatter = sampleFigure(0.03, 'm', 0.002);

const report: NavigationReport = {
  solution: { file: 'telemetry.csv', channels: ['x', 'y', 'z'] },
  selector: 'nav',
  feeds: [
    { name: 'GNSS', kind: 'measured', fromS: 0, toS: 200, settlesS: 10 },
    { name: 'camera', kind: 'measured', fromS: 200, toS: 400, settlesS: 20 },
    { name: 'no update', kind: 'propagated', fromS: 400, toS: 405, settlesS: 5 },
  ],
  unused: [
    { kind: 'gap', what: 'gap', channel: null, fromS: 300, toS: 310, note: 'no row for 10.0 s' },
    { kind: 'faulty', what: 'spike', channel: 'x', fromS: 320, toS: 320.1, note: '1 row' },
  ],
  steps: [
    {
      atS: sampleFigure(200, 's', 0.05, { from: 199.9, to: 200 }),
      handOver: { from: 'GNSS', to: 'camera', settlesS: 20 },
      axes: [
        {
          axis: 'x',
          positionM: sampleFigure(-0.4, 'm', 0.06),
          velocityMps: sampleFigure(0.001, 'm/s', 0.004),
        },
        { axis: 'y', positionM: sampleFigure(0.02, 'm', 0.06), velocityMps: null },
      ],
      isMoved: true,
    },
  ],
  pairs: [
    {
      first: 'telemetry.csv',
      second: 'laser.csv',
      points: { first: 'port to port', second: null },
      count: 400,
      independent: 80.7,
      biasM: bias,
      scatterM: scatter,
      bands: [{ fromM: null, toM: 10000, biasM: bias, scatterM: scatter }],
    },
  ],
  accuracies: [
    {
      source: 'laser.csv',
      channel: 'r',
      stated: sampleFigure(0.05, 'm'),
      typical: sampleFigure(0.06, 'm'),
      largest: sampleFigure(0.08, 'm'),
    },
  ],
  turning: [
    {
      axis: 'z',
      differenceMps: sampleFigure(-0.2825, 'm/s', 0.002),
      distanceM: 250,
      orbitS: 5560,
      isDeclared: false,
      about: '-y',
      reading: 'inertial',
    },
  ],
  sources: [
    {
      file: 'telemetry.csv',
      isSolution: true,
      sensor: null,
      points: 'centre of mass to reflector',
      leverArmM: null,
      measuresVelocity: 'yes',
      velocityFrame: 'inertial',
      stamp: 'received',
      latencyS: 0.4,
      available: 'real-time',
      reference: {
        points: 'elsewhere',
        label: 'centre of mass to reflector',
        why: 'neither attitude is recorded',
        velocity: 'inertial',
        rateSdMps: 0,
        turnSdMps: null,
        used: [],
      },
    },
  ],
};

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

const reconstruction = { ...sampleReconstruction, navigation: report };
const view = navigationView(reconstruction, SAMPLE_SESSION_ID);

test('the answer names the feeds, the jump that is seen, and the other range', () => {
  const words = view?.answer.map(sentenceText).join(' ');
  expect(words).toContain('fed by GNSS and camera, with 1 hand-over');
  const alone = { ...sampleReconstruction, navigation: { ...report, selector: null } };
  expect(sentenceText(navigationView(alone, SAMPLE_SESSION_ID)?.answer[0] ?? [])).toContain(
    'which sensor fed it is not recorded',
  );
  expect(words).toContain('for 5.0 s it was not fed by an accepted measurement');
  expect(words).toMatch(
    /At 00:03:20\.00 ± 0\.05 s, at the hand-over to camera, it jumped by −0\.40 ± 0\.06 m along x\./,
  );
  expect(words).toContain('laser.csv reads +0.12');
  expect(words).toContain('an inertial velocity beside a position in axes that turn about -y');
  expect(words).toContain('n times r of an orbit of 93 min');
  expect(words).toContain('which session.yaml does not state');
});

test('a jump is told along an axis where it is seen, though the noise of another is larger', () => {
  const [step] = report.steps;
  if (step === undefined) throw new Error('the report has a step');
  const told = (positionM: Figure) => {
    const axes = [...step.axes, { axis: 'z' as const, positionM, velocityMps: null }];
    const navigation = { ...report, steps: [{ ...step, axes }] };
    const changed = navigationView({ ...reconstruction, navigation }, SAMPLE_SESSION_ID);
    return changed?.answer.map(sentenceText).join(' ');
  };
  expect(told(sampleFigure(0.9, 'm', 1.2))).toMatch(/it jumped by −0\.40 ± 0\.06 m along x\./);
  expect(told(sampleFigure(0.9, 'm', 0.1))).toMatch(/it jumped by \+0\.90 ± 0\.10 m along z\./);
});

test('when a sensor fed it, how long, and what was not used open their evidence', () => {
  const told = navigationView(
    {
      ...reconstruction,
      sources: reconstruction.sources.map((source) => ({ ...source, file: 'telemetry.csv' })),
      navigation: {
        ...report,
        feeds: report.feeds.map((feed) =>
          feed.fromS === 200 ? { ...feed, beforeS: 199.8 } : feed,
        ),
      },
    },
    SAMPLE_SESSION_ID,
  );
  const [gnss, camera] = told?.feeds ?? [];
  // The change lies between the rows at 199.8 and 200 s.
  expect(plain(camera?.start.text ?? '')).toBe('00:03:19.90 ± 0.10 s');
  expect(plain(gnss?.length.text ?? '')).toBe('03:19.90 ± 0.10 s');
  expect(camera?.length.channels).toEqual(['nav']);
  expect(camera?.start.sources.length).toBeGreaterThan(0);
  const [gap] = told?.unused ?? [];
  expect([gap?.start?.text, gap?.length?.text]).toEqual(['00:05:00.0', '00:10.0']);
  expect(gap?.start?.method).toContain('no row for 10.0 s');
});

test('a scatter is called more than stated where its own interval says so, not by a hair', () => {
  const verdict = (typical: number, half: number) => {
    const [row] = report.accuracies;
    if (row === undefined) throw new Error('the report has one');
    const figure = sampleFigure(typical, 'm', half);
    const accuracies = [{ ...row, typical: figure, largest: figure }];
    const navigation = { ...report, accuracies };
    return navigationView({ ...reconstruction, navigation }, SAMPLE_SESSION_ID)?.accuracies[0]
      ?.verdict;
  };
  // 0.05 m is stated.
  expect(verdict(0.051, 0.003)).toBe('within what is stated');
  expect(verdict(0.06, 0.003)).toBe('scatters more than stated');
});

test('a jump counts as seen only where it is larger than its own half-width', () => {
  const [step] = view?.steps ?? [];
  expect(step?.positions.map(({ axis, isSeen }) => [axis, isSeen])).toEqual([
    ['x', true],
    ['y', false],
  ]);
  expect(step?.velocities.map(({ isSeen }) => isSeen)).toEqual([false]);
  expect(step?.notes).toContain('settles for 20 s');
});

test('different points are said beside a bias, and points that are no ports beside the source', () => {
  expect(view?.pairs[0]?.points).toContain('a bias may be the way between the points');
  expect(view?.pairs[0]?.counted).toBe('400 differences, worth 80 independent ones');
  expect(view?.pairs[0]?.bands[0]?.range).toBe('beyond 10000 m');
  expect(view?.points[0]?.leverArm).toContain('not the ports');
  expect(view?.points[0]?.velocity).toContain('inertial');
  expect(view?.accuracies[0]?.verdict).toBe('scatters more than stated');
});

test('the strip names each stretch; what was not used is drawn where it lasts', () => {
  expect(feedBars(reconstruction).map(({ label, tone }) => [label, tone])).toEqual([
    ['GNSS', 'fed'],
    ['camera', 'other'],
    ['no update', 'carried'],
  ]);
  expect(unusedBars(reconstruction).map(({ label }) => label)).toEqual(['gap']);
  const common = { sessionId: SAMPLE_SESSION_ID, channels: [], findings: [], annotations: [] };
  expect(timelineView({ ...common, reconstruction }).feeds).toHaveLength(3);
  const silent = { ...reconstruction, navigation: { ...report, selector: null } };
  expect(timelineView({ ...common, reconstruction: silent }).feeds).toEqual([]);
});

test('without a motion there is no navigation to show', () => {
  expect(navigationView(sampleReconstruction, SAMPLE_SESSION_ID)).toBeNull();
});
