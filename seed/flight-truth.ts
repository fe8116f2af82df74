/** The noise-free flight as columns, and when what happened. */
import type { AttitudeAxis } from './attitude';
import { ROTATION, TRANSLATION_X, TRANSLATION_YZ } from './jets';
import type { PortState } from './orbit-motion';
import type { Stick } from './pilot';

const NUMBER_COLUMNS = [
  'timeS',
  'x',
  'y',
  'z',
  'vx',
  'vy',
  'vz',
  'rollErr',
  'pitchErr',
  'yawErr',
  'rollRate',
  'pitchRate',
  'yawRate',
  'jetX',
  'jetY',
  'jetZ',
  'handX',
  'handY',
  'handZ',
  'propellantKg',
  'mode',
] as const;
export type TruthColumn = (typeof NUMBER_COLUMNS)[number];

export type FlightTruth = Readonly<{
  rows: number;
  columns: Readonly<Record<TruthColumn, readonly number[]>>;
  /** Start of each leg by the guidance's name, s; `hold-far` starts at 0. */
  legStartS: Readonly<Record<string, number>>;
  /** When the axial jets began to stay on, s. */
  stuckSinceS: number;
  contactS: number;
}>;

const PROPELLANT_START_KG = 208;

type Moment = Readonly<{
  timeS: number;
  state: PortState;
  attitude: readonly AttitudeAxis[];
  /** Signed on-times of the step that led here, s. */
  on: Readonly<{ x: number; y: number; z: number }>;
  rotationOnS: number;
  stick: Stick;
  mode: number;
}>;

/** Collects the flight row by row; on-times and propellant are accumulated here. */
export class FlightRecorder {
  readonly #columns = makeColumns();
  readonly #legs: Record<string, number> = { 'hold-far': 0 };
  readonly #onS = { x: 0, y: 0, z: 0 };
  #propellantKg = PROPELLANT_START_KG;

  /** Counts the on-times and the propellant of a step that makes no row. */
  addUp({ on, rotationOnS }: Pick<Moment, 'on' | 'rotationOnS'>): void {
    this.#onS.x += Math.abs(on.x);
    this.#onS.y += Math.abs(on.y);
    this.#onS.z += Math.abs(on.z);
    this.#propellantKg -=
      Math.abs(on.x) * TRANSLATION_X.flowKgPerS +
      (Math.abs(on.y) + Math.abs(on.z)) * TRANSLATION_YZ.flowKgPerS +
      rotationOnS * ROTATION.flowKgPerS;
  }

  record(moment: Moment): void {
    this.addUp(moment);
    const [roll, pitch, yaw] = moment.attitude;
    const values: Record<TruthColumn, number> = {
      timeS: moment.timeS,
      x: moment.state.xM,
      y: moment.state.yM,
      z: moment.state.zM,
      vx: moment.state.vxMps,
      vy: moment.state.vyMps,
      vz: moment.state.vzMps,
      rollErr: roll?.errorDeg ?? 0,
      pitchErr: pitch?.errorDeg ?? 0,
      yawErr: yaw?.errorDeg ?? 0,
      rollRate: roll?.rateDps ?? 0,
      pitchRate: pitch?.rateDps ?? 0,
      yawRate: yaw?.rateDps ?? 0,
      jetX: this.#onS.x,
      jetY: this.#onS.y,
      jetZ: this.#onS.z,
      handX: moment.stick.x,
      handY: moment.stick.y,
      handZ: moment.stick.z,
      propellantKg: this.#propellantKg,
      mode: moment.mode,
    };
    for (const name of NUMBER_COLUMNS) this.#columns[name].push(values[name]);
  }

  startLeg(name: string, timeS: number): void {
    this.#legs[name] = timeS;
  }

  finish(end: Readonly<{ stuckSinceS: number | null; contactS: number | null }>): FlightTruth {
    return {
      rows: this.#columns.timeS.length,
      columns: this.#columns,
      legStartS: this.#legs,
      stuckSinceS: end.stuckSinceS ?? Number.NaN,
      contactS: end.contactS ?? Number.NaN,
    };
  }
}

function makeColumns(): Record<TruthColumn, number[]> {
  return {
    timeS: [],
    x: [],
    y: [],
    z: [],
    vx: [],
    vy: [],
    vz: [],
    rollErr: [],
    pitchErr: [],
    yawErr: [],
    rollRate: [],
    pitchRate: [],
    yawRate: [],
    jetX: [],
    jetY: [],
    jetZ: [],
    handX: [],
    handY: [],
    handZ: [],
    propellantKg: [],
    mode: [],
  };
}
