import { describe, expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  axialMotion,
  FLOWN_PLAN,
  type FlownOptions,
  flownTelemetry,
  lateralTruth,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const OPTIONS: FlownOptions = {
  axial: plannedArrival(),
  durationS: 2000,
  positionNoise: 0.0015,
};

function columnsOf(source: TelemetrySource) {
  const result = reconstruct(sessionOf([source], FLOWN_PLAN), TEST_ENGINE);
  const column = (name: string): Float64Array => {
    const found = result.derived.columns.find((each) => each.name === name);
    if (found === undefined) throw new Error(`no column ${name}`);
    return found.values;
  };
  return { ...result, column };
}

function changed(
  source: TelemetrySource,
  as: string,
  change: (value: number, atS: number, row: number) => number,
): TelemetrySource {
  return {
    ...source,
    channels: source.channels.map((each) =>
      each.as === as
        ? {
            ...each,
            values: each.values.map((value, row) => change(value, source.tS[row] ?? 0, row)),
          }
        : each,
    ),
  };
}

describe('estimated motion', () => {
  const source = flownTelemetry(OPTIONS);
  const { column } = columnsOf(source);

  test('noise of 15 cm at 100 m does not raise the lateral offset of 6 to 10 cm', () => {
    const lateral = column('lateral_offset');
    let sum = 0;
    let rows = 0;
    source.tS.forEach((atS, row) => {
      const side = lateralTruth(OPTIONS, atS);
      sum += (lateral[row] ?? 0) - Math.hypot(side.yM, side.zM);
      rows++;
    });
    expectWithin(
      sum / rows,
      0,
      0.003,
      'a root of squares of single samples would be 0.1 m too large',
    );
  });

  test('axial distance is known to a tenth of the noise of one sample', () => {
    const axial = column('axial_distance');
    source.tS.forEach((atS, row) => {
      const xM = OPTIONS.axial(atS).xM;
      expectWithin(axial[row], xM, 0.02 + 0.0004 * xM, 'noise 1 cm + 1.5 mm a metre, smoothed');
    });
  });

  test('a jet between two rows is not smeared: the row after it has the new rate', () => {
    const jet = axialMotion(100, [{ forS: 100.1 }, { forS: 5, jumpMps: -0.15 }, { forS: 200 }]);
    const flown = flownTelemetry({ axial: jet, durationS: 300 });
    const closing = columnsOf(flown).column('axial_closing_rate');
    const after = flown.tS.findIndex((atS) => atS > 100.1);
    expectWithin(closing[after - 1], 0, 0.005, 'one-sided fit of samples of 2 mm/s');
    expectWithin(closing[after], 0.15, 0.005, 'one-sided fit of samples of 2 mm/s');
  });

  test('a spiked sample does not enter', () => {
    const spiked = changed(source, 'position.x', (value, _atS, row) =>
      row === 900 ? value + 40 : value,
    );
    const { column: spikedColumn, reconstruction } = columnsOf(spiked);
    const clean = column('axial_distance');
    expect(reconstruction.dataQuality.map(({ kind, channel }) => [kind, channel])).toEqual([
      ['spike', 'x'],
    ]);
    spikedColumn('axial_distance').forEach((xM, row) => {
      expectWithin(xM, clean[row] ?? 0, 2e-3, 'one sample fewer');
    });
  });

  test('a step that the velocity does not carry is found, said, and taken out', () => {
    const stepped = changed(source, 'position.y', (value, atS) =>
      atS < 400 ? value - 1.2 : value,
    );
    const { column: steppedColumn, reconstruction } = columnsOf(stepped);
    const steps = reconstruction.dataQuality.filter(({ kind }) => kind === 'step');
    expect(steps).toHaveLength(1);
    expect(steps[0]?.channel).toBe('y');
    expectWithin(steps[0]?.endS, 400, 2, 'ten rows');
    const lateral = steppedColumn('lateral_offset');
    source.tS.forEach((atS, row) => {
      const side = lateralTruth(OPTIONS, atS);
      expectWithin(lateral[row], Math.hypot(side.yM, side.zM), 0.15, 'of 1.2 m before');
    });
  });

  test('a flight without a step has none, for ten seeds', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const { reconstruction } = columnsOf(flownTelemetry({ ...OPTIONS, seed }));
      expect(reconstruction.dataQuality).toEqual([]);
    }
  });

  test('position renewed each second in rows of 0.2 s is held: repeats are no samples', () => {
    const held: TelemetrySource = {
      ...source,
      channels: source.channels.map((each) => ({
        ...each,
        values: each.values.map((_, row) => each.values[row - (row % 5)] ?? Number.NaN),
      })),
    };
    const { reconstruction, column: heldColumn } = columnsOf(held);
    const faults = reconstruction.dataQuality.filter(({ kind }) => kind !== 'held');
    expect(faults).toEqual([]);
    expect(reconstruction.dataQuality).toHaveLength(6);
    expect(reconstruction.phases.map(({ step }) => step)).toEqual([
      'hold-100',
      'to-30',
      'hold-30',
      'final',
    ]);
    const axial = heldColumn('axial_distance');
    source.tS.forEach((atS, row) => {
      expectWithin(axial[row], OPTIONS.axial(atS).xM, 0.15, 'five times fewer samples');
    });
  });

  test('without velocity the phases are the same, edges within 8 s', () => {
    const blind = flownTelemetry({ ...OPTIONS, measuresVelocity: 'no' });
    const { reconstruction } = columnsOf(blind);
    const withVelocity = columnsOf(source).reconstruction;
    expect(reconstruction.phases).toHaveLength(withVelocity.phases.length);
    reconstruction.phases.forEach((phase, index) => {
      const other = withVelocity.phases[index];
      expect(phase.step).toBe(other?.step);
      expectWithin(phase.startS.value, other?.startS.value ?? 0, 8, 'a span of up to 30 s');
    });
    expect(reconstruction.notes.map(({ code }) => code)).toContain('rate-derived');
  });
});
