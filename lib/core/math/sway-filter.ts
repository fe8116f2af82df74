/** A filter over values whose rate wanders and which sway to and fro, seen through white and slow noise. */

/**
 * Values over time with the variances of their noise: white, and slow (a first-order process that decays
 * over `slowS`). Columns of one length, times strictly ascending.
 */
export type NoisySeries = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  white: Float64Array;
  slow: Float64Array;
  slowS: number;
}>;

/** To and fro about the level: its size (1 sd, unit of the values) and its period. */
export type Sway = Readonly<{ size: number; periodS: number }>;

/** Damping of a sway, of the critical one: it keeps its phase for about a period. Our own choice. */
const DAMPING = 0.2;
/** The rate is unknown beforehand by this variance. */
const UNKNOWN = 100;

/** What the time to a row does: how slow noise decays, how the sway turns and what is new in it. */
type Step = Readonly<{
  forS: number;
  keep: number;
  cc: number;
  cv: number;
  vc: number;
  vv: number;
  newCc: number;
  newCv: number;
  newVv: number;
}>;

/**
 * State after some rows: level, rate, slow noise in its own deviations, the sway and its rate; the upper half of their
 * covariance; and the logarithm of the likelihood so far.
 *
 *   level rate slow sway its rate
 *     0    1    2    3    4        level
 *          5    6    7    8        rate
 *               9   10   11        slow noise
 *                   12   13        sway
 *                        14        its rate
 */
export type FilterState = Readonly<{ x: Float64Array; p: Float64Array; logLikelihood: number }>;

/** Level and rate, sway included, each with its standard deviation. */
export type Filtered = Readonly<{ level: number; levelSd: number; rate: number; rateSd: number }>;

/** Rows with the steps of one sway between them. */
export type SwayRows = Readonly<{ rows: NoisySeries; sway: Sway; steps: readonly Step[] }>;

function stepOf(forS: number, slowS: number, { size, periodS }: Sway): Step {
  const w = (2 * Math.PI) / periodS;
  const decay = DAMPING * w;
  const turn = w * Math.sqrt(1 - DAMPING ** 2);
  const left = Math.exp(-decay * forS);
  const [cos, sin] = [left * Math.cos(turn * forS), (left * Math.sin(turn * forS)) / turn];
  const [cc, cv, vc, vv] = [cos + decay * sin, sin, -w * w * sin, cos - decay * sin];
  const [c, v] = [size ** 2, (size * w) ** 2];
  return {
    forS,
    keep: Math.exp(-forS / slowS),
    cc,
    cv,
    vc,
    vv,
    newCc: c - cc * cc * c - cv * cv * v,
    newCv: -(cc * vc * c + cv * vv * v),
    newVv: v - vc * vc * c - vv * vv * v,
  };
}

/** Those from an index on. */
export function swayRowsFrom({ rows, sway, steps }: SwayRows, from: number): SwayRows {
  const { tS, values, white, slow, slowS } = rows;
  const late = (column: Float64Array): Float64Array => column.subarray(from);
  return {
    rows: { tS: late(tS), values: late(values), white: late(white), slow: late(slow), slowS },
    sway,
    steps: steps.slice(from),
  };
}

/** Rows made ready for the filter with a sway; one of size 0 is none. */
export function swayRows(rows: NoisySeries, sway: Sway): SwayRows {
  const steps = Array.from(rows.tS, (atS, i) =>
    stepOf(atS - (rows.tS[i - 1] ?? atS), rows.slowS, sway),
  );
  return { rows, sway, steps };
}

/** After the first row: all of its value may be level, noise or sway. */
export function firstState({ rows, sway }: SwayRows): FilterState {
  const [slow, swayed] = [rows.slow[0] ?? 0, sway.size ** 2];
  const x = Float64Array.of(rows.values[0] ?? Number.NaN, 0, 0, 0, 0);
  const p = new Float64Array(15);
  p[0] = (rows.white[0] ?? 0) + slow + swayed;
  p[2] = -Math.sqrt(slow);
  p[3] = -swayed;
  p[5] = UNKNOWN;
  p[9] = 1;
  p[12] = swayed;
  p[14] = swayed * ((2 * Math.PI) / sway.periodS) ** 2;
  return { x, p, logLikelihood: 0 };
}

