import { describe, expect, test } from 'vitest';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { explainFigure, listFigures } from '@/lib/core/reconstruction/list-figures';
import { expectWithin } from '../../support/expect-within';
import { flownSession } from '../../support/flown-session';
import { AS_PLANNED, NEAR_RULE, run } from '../../support/planned-session';

describe('an arrival flown as planned', () => {
  const { reconstruction, derived } = run(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] }));

  test('has the four phases of the plan, edges where the rate crosses 0.02 m/s', () => {
    expect(reconstruction.phases.map(({ motion, step }) => [motion, step])).toEqual([
      ['hold', 'hold-100'],
      ['closing', 'to-30'],
      ['hold', 'hold-30'],
      ['closing', 'final'],
    ]);
    // Ramps of 0.01 m/s2 pass 0.02 m/s 2 s after they begin and 2 s before they end.
    const [, closing, hold, final] = reconstruction.phases;
    expectWithin(closing?.startS.value, 62, 0.4, 'noise of the rate over the ramp, half a row');
    expectWithin(hold?.startS.value, 60 + 20 + 330 + 20 - 2, 0.4, 'as above');
    expectWithin(final?.startS.value, 490 + 2, 0.4, 'as above');
  });

  test('reaches the port by extrapolation over less than a row', () => {
    const timeS = 490 + 8 + (30 - 0.32) / 0.08;
    expect(reconstruction.contact?.basis).toBe('extrapolated');
    expectWithin(reconstruction.contact?.timeS.value, timeS, 0.5, 'x to 1 cm at 0.08 m/s');
    const conditions = reconstruction.contact?.conditions;
    expectWithin(conditions?.closing_rate?.value, 0.08, 0.003, 'six samples of 2 mm/s');
    expect(conditions?.attitude_error_roll).toBeUndefined();
  });

  test('keeps the planned rate between the ramps', () => {
    const deviation = reconstruction.phases[1]?.rateDeviation;
    expectWithin(deviation?.meanMps.value, 0, 3e-4, 'mean of 1500 samples');
    expectWithin(deviation?.rmsMps.value, 0, 3e-4, 'noise is taken out');
    expect(reconstruction.phases[0]?.rateDeviation).toBeNull();
  });

  test('has a margin at the place where rate and limit come closest', () => {
    const rule = reconstruction.rules[0];
    expect(rule?.verdict).toBe('met');
    expectWithin(rule?.margin?.value, 0.02, 0.003, 'noise of the smallest of many');
  });

  test('every number of the file is the value of the figure with its key', () => {
    const file = JSON.parse(JSON.stringify(reconstructionFile(reconstruction)));
    const figures = listFigures(reconstruction);
    expect(figures.get('phases[2].duration_s')?.value).toBe(file.phases[2].duration_s);
    expect(figures.get('steps[to-30].duration_s')?.value).toBe(file.steps[1].duration_s);
    expect(figures.get('rules[rate].margin')?.value).toBe(file.rules[0].margin);
    expect(figures.get('contact.closing_rate_mps')?.value).toBe(file.contact.closing_rate_mps);
    for (const [key, figure] of figures) {
      expect(figure.method, key).not.toBe('');
      expect(figure.evidence.sources.length, key).toBeGreaterThan(0);
    }
  });

  test('a figure explains itself, and an unknown key names some that exist', () => {
    const text = explainFigure(reconstruction, 'contact.closing_rate_mps');
    expect(text).toContain('contact.closing_rate_mps = 0.0');
    expect(text).toContain('method: Minus the mean axial velocity');
    expect(text).toContain('source: telemetry.csv');
    expect(explainFigure(reconstruction, 'phases[9].start_s')).toContain('phases[0].start_s');
  });

  test('derived columns have a value for each row', () => {
    expect(derived.columns.map(({ name }) => name)).toEqual([
      'range',
      'closing_rate',
      'axial_distance',
      'axial_closing_rate',
      'lateral_offset',
      'offset_y',
      'offset_z',
      'planned_closing_rate',
      'limit.rate',
    ]);
    for (const { values } of derived.columns) expect(values).toHaveLength(derived.tS.length);
  });
});
