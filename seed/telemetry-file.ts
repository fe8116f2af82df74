/** telemetry.csv: sensors on the noise-free flight, a stretch not received, a channel that froze. */
import { utcText } from './demo-clock';
import type { FlightTruth, TruthColumn } from './flight-truth';
import { feedAt, solutionOffsetM } from './navigation';
import { makeRandom, type RandomSource } from './random';

/** Rows inside are missing from the file, s. */
export const GAP_S = { fromS: 786, toS: 824 } as const;
/** `roll_err` repeats its value at `fromS` to the digit until `toS`, s. */
export const FROZEN_S = { fromS: 1600, toS: 1628, column: 'roll_err' } as const;

type Sensor = Readonly<{
  column: string;
  of: TruthColumn;
  decimals: number;
  /** Standard deviation of the noise at a range, in the column's unit; null for counters and modes. */
  noiseSd: ((rangeM: number) => number) | null;
}>;

const positionNoiseM = (rangeM: number) => 0.004 + 0.0007 * rangeM;
const velocityNoiseMps = (rangeM: number) => 0.0006 + 0.000006 * rangeM;
const angleNoiseDeg = () => 0.008;
const rateNoiseDps = () => 0.0015;

const SENSORS: readonly Sensor[] = [
  { column: 'x', of: 'x', decimals: 4, noiseSd: positionNoiseM },
  { column: 'y', of: 'y', decimals: 4, noiseSd: positionNoiseM },
  { column: 'z', of: 'z', decimals: 4, noiseSd: positionNoiseM },
  { column: 'vx', of: 'vx', decimals: 5, noiseSd: velocityNoiseMps },
  { column: 'vy', of: 'vy', decimals: 5, noiseSd: velocityNoiseMps },
  { column: 'vz', of: 'vz', decimals: 5, noiseSd: velocityNoiseMps },
  { column: 'roll_err', of: 'rollErr', decimals: 4, noiseSd: angleNoiseDeg },
  { column: 'pitch_err', of: 'pitchErr', decimals: 4, noiseSd: angleNoiseDeg },
  { column: 'yaw_err', of: 'yawErr', decimals: 4, noiseSd: angleNoiseDeg },
  { column: 'roll_rate', of: 'rollRate', decimals: 5, noiseSd: rateNoiseDps },
  { column: 'pitch_rate', of: 'pitchRate', decimals: 5, noiseSd: rateNoiseDps },
  { column: 'yaw_rate', of: 'yawRate', decimals: 5, noiseSd: rateNoiseDps },
  { column: 'jet_x_on', of: 'jetX', decimals: 3, noiseSd: null },
  { column: 'jet_y_on', of: 'jetY', decimals: 3, noiseSd: null },
  { column: 'jet_z_on', of: 'jetZ', decimals: 3, noiseSd: null },
  { column: 'hc_x', of: 'handX', decimals: 0, noiseSd: null },
  { column: 'hc_y', of: 'handY', decimals: 0, noiseSd: null },
  { column: 'hc_z', of: 'handZ', decimals: 0, noiseSd: null },
  { column: 'prop', of: 'propellantKg', decimals: 3, noiseSd: null },
  { column: 'mode', of: 'mode', decimals: 0, noiseSd: null },
];

/** Tank pressure follows the propellant left, kPa. */
const TANK_PRESSURE = {
  column: 'tank_pressure',
  decimals: 2,
  kPaPerKg: 3.1,
  fromKPa: 1180,
  noiseSdKPa: 0.8,
};

const PLAIN_ZERO = /^-0(\.0*)?$/;

function numberText(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return PLAIN_ZERO.test(text) ? text.slice(1) : text;
}

function isMissing(timeS: number): boolean {
  return timeS > GAP_S.fromS && timeS < GAP_S.toS;
}

function distanceM(x: number, y: number, z: number): number {
  return Math.sqrt(x * x + y * y + z * z);
}