/** Carries a state over a step, in place; the rate wanders by `perS` of variance a second. */
function carry(x: Float64Array, p: Float64Array, step: Step, perS: number): void {
  const { forS, keep, cc, cv, vc, vv } = step;
  const [c, v] = [x[3]!, x[4]!];
  x[0] = x[0]! + forS * x[1]!;
  x[2] = keep * x[2]!;
  x[3] = cc * c + cv * v;
  x[4] = vc * c + vv * v;
  const [levelC, levelV] = [p[3]! + forS * p[7]!, p[4]! + forS * p[8]!];
  const [rateC, rateV, slowC, slowV] = [p[7]!, p[8]!, p[10]!, p[11]!];
  const [p12, p13, p14] = [p[12]!, p[13]!, p[14]!];
  p[0] = p[0]! + forS * (2 * p[1]! + forS * p[5]!) + (perS * forS * forS * forS) / 3;
  p[1] = p[1]! + forS * p[5]! + (perS * forS * forS) / 2;
  p[2] = keep * (p[2]! + forS * p[6]!);
  p[3] = cc * levelC + cv * levelV;
  p[4] = vc * levelC + vv * levelV;
  p[5] = p[5]! + perS * forS;
  p[6] = keep * p[6]!;
  p[7] = cc * rateC + cv * rateV;
  p[8] = vc * rateC + vv * rateV;
  p[9] = keep * keep * p[9]! + (1 - keep * keep);
  p[10] = keep * (cc * slowC + cv * slowV);
  p[11] = keep * (vc * slowC + vv * slowV);
  p[12] = cc * cc * p12 + 2 * cc * cv * p13 + cv * cv * p14 + step.newCc;
  p[13] = cc * vc * p12 + (cc * vv + cv * vc) * p13 + cv * vv * p14 + step.newCv;
  p[14] = vc * vc * p12 + 2 * vc * vv * p13 + vv * vv * p14 + step.newVv;
}

/** Takes a value in, in place; gives what it adds to the logarithm of the likelihood. */
function take(
  x: Float64Array,
  p: Float64Array,
  value: number,
  white: number,
  slow: number,
): number {
  const sd = Math.sqrt(slow);
  const g0 = p[0]! + sd * p[2]! + p[3]!;
  const g1 = p[1]! + sd * p[6]! + p[7]!;
  const g2 = p[2]! + sd * p[9]! + p[10]!;
  const g3 = p[3]! + sd * p[10]! + p[12]!;
  const g4 = p[4]! + sd * p[11]! + p[13]!;
  const total = g0 + sd * g2 + g3 + white;
  const off = value - x[0]! - sd * x[2]! - x[3]!;
  const [u0, u1, u2, u3, u4] = [g0 / total, g1 / total, g2 / total, g3 / total, g4 / total];
  x[0] = x[0]! + u0 * off;
  x[1] = x[1]! + u1 * off;
  x[2] = x[2]! + u2 * off;
  x[3] = x[3]! + u3 * off;
  x[4] = x[4]! + u4 * off;
  p[0] = p[0]! - u0 * g0;
  p[1] = p[1]! - u0 * g1;
  p[2] = p[2]! - u0 * g2;
  p[3] = p[3]! - u0 * g3;
  p[4] = p[4]! - u0 * g4;
  p[5] = p[5]! - u1 * g1;
  p[6] = p[6]! - u1 * g2;
  p[7] = p[7]! - u1 * g3;
  p[8] = p[8]! - u1 * g4;
  p[9] = p[9]! - u2 * g2;
  p[10] = p[10]! - u2 * g3;
  p[11] = p[11]! - u2 * g4;
  p[12] = p[12]! - u3 * g3;
  p[13] = p[13]! - u3 * g4;
  p[14] = p[14]! - u4 * g4;
  return -0.5 * (Math.log(total) + (off * off) / total);
}

/**
 * The state after rows `[from, to)`, from that after the row before.
 *
 * @param perS variance by which the rate wanders in a second
 */
export function advanced(
  { rows, steps }: SwayRows,
  state: FilterState,
  { from, to, perS }: Readonly<{ from: number; to: number; perS: number }>,
): FilterState {
  const [x, p] = [state.x.slice(), state.p.slice()];
  let { logLikelihood } = state;
  for (let i = from; i < to; i++) {
    carry(x, p, steps[i]!, perS);
    logLikelihood += take(x, p, rows.values[i]!, rows.white[i]!, rows.slow[i]!);
  }
  return { x, p, logLikelihood };
}

/** The states after some numbers of rows, 1 or more, in ascending order. */
export function statesAt(
  rows: SwayRows,
  counts: readonly number[],
  perS: number,
): ReadonlyMap<number, FilterState> {
  const states = new Map<number, FilterState>();
  let [state, from] = [firstState(rows), 1];
  for (const to of counts) {
    state = advanced(rows, state, { from, to, perS });
    states.set(to, state);
    from = Math.max(from, to);
  }
  return states;
}

/** Level and rate of a state some time later, wandering and swaying on. */
export function carriedAhead(
  { rows, sway }: SwayRows,
  { x, p }: FilterState,
  { perS, aheadS }: Readonly<{ perS: number; aheadS: number }>,
): Filtered {
  const [later, known] = [x.slice(), p.slice()];
  carry(later, known, stepOf(aheadS, rows.slowS, sway), perS);
  const sdOf = (variance: number): number => Math.sqrt(Math.max(0, variance));
  return {
    level: later[0]! + later[3]!,
    levelSd: sdOf(known[0]! + 2 * known[3]! + known[12]!),
    rate: later[1]! + later[4]!,
    rateSd: sdOf(known[5]! + 2 * known[8]! + known[14]!),
  };
}
