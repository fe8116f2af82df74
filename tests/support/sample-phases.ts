/** Runs of the invented sample session. */
import type { Phase } from '@/lib/core/reconstruction/reconstruction';
import { sampleFigure } from './sample-figure';

type PhaseNumbers = Readonly<{
  step: string | null;
  piece: number | null;
  motion: Phase['motion'];
  startS: number;
  endS: number;
  rangeM: readonly [number, number];
  peakMps: number;
}>;

function samplePhase(numbers: PhaseNumbers, rateDeviation: Phase['rateDeviation']): Phase {
  const { startS, endS, rangeM } = numbers;
  const stretch = { from: startS, to: endS };
  const durationS = endS - startS;
  return {
    step: numbers.step,
    piece: numbers.piece,
    motion: numbers.motion,
    startS: sampleFigure(startS, 's', startS === 0 ? 0 : 0.4, { from: startS, to: startS }),
    endS: sampleFigure(endS, 's', 0.4, { from: endS, to: endS }),
    durationS: sampleFigure(durationS, 's', 0.57, stretch),
    rangeStartM: sampleFigure(rangeM[0], 'm', 0.03, { from: startS, to: startS }),
    rangeEndM: sampleFigure(rangeM[1], 'm', 0.03, { from: endS, to: endS }),
    meanClosingRateMps: sampleFigure((rangeM[0] - rangeM[1]) / durationS, 'm/s', 0.0006, stretch),
    peakClosingRateMps: sampleFigure(numbers.peakMps, 'm/s', 0.003, stretch),
    rateDeviation,
  };
}

export const samplePhases: readonly Phase[] = [
  samplePhase(
    {
      step: 'hold-100',
      piece: 1,
      motion: 'hold',
      startS: 0,
      endS: 118.4,
      rangeM: [100.02, 99.98],
      peakMps: 0.012,
    },
    null,
  ),
  samplePhase(
    {
      step: 'approach',
      piece: 1,
      motion: 'closing',
      startS: 118.4,
      endS: 338.2,
      rangeM: [99.98, 45.9],
      peakMps: 0.41,
    },
    {
      meanMps: sampleFigure(0.0041, 'm/s', 0.0009, { from: 130, to: 326 }),
      rmsMps: sampleFigure(0.0162, 'm/s', 0.0011, { from: 130, to: 326 }),
      peakMps: sampleFigure(0.16, 'm/s', 0.003, { from: 200, to: 203.8 }),
      peakS: sampleFigure(201.2, 's', 0.4, { from: 200, to: 203.8 }),
      peakRangeM: sampleFigure(79.4, 'm', 0.03, { from: 200, to: 203.8 }),
      outsideToleranceS: sampleFigure(5.6, 's', 0.5, { from: 130, to: 326 }),
    },
  ),
  samplePhase(
    {
      step: null,
      piece: null,
      motion: 'hold',
      startS: 338.2,
      endS: 402.7,
      rangeM: [45.9, 45.9],
      peakMps: 0.018,
    },
    null,
  ),
  samplePhase(
    {
      step: null,
      piece: null,
      motion: 'opening',
      startS: 402.7,
      endS: 451.9,
      rangeM: [45.9, 52.1],
      peakMps: -0.02,
    },
    null,
  ),
  samplePhase(
    {
      step: 'approach',
      piece: 2,
      motion: 'closing',
      startS: 451.9,
      endS: 796.3,
      rangeM: [52.1, 0.03],
      peakMps: 0.262,
    },
    {
      meanMps: sampleFigure(-0.0087, 'm/s', 0.0008, { from: 464, to: 752 }),
      rmsMps: sampleFigure(0.0121, 'm/s', 0.001, { from: 464, to: 752 }),
      peakMps: sampleFigure(0.066, 'm/s', 0.003, { from: 700, to: 702.9 }),
      peakS: sampleFigure(700.6, 's', 0.4, { from: 700, to: 702.9 }),
      peakRangeM: sampleFigure(6.9, 'm', 0.03, { from: 700, to: 702.9 }),
      outsideToleranceS: sampleFigure(2.9, 's', 0.5, { from: 464, to: 752 }),
    },
  ),
];
