/** The axes of the final step, and measures of each, flight beside simulator. */
import type { Figure } from '../core/figure';
import { axisWords } from '../core/reconstruction/axis-words';
import type { AxisMeasure, Comparison } from '../core/reconstruction/comparison';
import { axisKeys } from './comparison-keys';
import { countView, type FigureView, figureView, figureViewOrNull } from './figure-view';
import { alignedFinding, type FindingPlace } from './finding-place';

export type AxisRow = Readonly<{
  key: string;
  label: string;
  flight: FigureView;
  simulator: FigureView;
  ratio: FigureView;
  /** Place of the ratio on a scale from a quarter to four times, and of its interval; 0 to 1. */
  at: number;
  from: number;
  to: number;
  isLoose: boolean;
  /** Beyond all runs, and no alarm. */
  isBeyond: boolean;
  isKnown: boolean;
  verdict: string;
  /** Null where nothing was aligned: there is no stretch to write of. */
  finding: FindingPlace | null;
}>;

export type MeasureRow = Readonly<{
  key: string;
  label: string;
  flight: FigureView;
  simulator: FigureView | null;
  /** Flight over the median run; null where either has no size. */
  ratio: FigureView | null;
}>;

/** From a quarter to four times, by the logarithm: as much looser as tighter looks as far. */
function placeOfRatio(ratio: number): number {
  const place = (Math.log2(Math.max(ratio, 1e-9)) + 2) / 4;
  return Math.min(1, Math.max(0, place));
}

export function axisRows(
  { axes, scores, report }: Comparison,
  sessionId: string,
): readonly AxisRow[] {
  return axes.map((axis) => {
    const { label, flight, simulator, ratio, verdict } = axis;
    const value = ratio.value ?? Number.NaN;
    const half = ratio.uncertainty?.random ?? 0;
    return {
      key: axis.axis,
      label,
      flight: figureView(flight, { sessionId, label: `${label}, deviation flown` }),
      simulator: figureView(simulator, {
        sessionId,
        label: `${label}, deviation of the median run`,
      }),
      ratio: figureView(ratio, { sessionId, label: `${label}, ratio` }),
      at: placeOfRatio(value),
      from: placeOfRatio(value - half),
      to: placeOfRatio(value + half),
      isLoose: verdict === 'loose',
      isKnown: verdict !== 'not known',
      isBeyond: verdict === 'beyond',
      verdict: axisWords(axis),
      finding: alignedFinding(report, {
        sessionId,
        channels: flight.evidence.channels,
        keys: axisKeys(axis.axis, scores),
        query: '',
      }),
    };
  });
}

export function measureRows(
  measures: readonly AxisMeasure[],
  sessionId: string,
): readonly MeasureRow[] {
  return measures.map(({ key, label, flight, simulator, ratio = null }) => {
    const view = (figure: Figure, whose: string): FigureView => {
      const options = { sessionId, label: `${label}, ${whose}` };
      if (key.startsWith('firings')) return countView(figure, options);
      const isShare = key.startsWith('jet_duty') || key.startsWith('stick_duty');
      return figureView(figure, { ...options, unit: isShare ? '%' : null });
    };
    return {
      key,
      label,
      flight: view(flight, 'flight'),
      simulator: simulator === null ? null : view(simulator, 'median run'),
      ratio: figureViewOrNull(ratio, { sessionId, label: `${label}, ratio` }),
    };
  });
}
