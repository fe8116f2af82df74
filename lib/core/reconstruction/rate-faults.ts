/** Rates that disagree with the derivative of the position beside them, as faults of a source. */
import { disagrees, rateAgreement } from '../series/rate-agreement';
import type { Channel, TelemetrySource } from '../session/session-input';
import { METRES_PER_FOOT } from '../units/unit';
import type { DataFault } from './reconstruction';

const PAIRS: readonly (readonly [position: string, rate: string])[] = [
  ['position.x', 'velocity.x'],
  ['position.y', 'velocity.y'],
  ['position.z', 'velocity.z'],
  ['range', 'range_rate'],
];
const AXES = ['position.x', 'position.y', 'position.z'] as const;

/** A ratio is that of feet to metres within this share of it. */
const NEAR = 0.05;

/** Under this share of one the rate has nothing to do with the position: no sign can be told. */
const UNRELATED = 0.1;

function reasonOf(slope: number): string {
  const size = Math.abs(slope);
  if (size < UNRELATED) return 'they do not go together: their axes, or one of them, may be others';
  const feet = [METRES_PER_FOOT, 1 / METRES_PER_FOOT].some(
    (ratio) => Math.abs(size - ratio) <= NEAR * ratio,
  );
  const unit = feet ? 'feet and metres may be mixed' : null;
  const sign = slope < 0 ? 'one of them has the other sign' : null;
  const reasons = [sign, unit].filter((each) => each !== null);
  return reasons.length === 0 ? 'a unit or a scale may be wrong' : reasons.join(', ');
}

type Measured = Pick<Channel, 'name' | 'values'>;

/** The distance that a position in three components gives, where no column is a range. */
function distanceOf({ channels }: TelemetrySource): Measured | undefined {
  const [x, y, z] = AXES.map((axis) => channels.find(({ as }) => as === axis));
  if (x === undefined || y === undefined || z === undefined) return undefined;
  const at = ({ values }: Channel, row: number) => values[row] ?? Number.NaN;
  const values = x.values.map((value, row) => Math.hypot(value, at(y, row), at(z, row)));
  return { name: `the distance from ${x.name}, ${y.name} and ${z.name}`, values };
}

function faultOf(
  source: string,
  rate: Channel,
  position: Measured,
  slope: number,
  tS: Float64Array,
) {
  const ratio = (Math.abs(slope) < 0.005 ? 0 : slope).toFixed(2);
  return {
    kind: 'rate_disagrees',
    source,
    channel: rate.name,
    startS: tS[0] ?? Number.NaN,
    endS: tS[tS.length - 1] ?? Number.NaN,
    note: `${position.name} changes ${ratio} times as much as ${rate.name} carries; ${reasonOf(slope)}`,
  } as const;
}

/**
 * Holds every measured rate of a source against the position beside it. Velocities that the source
 * declares inertial are no rates of its position and are passed over.
 *
 * @param tS session time of the rows, s
 * @param longestStepS the longest step that is no gap, s
 * @returns one fault over the whole source for each rate that cannot be right together with its
 *   position; which of both is wrong is not known, so neither is left out
 */
export function rateFaults(
  source: TelemetrySource,
  tS: Float64Array,
  longestStepS: number,
): readonly DataFault[] {
  if (source.declared.velocityFrame === 'inertial') return [];
  const find = (as: string) => source.channels.find((channel) => channel.as === as);
  const pairs = PAIRS.flatMap(([positionName, rateName]) => {
    const rate = find(rateName);
    if (rate === undefined) return [];
    const measured = find(positionName);
    const position = positionName === 'range' ? (measured ?? distanceOf(source)) : measured;
    if (position === undefined) return [];
    const agreement = rateAgreement(tS, position.values, rate.values, longestStepS);
    return agreement === null ? [] : [{ rate, position, agreement }];
  });
  return pairs.flatMap(({ rate, position, agreement }) => {
    const others = pairs.filter((pair) => pair.rate !== rate);
    const leastOffM = Math.min(...others.map((pair) => pair.agreement.offM));
    if (!disagrees(agreement, leastOffM)) return [];
    return [faultOf(source.file, rate, position, agreement.slope, tS)];
  });
}
