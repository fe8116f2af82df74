/** Measures of the final step axis by axis, the flight's beside those of the runs. */
import { type Figure, halfWidth95 } from '../figure';
import { controlActivity } from '../handling/control-activity';
import { deadBandCoast, measureCycle } from '../handling/limit-cycle';
import { quantileInterval } from '../math/order-statistics';
import { lowerBound } from '../math/search';
import { median } from '../math/statistics';
import type { AxisMeasure } from './comparison';
import { halfBetween } from './comparison-scores';
import { figureOf } from './figure-of';
import type { FinalStep } from './final-step';
import type { ComparedOrigins } from './runs-origin';
import { cutOff } from './task-activity';
import { CONTROLLER_AXES, jetPulses, rowsOf } from './task-rows';

type MeasureName = Readonly<{ key: string; label: string; unit: string; method: string }>;

const TURNS = ['roll', 'pitch', 'yaw'] as const;
const JETS = ['x', 'y', 'z', 'roll', 'pitch', 'yaw'] as const;
/** An excursion counts as a turn beyond so many standard deviations of the estimate. Our own choice. */
const TURN_SD = 4;

const NAMES: readonly MeasureName[] = [
  ...TURNS.flatMap((axis): MeasureName[] => [
    {
      key: `cycle_amplitude_${axis}`,
      label: `Limit cycle in ${axis}, amplitude`,
      unit: 'rad',
      method: 'Half the mean distance of a turn from the next, whole turns only.',
    },
    {
      key: `cycle_period_${axis}`,
      label: `Limit cycle in ${axis}, period`,
      unit: 's',
      method: 'Time from turn to turn on one side, mean over whole cycles.',
    },
    {
      key: `cycle_closed_${axis}`,
      label: `Limit cycle in ${axis}, period by the closed form`,
      unit: 's',
      method:
        'Two coasts from edge to edge of a dead band of the measured amplitude at the median size of the recorded body rate, without torque; pulses short against coasts.',
    },
  ]),
  ...CONTROLLER_AXES.flatMap((axis): MeasureName[] => [
    {
      key: `stick_duty_${axis}`,
      label: `Hand controller along ${axis}, duty`,
      unit: '1',
      method: 'Rows at which the deflection changed, over all rows.',
    },
    {
      key: `stick_aggressiveness_${axis}`,
      label: `Hand controller along ${axis}, aggressiveness`,
      unit: '1',
      method: 'Root mean square change of the deflection from row to row, over the pairs of rows.',
    },
    {
      key: `stick_cut_off_${axis}`,
      label: `Hand controller along ${axis}, cut-off frequency`,
      unit: 'Hz',
      method:
        'Frequency below which half of the deflection’s power lies (Welch, Hann, half overlap).',
    },
  ]),
  ...JETS.flatMap((axis): MeasureName[] => [
    {
      key: `firings_${axis}`,
      label: `Jet firings along ${axis}`,
      unit: '1',
      method: 'Runs of rows over which the accumulated on-time grows.',
    },
    {
      key: `jet_duty_${axis}`,
      label: `Jets on along ${axis}`,
      unit: '1',
      method: 'Growth of the accumulated on-time over the time of the final step.',
    },
    {
      key: `rate_per_pulse_${axis}`,
      label: `Rate per pulse along ${axis}`,
      unit: ['x', 'y', 'z'].includes(axis) ? 'm/s' : 'rad/s',
      method:
        'Median size of the change of the recorded rate from the row before a firing to the row after it; the noise of both rows is in it.',
    },
  ]),
];

type Measured = Map<string, number>;

/** Amplitude, period, and the period that amplitude and drift rate would have without torque. */
function addCycle(step: FinalStep, axis: string, into: Measured): void {
  const angle = step.quantity(`attitude_error.${axis}`);
  if (angle === null) return;
  const from = lowerBound(angle.tS, step.startS);
  const to = lowerBound(angle.tS, step.endS);
  const values = angle.value.subarray(from, to);
  // A gap could hide a turn.
  if (values.length < 3 || values.some((value) => Number.isNaN(value))) return;
  const sd = angle.noise === 'unknown' ? 0 : median(angle.sd.subarray(from, to));
  const cycle = measureCycle(angle.tS.subarray(from, to), values, TURN_SD * sd);
  if (cycle.cycles === 0) return;
  into.set(`cycle_amplitude_${axis}`, cycle.amplitude);
  into.set(`cycle_period_${axis}`, cycle.periodS);
  const rate = step.quantity(`body_rate.${axis}`);
  if (rate === null) return;
  const first = lowerBound(rate.tS, step.startS);
  const inside = rate.value.subarray(first, lowerBound(rate.tS, step.endS));
  const driftRadPerS = median(inside.map((value) => Math.abs(value)));
  // The closed form with the rate itself in place of the jets that make it: a moment of 2 on an inertia of 1.
  const { coastS } = deadBandCoast({
    inertiaKgM2: 1,
    thrustN: 2 * driftRadPerS,
    jetCount: 1,
    leverArmM: 1,
    halfBandRad: cycle.amplitude,
    pulseS: 1,
  });
  into.set(`cycle_closed_${axis}`, 2 * coastS);
}

