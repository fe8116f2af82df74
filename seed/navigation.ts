/** Which sensor feeds the navigation solution of the demo, and the second range that stands beside it. */
import { utcText } from './demo-clock';
import type { FlightTruth } from './flight-truth';
import { makeRandom } from './random';

/** Values of the column nav_source. */
export const FEEDS = { satellites: 1, camera: 2, none: 3 } as const;

/** From relative satellite navigation to the camera, s; x of the old solution was too far out, m. */
export const HAND_OVER_S = 1560;
export const OLD_OFFSET_M = 0.4;
/** The camera is blinded and the solution carried on, s. */
export const BLIND_S = { fromS: 2200, toS: 2206 } as const;

export function feedAt(timeS: number): number {
  if (timeS < HAND_OVER_S) return FEEDS.satellites;
  return timeS >= BLIND_S.fromS && timeS < BLIND_S.toS ? FEEDS.none : FEEDS.camera;
}

/** By how much the solution is off along x, m. */
export function solutionOffsetM(timeS: number): number {
  return timeS < HAND_OVER_S ? OLD_OFFSET_M : 0;
}

/** The rangefinder: reaches this far, reads too long by this, scatters by this, m. */
const REACH_M = 200;
export const BIAS_M = 0.06;
const noiseM = (rangeM: number) => 0.02 + 0.0002 * rangeM;
const ROWS_APART = 10;

/** rangefinder.csv: one range a second inside 200 m, until first touch. */
export function rangefinderCsv({ rows, columns, contactS }: FlightTruth): string {
  const random = makeRandom(4300);
  const lines = ['utc,laser_range'];
  for (let row = 0; row < rows; row += ROWS_APART) {
    const timeS = columns.timeS[row] ?? 0;
    const [x, y, z] = [columns.x[row] ?? 0, columns.y[row] ?? 0, columns.z[row] ?? 0];
    const rangeM = Math.sqrt(x * x + y * y + z * z);
    const noise = noiseM(rangeM) * random.normal();
    if (timeS > contactS || rangeM > REACH_M) continue;
    lines.push(`${utcText(timeS)},${(rangeM + BIAS_M + noise).toFixed(3)}`);
  }
  lines.push('');
  return lines.join('\n');
}
