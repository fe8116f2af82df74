/** Hand-overs and jumps of the solution, as figures. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { isMovedStep, type MovedStep } from '../motion/motion-estimate';
import { type Jump, positionJump, type StepPlace, velocityJump } from '../navigation/solution-step';
import type { HandOver } from '../navigation/source-states';
import { type Samples, takeSamples } from '../series/samples';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import type { AxisJump, SolutionStep } from './navigation-report';

/** Samples this far round a jump tell how neighbours err together, s. */
const ROUND_S = 300;
/** A jump found in the data this near to a hand-over is that hand-over's, s. */
const SAME_S = 2;

type Place = StepPlace &
  Readonly<{ handOver: HandOver | null; isMoved: boolean; moved: readonly MovedStep[] }>;

/** Hand-overs and found jumps in time order, each once. */
function placesOf(overs: readonly HandOver[], moved: readonly MovedStep[]): readonly Place[] {
  const isAt = (step: MovedStep, over: StepPlace): boolean =>
    step.afterS >= over.beforeS - SAME_S && step.beforeS <= over.atS + SAME_S;
  const places: Place[] = overs.map((handOver) => ({
    beforeS: handOver.beforeS,
    atS: handOver.atS,
    handOver,
    isMoved: moved.some((step) => isAt(step, handOver)),
    moved: moved.filter((step) => isAt(step, handOver)),
  }));
  for (const step of moved) {
    if (places.some((place) => isAt(step, place))) continue;
    const place = { beforeS: step.beforeS, atS: step.afterS };
    const together = moved.filter((other) => isAt(other, place));
    places.push({ ...place, handOver: null, isMoved: true, moved: together });
  }
  return places.sort((a, b) => a.atS - b.atS);
}

function samplesRound(source: CheckedSource, as: string, place: StepPlace): Samples | null {
  const found = source.channels.find(({ channel }) => channel.as === as);
  if (found === undefined) return null;
  const from = lowerBound(source.tS, place.beforeS - ROUND_S);
  const to = lowerBound(source.tS, place.atS + ROUND_S);
  const rejected = found.rejected === null ? null : found.rejected.subarray(from, to);
  return takeSamples(
    source.tS.subarray(from, to),
    found.channel.values.subarray(from, to),
    rejected,
  );
}

const POSITION_METHOD =
  'New less old: straight lines over 10 s on either side of what is left of the position once the way travelled by the measured velocity is taken off, carried to the moment.';
const BARE_METHOD =
  'New less old: straight lines over 10 s on either side of the position, carried to the moment; no velocity is measured, so a change of rate there adds to it. Its half-width is what such lines differ by as a rule where that is more than their scatter.';
const VELOCITY_METHOD =
  'New less old: straight lines over 4 s on either side of the measured velocity, carried to the moment; a jet that starts or stops inside them adds to it.';

const MOVED_METHOD =
  'New less old: straight lines over 5 to 20 s on either side of what is left of the position once the way travelled by the measured velocity is taken off, carried to the moment; its half-width is what such lines differ by as a rule where that is more than their scatter.';

/** The step as it was moved: what a found one is, and what every figure before it rests on. */
function movedJump({ moved }: Place, axis: string): Jump | null {
  const step = moved.find((one) => one.axis === axis);
  return step === undefined ? null : { value: step.sizeM, half: NORMAL_95 * step.sizeSdM };
}

function axisJump(session: SessionMotion, axis: string, place: Place): AxisJump {
  const { source } = session;
  const isRange = axis === 'range';
  const names = isRange ? ['range', 'range_rate'] : [`position.${axis}`, `velocity.${axis}`];
  const position = samplesRound(source, names[0] ?? '', place);
  const velocity = samplesRound(source, names[1] ?? '', place);
  const channels = source.channels.flatMap(({ channel }) =>
    names.includes(channel.as) ? [channel.name] : [],
  );
  const figure = (jump: Jump | null, unit: string, method: string) =>
    jump === null
      ? null
      : figureOf(
          { ...session.origin, channels },
          {
            value: jump.value,
            unit,
            random: jump.half,
            method,
            fromS: place.beforeS,
            toS: place.atS,
          },
        );
  const moved = movedJump(place, axis);
  const method = moved === null ? POSITION_METHOD : MOVED_METHOD;
  return {
    axis,
    positionM: figure(
      moved ?? (position === null ? null : positionJump(position, velocity, place)),
      'm',
      velocity === null ? BARE_METHOD : method,
    ),
    velocityMps: figure(
      velocity === null ? null : velocityJump(velocity, place),
      'm/s',
      VELOCITY_METHOD,
    ),
  };
}

/** Every hand-over and every jump found in the solution, in time order. */
export function solutionSteps(
  session: SessionMotion,
  overs: readonly HandOver[],
): readonly SolutionStep[] {
  const { motion, origin } = session;
  const isRangeOnly = motion.basis === 'range-only' || motion.basis === 'range-and-rate';
  const axes = isRangeOnly ? ['range'] : ['x', 'y', 'z'];
  return placesOf(overs, motion.steps.filter(isMovedStep)).map((place) => ({
    atS: figureOf(origin, {
      value: (place.beforeS + place.atS) / 2,
      unit: 's',
      random: (place.atS - place.beforeS) / 2,
      method: 'Between the last row before and the first row after.',
      fromS: place.beforeS,
      toS: place.atS,
    }),
    handOver:
      place.handOver === null
        ? null
        : {
            from: place.handOver.from,
            to: place.handOver.to,
            settlesS: place.handOver.settlesS,
          },
    axes: axes.map((axis) => axisJump(session, axis, place)),
    isMoved: place.isMoved,
  }));
}
