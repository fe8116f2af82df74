/** The quantities that rules name: derived from the motion, or a channel estimated by itself. */
import type { MotionColumn } from '../motion/motion-estimate';
import type { EstimatedQuantity, QuantityFault } from '../rules/rule-context';
import { takeSamples } from '../series/samples';
import { smoothValues } from '../series/smooth';
import { statedAccuracy } from './accuracy';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { faultsOfMotion, stepFaults } from './joined-source';
import { FAULT_WORDS } from './kind-words';
import type { DataFault, FaultKind } from './reconstruction';
import { broughtRateSd } from './source-reference';

const HALF_SPAN_S = 1;
const JUMP_THRESHOLD = 6.5;

type DerivedQuantity = Readonly<{
  value: MotionColumn;
  sd: MotionColumn;
  unit: string;
  stated: 'rangeM' | 'rateMps' | 'lateralM';
}>;

const DERIVED: ReadonlyMap<string, DerivedQuantity> = new Map<string, DerivedQuantity>(
  Object.entries({
    range: { value: 'rangeM', sd: 'rangeSdM', unit: 'm', stated: 'rangeM' },
    closing_rate: { value: 'closingMps', sd: 'closingSdMps', unit: 'm/s', stated: 'rateMps' },
    axial_distance: { value: 'axialM', sd: 'axialSdM', unit: 'm', stated: 'rangeM' },
    axial_closing_rate: {
      value: 'axialClosingMps',
      sd: 'axialClosingSdMps',
      unit: 'm/s',
      stated: 'rateMps',
    },
    lateral_offset: { value: 'lateralM', sd: 'lateralSdM', unit: 'm', stated: 'lateralM' },
  }),
);

/** Faults that change what is known of a quantity; held values and stamps left out change nothing. */
const TELLING: readonly FaultKind[] = [
  'gap',
  'frozen',
  'saturated',
  'spike',
  'step',
  'left_out',
  'rate_disagrees',
];

function tellingFaults(faults: readonly DataFault[]): readonly QuantityFault[] {
  return faults
    .filter(({ kind }) => TELLING.includes(kind))
    .map(({ kind, channel, startS, endS }) => ({
      what: FAULT_WORDS[kind],
      channel,
      startS,
      endS,
    }));
}

function feeds(channels: readonly string[], channel: string | null): boolean {
  return channel === null || channels.includes(channel);
}

function fromMotion(session: SessionMotion, derived: DerivedQuantity): EstimatedQuantity | null {
  const { motion } = session;
  const value = motion[derived.value];
  if (value.every((one) => Number.isNaN(one))) return null;
  return {
    tS: motion.tS,
    value,
    sd: motion[derived.sd],
    noise: 'estimated',
    unit: derived.unit,
    stretches: motion.stretches,
    spanS: derived.unit === 'm/s' ? motion.rateSpanS : motion.positionSpanS,
    ...(derived.unit === 'm/s' ? { partingPerS: motion.ratePartingPerS } : {}),
    ...(derived.unit === 'm/s' && motion.rateLinesS !== null ? { linesS: motion.rateLinesS } : {}),
    ...(derived.unit === 'm/s' && motion.unseenMps !== null ? { unseen: motion.unseenMps } : {}),
    ...(derived.unit === 'm/s' && motion.unseenJumpMps !== null
      ? { unseenJump: motion.unseenJumpMps }
      : {}),
    ...(derived.unit === 'm/s' && motion.unseenMps2 !== null
      ? { unseenPerS: motion.unseenMps2 }
      : {}),
    ...(derived.unit === 'm/s' && motion.rateCourses.length > 0
      ? { courses: motion.rateCourses }
      : {}),
    systematic: session.stated[derived.stated],
    channels: motion.channels,
    faults: tellingFaults([
      ...faultsOfMotion(session, motion.channels),
      ...stepFaults(session).filter(({ channel }) => feeds(motion.channels, channel)),
    ]),
    method: derived.unit === 'm/s' ? motion.rateMethod : motion.positionMethod,
  };
}

function stretchesOf(source: CheckedSource): EstimatedQuantity['stretches'] {
  const stretches: { from: number; to: number }[] = [];
  let from = 0;
  for (const gap of source.gaps) {
    stretches.push({ from, to: gap.to });
    from = gap.to;
  }
  stretches.push({ from, to: source.tS.length });
  return stretches;
}

function fromChannel(source: CheckedSource, checked: CheckedChannel): EstimatedQuantity {
  const { channel, rejected, rhythm } = checked;
  const common = {
    tS: source.tS,
    unit: channel.unit,
    stretches: stretchesOf(source),
    systematic: statedAccuracy(source.source.declared, [channel.as]),
    channels: [channel.name],
    faults: tellingFaults(source.faults.filter((fault) => feeds([channel.name], fault.channel))),
  };
  if (rhythm.kind === 'now-and-then') {
    return {
      ...common,
      value: channel.values,
      sd: new Float64Array(source.tS.length),
      noise: 'unknown',
      spanS: source.stepS,
      method: 'Values as recorded, straight lines between rows.',
    };
  }
  const samples = takeSamples(source.tS, channel.values, rejected);
  const smoothed = smoothValues(samples, source.tS, {
    halfSpanS: HALF_SPAN_S,
    gapS: Math.max(source.longestStepS, 5 * samples.stepS * 1.001),
    jumpThreshold: JUMP_THRESHOLD,
  });
  const [stem, axis = ''] = channel.as.split('.');
  const turned = stem === 'velocity' ? broughtRateSd(source.reference, axis) : null;
  return {
    ...common,
    value: smoothed.value,
    sd: turned === null ? smoothed.sd : smoothed.sd.map((sd, row) => Math.hypot(sd, turned(row))),
    noise: 'estimated',
    spanS: Math.max(2 * HALF_SPAN_S, samples.stepS),
    linesS: 2 * HALF_SPAN_S,
    method: 'Straight lines over 2 s that do not run across a jump or a gap.',
  };
}

/**
 * Looks a rule's quantity up.
 *
 * @returns the quantity over time; `null` where no channel carries it
 */
export function quantityByName(
  name: string,
  session: SessionMotion | null,
  sources: readonly CheckedSource[],
): EstimatedQuantity | null {
  const derived = DERIVED.get(name);
  if (derived !== undefined) return session === null ? null : fromMotion(session, derived);
  for (const source of sources) {
    const checked = source.channels.find(({ channel }) => channel.as === name);
    if (checked !== undefined) return fromChannel(source, checked);
  }
  return null;
}
