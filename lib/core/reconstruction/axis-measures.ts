/** Measures of the final step axis by axis, the flight's beside those of the runs. */
import { deadBandCoast, measureCycle } from '../handling/limit-cycle';
import { lowerBound } from '../math/search';
import { median } from '../math/statistics';
import type { AxisMeasure } from './comparison';
import { figureOf } from './figure-of';
import type { FinalStep } from './final-step';
import type { ComparedOrigins } from './runs-origin';
import { jetPulses, rowsOf } from './task-rows';

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
  const sources = [step.session.source];
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

function measuredOf(step: FinalStep): Measured {
  const found: Measured = new Map();
  for (const axis of TURNS) addCycle(step, axis, found);
  for (const axis of JETS) addJets(step, axis, found);
  return found;
}

/** Firings and what each did are told by rows: rows farther apart show fewer of them. */
function isByRows(key: string): boolean {
  return key.startsWith('firings_') || key.startsWith('rate_per_pulse_');
}

/** Why what is told by rows does not compare; null where flight and runs have the same step. */
function rowsApart(flight: FinalStep, runs: readonly FinalStep[]): string | null {
  const flownS = flight.session.source.stepS;
  const simulatedS = median(Float64Array.from(runs, ({ session }) => session.source.stepS));
  if (!(Math.abs(simulatedS - flownS) > 0.01 * flownS)) return null;
  const text = (stepS: number): string => `${Number(stepS.toPrecision(3))} s`;
  return `Firings are told by rows, which are ${text(flownS)} apart as flown and ${text(simulatedS)} as simulated: the two do not compare.`;
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
    const simulated = others.flatMap((each) => each.get(key) ?? []);
    return [
      {
        key,
        label,
        flight: figureOf(origins.flight, { value, unit, random: null, method, ...stretch }),
        simulator:
          simulated.length === 0
            ? null
            : figureOf(origins.runs, {
                value:
                  isByRows(key) && apart !== null ? null : median(Float64Array.from(simulated)),
                ...(isByRows(key) && apart !== null ? { reason: apart } : {}),
                unit,
                random: null,
                method: `${method} Median of ${simulated.length} runs that have it.`,
              }),
      },
    ];
  });
}
