/** From what to what each source measures, in which axes, and how its stamps are meant. */
import type { NavigationReport, SourcePoints } from '../../core/reconstruction/navigation-report';
import { formatNumber } from '../../core/units/number-text';
import { stampingText } from '../stamping-text';

export type PointsRow = Readonly<{
  file: string;
  isSolution: boolean;
  sensor: string;
  points: string;
  leverArm: string;
  velocity: string;
  stamps: string;
}>;

function pointsText({ points, reference }: SourcePoints): string {
  return points ?? reference?.label ?? 'taken as port to port; not stated';
}

/** What became of points that are no ports; the figures of the solution are of the ones named here. */
function leverText({ leverArmM, reference }: SourcePoints): string {
  if (reference?.points === 'brought') {
    const columns = reference.used.flatMap(({ channels }) => channels);
    return `brought to the ports${columns.length === 0 ? '' : ` with the attitude in ${columns.join(', ')}`}`;
  }
  if (reference?.points === 'elsewhere')
    return `figures are between these points, not the ports: ${reference.why}`;
  if (leverArmM === null) return 'none stated';
  const [x = 0, y = 0, z = 0] = leverArmM;
  return `${[x, y, z].map((m) => formatNumber(m, 2)).join(', ')} m to the port`;
}

const VELOCITY_WORDS = {
  rotating: 'rate of the position, in the rotating axes',
  inertial: 'in inertial axes: differs from the rate of the position by n times r',
} as const;

function velocityText({ measuresVelocity, velocityFrame, reference }: SourcePoints): string {
  if (measuresVelocity === 'no') return 'none measured';
  if (reference?.velocity === 'turned')
    return 'in inertial axes; n times r is taken off, by the orbit stated';
  return velocityFrame === null
    ? 'taken as the rate of the position; not stated'
    : VELOCITY_WORDS[velocityFrame];
}

/** One row a telemetry source, in the order of the session file. */
export function pointsRows({ sources, selector }: NavigationReport): readonly PointsRow[] {
  return sources.map((source) => ({
    file: source.file,
    isSolution: source.isSolution,
    sensor:
      source.sensor ??
      (source.isSolution && selector !== null ? `as ${selector} says` : 'not stated'),
    points: pointsText(source),
    leverArm: leverText(source),
    velocity: velocityText(source),
    stamps: stampingText(source),
  }));
}