/** The whole file. A sensor's noise does not depend on the other sensors: each has its own generator. */
export function telemetryCsv(truth: FlightTruth): string {
  const noises: RandomSource[] = SENSORS.map((_, index) => makeRandom(4100 + index));
  const pressureNoise = makeRandom(4200);
  const { columns } = truth;
  const names = SENSORS.map(({ column }) => column);
  const lines = [['utc', ...names, TANK_PRESSURE.column, 'nav_source'].join(',')];
  let frozenText: string | null = null;
  for (let row = 0; row < truth.rows; row += 1) {
    const timeS = columns.timeS[row] ?? 0;
    const rangeM = distanceM(columns.x[row] ?? 0, columns.y[row] ?? 0, columns.z[row] ?? 0);
    const cells = SENSORS.map((sensor, index) => {
      const noise =
        sensor.noiseSd === null ? 0 : sensor.noiseSd(rangeM) * (noises[index]?.normal() ?? 0);
      const offset = sensor.of === 'x' ? solutionOffsetM(timeS) : 0;
      return numberText((columns[sensor.of][row] ?? 0) + offset + noise, sensor.decimals);
    });
    const propellantKg = columns.propellantKg[row] ?? 0;
    const pressure = TANK_PRESSURE.fromKPa + TANK_PRESSURE.kPaPerKg * propellantKg;
    cells.push(
      numberText(
        pressure + TANK_PRESSURE.noiseSdKPa * pressureNoise.normal(),
        TANK_PRESSURE.decimals,
      ),
    );
    cells.push(String(feedAt(timeS)));
    const frozenIndex = SENSORS.findIndex(({ column }) => column === FROZEN_S.column);
    if (timeS >= FROZEN_S.fromS && timeS <= FROZEN_S.toS) {
      frozenText ??= cells[frozenIndex] ?? '';
      cells[frozenIndex] = frozenText;
    }
    if (!isMissing(timeS)) lines.push(`${utcText(timeS)},${cells.join(',')}`);
  }
  lines.push('');
  return lines.join('\n');
}

const RUN_SENSORS = SENSORS.slice(
  0,
  SENSORS.findIndex(({ column }) => column === 'hc_x'),
);
/** A row a second has the noise of the mean of ten: 1 / sqrt 10 of a single one's. */
const RUN_NOISE = 0.316;

/** A simulator run as it writes it: fewer columns, no faults. */
export function runCsv(truth: FlightTruth, firstSeed: number): string {
  return secondsCsv(truth, { sensors: RUN_SENSORS, firstSeed, stampOf: utcText });
}

/** A flight at a row a second, no faults. `stampOf` gives the stamp of a time of the truth. */
export function slowTelemetryCsv(
  truth: FlightTruth,
  { firstSeed, stampOf }: Readonly<{ firstSeed: number; stampOf: (timeS: number) => string }>,
): string {
  return secondsCsv(truth, { sensors: SENSORS, firstSeed, stampOf });
}

type Written = Readonly<{
  sensors: readonly Sensor[];
  firstSeed: number;
  stampOf: (timeS: number) => string;
}>;

function secondsCsv(truth: FlightTruth, { sensors, firstSeed, stampOf }: Written): string {
  const noises: RandomSource[] = sensors.map((_, index) => makeRandom(firstSeed + index));
  const { columns } = truth;
  const lines = [['utc', ...sensors.map(({ column }) => column)].join(',')];
  for (let row = 0; row < truth.rows; row += 1) {
    const rangeM = distanceM(columns.x[row] ?? 0, columns.y[row] ?? 0, columns.z[row] ?? 0);
    const cells = sensors.map((sensor, index) => {
      const sd = sensor.noiseSd === null ? 0 : RUN_NOISE * sensor.noiseSd(rangeM);
      const noise = sd === 0 ? 0 : sd * (noises[index]?.normal() ?? 0);
      return numberText((columns[sensor.of][row] ?? 0) + noise, sensor.decimals);
    });
    lines.push(`${stampOf(columns.timeS[row] ?? 0)},${cells.join(',')}`);
  }
  lines.push('');
  return lines.join('\n');
}
