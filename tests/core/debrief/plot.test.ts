import { describe, expect, test } from 'vitest';
import { decimateMinMax, joinedStepS } from '@/lib/core/debrief/decimate';
import { figureText } from '@/lib/core/debrief/figure-text';
import { linearTicks, timeAxis, timeTicks, valueAxis } from '@/lib/core/debrief/plot-axis';
import { spreadLabels } from '@/lib/core/debrief/spread-labels';
import { durationText, minutesText, sessionTimeText } from '@/lib/core/time/session-time-text';
import { formatFigure } from '@/lib/view/format-figure';
import { sampleFigure } from '../../support/sample-figure';

describe('axes', () => {
  test('ticks stand at round values and say no more digits than their step', () => {
    expect(linearTicks(0, 0.42, 4).map((tick) => tick.text)).toEqual(['0.0', '0.2', '0.4']);
    expect(linearTicks(-0.03, 0.03, 6).map((tick) => tick.text)).toEqual([
      '\u22120.03',
      '\u22120.02',
      '\u22120.01',
      '0.00',
      '0.01',
      '0.02',
      '0.03',
    ]);
  });

  test('a tick at zero is never minus zero', () => {
    expect(linearTicks(-1, 1, 2).map((tick) => [Object.is(tick.at, -0), tick.text])).toEqual([
      [false, '\u22121'],
      [false, '0'],
      [false, '1'],
    ]);
  });

  test('time ticks divide the clock evenly', () => {
    expect(timeTicks(0, 930, 8).map((tick) => tick.text)).toEqual([
      '00:00',
      '00:02',
      '00:04',
      '00:06',
      '00:08',
      '00:10',
      '00:12',
      '00:14',
    ]);
    expect(timeTicks(118, 131, 8).map((tick) => tick.text)[0]).toBe('00:01:58');
  });

  test('an axis holds its values and ends on ticks', () => {
    const axis = valueAxis([0.013, 0.41, null, Number.NaN], { label: 'Closing rate', unit: 'm/s' });
    expect([axis.from, axis.to]).toEqual([0, 0.5]);
    expect(axis.ticks[0]?.at).toBe(0);
  });

  test('an axis of one value, or of none, still has a length', () => {
    // The last: what binary fractions leave of one value.
    for (const values of [[5], [0], [], [null], [0.1, 0.1 + 1e-15]]) {
      const axis = valueAxis(values, { label: '', unit: '' });
      expect(axis.to).toBeGreaterThan(axis.from);
      expect(axis.ticks.length).toBeGreaterThan(1);
    }
    expect(timeAxis(5, 5).to).toBeGreaterThan(5);
  });
});

describe('decimation', () => {
  const tS = Float64Array.from({ length: 10_000 }, (_, index) => index / 10);

  test('a spike of one row is kept at its own time', () => {
    const values = tS.map((t) => Math.sin(t / 50));
    values[4321] = 9;
    const points = decimateMinMax(tS, values, { fromS: 0, toS: 1000, buckets: 100, gapS: 1 });
    expect(points.x.length).toBeLessThanOrEqual(200);
    const at = points.y.indexOf(9);
    expect(points.x[at]).toBe(432.1);
  });

  test('a stretch without values and a stretch without rows each become one null', () => {
    const values = tS.map((t) => (t > 100 && t < 120 ? Number.NaN : 1));
    const rows = tS.filter((t) => t < 500 || t > 530);
    const kept = values.filter((_, index) => (tS[index] ?? 0) < 500 || (tS[index] ?? 0) > 530);
    const points = decimateMinMax(rows, kept, {
      fromS: 0,
      toS: 1000,
      buckets: 50,
      gapS: joinedStepS(rows),
    });
    expect(points.y.filter((value) => value === null)).toHaveLength(2);
    expect([...points.x].sort((a, b) => a - b)).toEqual(points.x);
  });

  test('nothing outside the stretch is kept, and no null stands at the end', () => {
    const values = tS.map((t) => (t > 300 ? Number.NaN : t));
    const points = decimateMinMax(tS, values, { fromS: 200, toS: 400, buckets: 10, gapS: 1 });
    expect(points.x[0]).toBe(200);
    expect(points.y.at(-1)).toBe(300);
  });
});

describe('texts', () => {
  test('session time is rounded before it is split', () => {
    expect(sessionTimeText(59.97, 1)).toBe('00:01:00.0');
    expect(sessionTimeText(3599.6)).toBe('01:00:00');
    expect(sessionTimeText(-75.25, 1)).toBe('\u221200:01:15.3');
    expect(sessionTimeText(90_061, 'minutes')).toBe('25:01');
    expect(sessionTimeText(Number.NaN)).toBe('not known');
  });

  test('a length of time reads in seconds, then minutes, then hours', () => {
    expect([durationText(64.51), durationText(28.4), durationText(-7325, 0)]).toEqual([
      '1 min 4.5 s',
      '28.4 s',
      '\u22122 h 2 min 5 s',
    ]);
    expect([minutesText(177.94), minutesText(-33.4), minutesText(7325, 0)]).toEqual([
      '02:57.9',
      '\u221200:33.4',
      '2:02:05',
    ]);
  });

  test('digits follow the uncertainty, and the same ones as on the screens', () => {
    const written = (half: number) => figureText(sampleFigure(0.827, 'm', half));
    expect(written(0.119)).toBe('0.83\u00a0\u00b1\u00a00.12\u00a0m');
    expect(written(0.367)).toBe('0.8\u00a0\u00b1\u00a00.4\u00a0m');
    for (let half = 1e-6; half < 1e4; half *= 1.37) {
      const figure = sampleFigure(0.827, 'm', half);
      expect(figureText(figure)).toBe(formatFigure(figure).text);
    }
  });

  test('an angle is shown in degrees and a figure without value says so', () => {
    expect(figureText(sampleFigure(Math.PI / 180, 'rad', Math.PI / 1800))).toBe(
      '1.00\u00a0\u00b1\u00a00.10\u00a0deg',
    );
    expect(figureText(sampleFigure(null, 'm'))).toBe('not known');
  });

  test('labels keep their order and their distance', () => {
    expect(spreadLabels([50, 48, 52], { gapPx: 10, fromPx: 0, toPx: 60 })).toEqual([50, 40, 60]);
    expect(spreadLabels([], { gapPx: 10, fromPx: 0, toPx: 60 })).toEqual([]);
  });
});