function addJets(step: FinalStep, axis: string, into: Measured): void {
  const sources = step.session.parts;
  const stretch = { fromS: step.startS, toS: step.endS };
  const onTime = rowsOf(sources, `jet_on_time.${axis}`, stretch);
  if (onTime === null || onTime.tS.length < 2) return;
  const { tS, values } = onTime;
  const pulses = jetPulses(values);
  const onS = (values.at(-1) ?? Number.NaN) - (values[0] ?? Number.NaN);
  into.set(`firings_${axis}`, pulses.length);
  into.set(`jet_duty_${axis}`, onS / ((tS.at(-1) ?? Number.NaN) - (tS[0] ?? Number.NaN)));
  const kind = ['x', 'y', 'z'].includes(axis) ? 'velocity' : 'body_rate';
  const rate = rowsOf(sources, `${kind}.${axis}`, stretch);
  if (rate === null || pulses.length === 0) return;
  const changes = pulses.map(({ from, to }) => {
    const before = lowerBound(rate.tS, tS[from] ?? Number.NaN);
    const after = lowerBound(rate.tS, tS[to] ?? Number.NaN);
    return Math.abs((rate.values[after] ?? Number.NaN) - (rate.values[before] ?? Number.NaN));
  });
  into.set(`rate_per_pulse_${axis}`, median(Float64Array.from(changes)));
}

/** How the hand controller was moved; nothing where it rested or was not recorded. */
function addController(step: FinalStep, axis: string, into: Measured): void {
  const stretch = { fromS: step.startS, toS: step.endS };
  const rows = rowsOf(step.session.parts, `hand_controller.${axis}`, stretch);
  if (rows === null || rows.values.length < 2) return;
  const { changes, duty, aggressiveness } = controlActivity(rows.values, 0);
  if (changes === 0) return;
  into.set(`stick_duty_${axis}`, duty);
  into.set(`stick_aggressiveness_${axis}`, aggressiveness);
  const { hz } = cutOff(rows);
  if (!Number.isNaN(hz)) into.set(`stick_cut_off_${axis}`, hz);
}

function measuredOf(step: FinalStep): Measured {
  const found: Measured = new Map();
  for (const axis of TURNS) addCycle(step, axis, found);
  for (const axis of CONTROLLER_AXES) addController(step, axis, found);
  for (const axis of JETS) addJets(step, axis, found);
  return found;
}

/** Told by rows: rows farther apart show fewer firings, and larger changes of a deflection. */
const BY_ROWS = ['firings_', 'rate_per_pulse_', 'stick_duty_', 'stick_aggressiveness_'];

function isByRows(key: string): boolean {
  return BY_ROWS.some((start) => key.startsWith(start));
}

/** Why what is told by rows does not compare; null where flight and runs have the same step. */
function rowsApart(flight: FinalStep, runs: readonly FinalStep[]): string | null {
  const flownS = flight.session.source.stepS;
  const simulatedS = median(Float64Array.from(runs, ({ session }) => session.source.stepS));
  if (!(Math.abs(simulatedS - flownS) > 0.01 * flownS)) return null;
  const text = (stepS: number): string => `${Number(stepS.toPrecision(3))} s`;
  return `It is told by rows, which are ${text(flownS)} apart as flown and ${text(simulatedS)} as simulated: the two do not compare.`;
}

/** What the flight has, each beside the median of the runs that have it. */
export function axisMeasures(
  flight: FinalStep,
  runs: readonly FinalStep[],
  origins: ComparedOrigins,
): readonly AxisMeasure[] {
  const own = measuredOf(flight);
  const others = runs.map(measuredOf);
  const stretch = { fromS: flight.startS, toS: flight.endS };
  const apart = rowsApart(flight, runs);
  return NAMES.flatMap(({ key, label, unit, method }): AxisMeasure[] => {
    const value = own.get(key);
    if (value === undefined) return [];
    const known = others.flatMap((each) => each.get(key) ?? []);
    // A run may have the channels, and no sample where the measure is taken.
    const simulated = known.filter((each) => !Number.isNaN(each));
    const flown = figureOf(origins.flight, { value, unit, random: null, method, ...stretch });
    const fault = isByRows(key) ? apart : null;
    const simulator =
      simulated.length === 0 ? null : ofRuns(simulated, { unit, method, fault }, origins);
    const ratio = simulator === null ? null : ratioOf(flown, simulator, origins);
    return [{ key, label, flight: flown, simulator, ratio }];
  });
}

type Told = Readonly<{ unit: string; method: string; fault: string | null }>;

/** The median of the runs that have it, with bounds from order statistics. */
function ofRuns(
  simulated: readonly number[],
  { unit, method, fault }: Told,
  origins: ComparedOrigins,
) {
  const words = `${method} Median of ${simulated.length} runs that have it, with bounds from order statistics.`;
  if (fault !== null) {
    return figureOf(origins.runs, {
      value: null,
      unit,
      random: null,
      method: words,
      reason: fault,
    });
  }
  const middle = quantileInterval(Float64Array.from(simulated).sort(), 0.5);
  const random = halfBetween(middle);
  return figureOf(origins.runs, { value: middle.value, unit, random, method: words });
}

/** Flight over median run; null where either has no size to compare. */
function ratioOf(flight: Figure, simulator: Figure, { both }: ComparedOrigins): Figure | null {
  const [flown, simulated] = [flight.value, simulator.value];
  if (flown === null || simulated === null || !(simulated > 0)) return null;
  const half = halfWidth95(simulator);
  return figureOf(both, {
    value: flown / simulated,
    unit: '1',
    random: half === null ? null : (flown / simulated) * (half / simulated),
    method:
      'Flown over the median of the runs, over the time of the final step; the interval is that of the median, the flight being one draw.',
  });
}
