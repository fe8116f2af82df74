/** The tables behind the pictures: where the vehicle was at each station, how fast, how long to go. */
import { halfWidth95 } from '../../core/figure';
import type { ApproachStation } from '../../core/reconstruction/approach-report';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameOfRun } from '../../core/reconstruction/run-name';
import { corridorThere, plannedRateThere } from '../../core/reconstruction/stated-figures';
import { nameFromId } from '../../core/session/name-from-id';
import { formatNumber } from '../../core/units/number-text';
import { type FigureView, figureView, figureViewOrNull } from '../figure-view';
import type { Sentence } from '../sentence';

export type StationRow = Readonly<{
  key: string;
  name: string;
  isLeast: boolean;
  /** Of the corridor, where one bounds it; inside where none does. */
  standing: 'inside' | 'outside' | 'unsure';
  /** False where the interval of the clearance is not known: the standing is that of its value alone. */
  isSure: boolean;
  time: FigureView;
  /** The moment as an address asks for it, s. */
  atS: number;
  range: FigureView;
  axial: FigureView;
  y: FigureView;
  z: FigureView;
  lateral: FigureView;
  corridor: Readonly<{ radius: FigureView; rule: string }> | null;
  clearance: FigureView | null;
  closing: FigureView;
  planned: FigureView | null;
  toGoByPlan: FigureView | null;
  toGoByRate: FigureView | null;
}>;

function stationName(station: ApproachStation, reconstruction: Reconstruction): string {
  if (station.kind === 'contact') return 'Contact';
  if (station.kind === 'least-clearance') return 'Least clearance';
  if (station.kind === 'range') return `Passes ${formatNumber(station.of ?? 0, 0)} m`;
  const name = nameOfRun(reconstruction, station.of ?? -1);
  return name === '' ? 'Start of a run' : `${name} begins`;
}

/** Where the corridor was nearest, or passed by most; empty without a corridor. */
export function clearanceSentence(rows: readonly StationRow[]): Sentence {
  const least = rows.find(({ isLeast }) => isLeast);
  if (least?.clearance == null) return [];
  const lead = {
    inside: '',
    outside: least.isSure ? 'The corridor was left. ' : 'The corridor was left, as it seems. ',
    unsure: 'Too close to call. ',
  };
  return [
    `${lead[least.standing]}Least clearance to the corridor `,
    least.clearance,
    least.isSure ? ', ' : ' (its interval is not known), ',
    least.range,
    ' from the port.',
  ];
}

/** On which side of the corridor a place surely is. */
function standingOf({ clearanceM }: ApproachStation): StationRow['standing'] {
  const value = clearanceM?.value ?? Infinity;
  const half = clearanceM === null ? 0 : (halfWidth95(clearanceM) ?? 0);
  if (Math.abs(value) <= half) return 'unsure';
  return value < 0 ? 'outside' : 'inside';
}

/** Rows in time order. */
export function stationRows(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly StationRow[] {
  const stations = reconstruction.approach?.stations ?? [];
  return stations.map((station, index) => {
    const name = stationName(station, reconstruction);
    const options = (what: string) => ({ sessionId, label: `${name}, ${what}` });
    const signed = (what: string) => ({ ...options(what), form: 'signed' as const });
    const length = (what: string) => ({ ...options(what), form: 'duration' as const });
    const radius = figureViewOrNull(
      corridorThere(reconstruction, station),
      options('radius of the corridor'),
    );
    return {
      key: `${station.kind}-${index}`,
      name,
      isLeast: station.kind === 'least-clearance',
      standing: standingOf(station),
      isSure: station.clearanceM === null || halfWidth95(station.clearanceM) !== null,
      time: figureView(station.timeS, { ...options('time'), form: 'time' }),
      atS: station.timeS.value ?? 0,
      range: figureView(station.rangeM, options('range')),
      axial: figureView(station.axialM, options('axial distance')),
      y: figureView(station.yM, signed('y')),
      z: figureView(station.zM, signed('z')),
      lateral: figureView(station.lateralM, options('distance from the axis')),
      corridor:
        radius === null || station.corridor === null
          ? null
          : { radius, rule: nameFromId(station.corridor.rule).toLowerCase() },
      clearance: figureViewOrNull(station.clearanceM, signed('clearance')),
      closing: figureView(station.closingMps, signed('closing rate')),
      planned: figureViewOrNull(plannedRateThere(reconstruction, station), signed('planned rate')),
      toGoByPlan: figureViewOrNull(station.toGoByPlanS, length('time to go by plan')),
      toGoByRate: figureViewOrNull(station.toGoByRateS, length('time to go by rate')),
    };
  });
}
