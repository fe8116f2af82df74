/** A motion estimate by closed forms, along the docking axis, for tests of what is read from one. */
import type { MotionEstimate } from '@/lib/core/motion/motion-estimate';

type AlongAxis = Readonly<{
  tS: readonly number[];
  axialM: (atS: number) => number;
  /** Minus the rate of the axial distance, m/s. */
  closingMps: (atS: number) => number;
  sdM?: number;
  sdMps?: number;
}>;

/** Every row is known; no gap; nothing across the axis. */
export function motionAlongAxis(of: AlongAxis): MotionEstimate {
  const tS = Float64Array.from(of.tS);
  const column = (at: (atS: number) => number): Float64Array => tS.map((atS) => at(atS));
  const constant = (value: number): Float64Array => new Float64Array(tS.length).fill(value);
  const axialM = column(of.axialM);
  const closingMps = column(of.closingMps);
  const sdM = constant(of.sdM ?? 0.001);
  const sdMps = constant(of.sdMps ?? 0.0001);
  const none = constant(0);
  return {
    tS,
    rangeM: axialM,
    rangeSdM: sdM,
    closingMps,
    closingSdMps: sdMps,
    axialM,
    axialSdM: sdM,
    axialClosingMps: closingMps,
    axialClosingSdMps: sdMps,
    lateralM: none,
    lateralSdM: sdM,
    crossMps: none,
    crossSdMps: none,
    yM: none,
    zM: none,
    stretches: [{ from: 0, to: tS.length }],
    basis: 'measured-velocity',
    channels: ['x', 'vx'],
    positionMethod: '',
    rateMethod: '',
    stepS: (tS[1] ?? 1) - (tS[0] ?? 0),
    rateSpanS: 2,
    ratePartingPerS: 0.5,
    rateHalfSpanS: null,
    between: null,
    rateLinesS: null,
    unseenMps: null,
    unseenMps2: null,
    unseenJumpMps: null,
    rateCourses: [],
    positionSpanS: 2,
    rateIsDerived: false,
    samples: new Map(),
    steps: [],
  };
}

/** Times from 0 to `toS`, both included. */
export function rowsTo(toS: number, stepS: number): readonly number[] {
  return Array.from({ length: Math.round(toS / stepS) + 1 }, (_, row) => row * stepS);
}
