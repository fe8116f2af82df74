/** Faults in the telemetry, and which cells the estimates must not use. */
import { isAtRest, isFlownSo, type RestDigits, restDigits } from '../series/at-rest';
import { isCarried } from '../series/carried-excursion';
import { findFrozen, findGaps, findSpikes, type RowStretch } from '../series/faults';
import { channelRhythm, markRepeats, type Rhythm } from '../series/rhythm';
import { findSaturated } from '../series/saturation';
import type { Channel, TelemetrySource } from '../session/session-input';
import { linePlace } from '../session/stamp-fault';
import { type StretchCorrection, stretchWords } from '../session/stretch-correction';
import { rateFaults } from './rate-faults';
import type { DataFault } from './reconstruction';
import type { SourceReference } from './source-reference';

/** A channel with the rows of it not to use (spikes, frozen stretches, repeats of a held value). */
export type CheckedChannel = Readonly<{
  channel: Channel;
  rhythm: Rhythm;
  rejected: Uint8Array | null;
}>;

/** A telemetry source on session time, checked. */
export type CheckedSource = Readonly<{
  source: TelemetrySource;
  /** Session time of the rows, s. */
  tS: Float64Array;
  stepS: number;
  longestStepS: number;
  gaps: readonly RowStretch[];
  channels: readonly CheckedChannel[];
  faults: readonly DataFault[];
  /** What position and velocity are of; absent before they are brought to the ports. */
  reference?: SourceReference;
}>;

type Mark = { rejected: Uint8Array | null };

/** The judgement that a fault lies in; the later of several. */
function judgementOf(
  corrections: readonly StretchCorrection[],
  fault: Readonly<{ startS: number; endS: number }>,
): StretchCorrection | null {
  const inside = ({ fromS, toS }: StretchCorrection): boolean =>
    fault.startS >= fromS && fault.endS <= toS;
  return corrections.findLast(inside) ?? null;
}

const covers = ({ fromS, toS }: StretchCorrection, atS: number): boolean =>
  atS >= fromS && atS <= toS;

/** Samples that a person left out and nobody kept later; each such stretch is a fault of its own. */
function leaveOut(
  tS: Float64Array,
  corrections: readonly StretchCorrection[],
  mark: Mark,
): readonly DataFault[] {
  return corrections.flatMap((correction, index): DataFault[] => {
    if (correction.use !== 'leave-out') return [];
    const { source, channel, fromS, toS } = correction;
    const keptLater = corrections.slice(index + 1).filter(({ use }) => use === 'keep');
    let isFound = false;
    tS.forEach((atS, row) => {
      if (!covers(correction, atS) || keptLater.some((kept) => covers(kept, atS))) return;
      isFound = true;
      markRows(mark, tS.length, row, row);
    });
    const note = stretchWords(correction);
    return isFound ? [{ kind: 'left_out', source, channel, startS: fromS, endS: toS, note }] : [];
  });
}

function markRows(mark: Mark, rows: number, from: number, to: number): void {
  mark.rejected ??= new Uint8Array(rows);
  mark.rejected.fill(1, from, to + 1);
}

function isCommand({ as }: Channel): boolean {
  return as.startsWith('hand_controller.') || as.startsWith('jet_on_time.');
}

/** True for what rests by its nature, however often rows catch it changing: commands, and propellant that is counted. */
function isCount(channel: Channel): boolean {
  if (isCommand(channel)) return true;
  if (channel.as !== 'propellant_mass') return false;
  let last = Number.POSITIVE_INFINITY;
  return channel.values.every((value) => {
    if (Number.isNaN(value)) return true;
    const falls = value <= last;
    last = value;
    return falls;
  });
}

type ChannelRows = Readonly<{
  tS: Float64Array;
  stepS: number;
  longestStepS: number;
  source: string;
  /** What people said about stretches of this channel. */
  corrections: readonly StretchCorrection[];
  /** Of a rate: the position beside it, m; `null` for none. */
  position: Float64Array | null;
  /** Of a position: the rate beside it, m/s; `null` for none. */
  rate: Float64Array | null;
}>;

/** The position that a rate is the rate of, and the rate of a position, sign and axes being the same; `null` for none. */
function columnsBeside(channel: Channel, { channels }: TelemetrySource) {
  const { as } = channel;
  const valuesOf = (of: string): Float64Array | null =>
    of === as ? null : (channels.find((each) => each.as === of)?.values ?? null);
  return {
    position: valuesOf(as === 'range_rate' ? 'range' : as.replace('velocity.', 'position.')),
    rate: valuesOf(as === 'range' ? 'range_rate' : as.replace('position.', 'velocity.')),
  };
}

function checkChannel(
  channel: Channel,
  { tS, stepS, longestStepS, source, corrections, position, rate }: ChannelRows,
): { checked: CheckedChannel; faults: DataFault[] } {
  const seen = channelRhythm(tS, channel.values, stepS);
  const rhythm = isCount(channel) ? { ...seen, kind: 'now-and-then' as const } : seen;
  const faults: DataFault[] = [];
  const mark: Mark = { rejected: null };
  const at = (row: number): number => tS[row] ?? Number.NaN;
  const fault = (kind: DataFault['kind'], stretch: RowStretch, note: string): DataFault => ({
    kind,
    source,
    channel: channel.name,
    startS: at(stretch.from),
    endS: at(stretch.to),
    note,
  });
  /** Lists a fault; its rows are not used unless a person keeps them. */
  const settle = (found: DataFault, rows: RowStretch): void => {
    const judgement = judgementOf(corrections, found);
    const isKept = judgement?.use === 'keep';
    const outcome = isKept ? stretchWords(judgement) : 'not used';
    faults.push({ ...found, note: `${found.note}; ${outcome}` });
    if (!isKept) markRows(mark, tS.length, rows.from, rows.to);
  };
  if (rhythm.kind === 'held') {
    mark.rejected = new Uint8Array(tS.length);
    markRepeats({ tS, values: channel.values }, rhythm.periodS, mark.rejected);
    const all = { from: 0, to: tS.length - 1 };
    const note = `renewed every ${rhythm.periodS.toFixed(2)} s and repeated between; repeats are not used as samples`;
    faults.push(fault('held', all, note));
  }
  // A controller at its stop and jets that rest are where they should be.
  const column = { tS, values: channel.values };
  const heldS = rhythm.kind === 'held' ? rhythm.periodS : 0;
  const resting = { ...column, rate, position, longestStepS, heldS };
  let known: RestDigits | null = null;
  const digits = (): RestDigits => {
    known ??= restDigits(resting);
    return known;
  };
  const pinnedRows = isCommand(channel) ? [] : findSaturated(column, rhythm, longestStepS);
  const saturated = pinnedRows.filter((pinned) => !isFlownSo(resting, pinned, digits()));
  for (const pinned of saturated) {
    const lastedS = at(pinned.to) - at(pinned.from);
    const note = `stands at the end of its range for ${lastedS.toFixed(1)} s while it moves before and after`;
    settle(fault('saturated', pinned, note), pinned);
  }
  for (const frozen of findFrozen(tS, channel.values, rhythm, longestStepS)) {
    if (saturated.some(({ from, to }) => from === frozen.from && to === frozen.to)) continue;
    if (isAtRest(resting, frozen, digits())) continue;
    const lastedS = at(frozen.to) - at(frozen.from);
    const found = fault('frozen', frozen, `repeats to the digit for ${lastedS.toFixed(1)} s`);
    // The first row of the repeated value was a measurement; the rest repeat it.
    settle(found, { from: frozen.from + 1, to: frozen.to });
  }
  if (rhythm.kind === 'each-row') {
    for (const spike of findSpikes(tS, channel.values, stepS)) {
      const frozen = mark.rejected !== null && mark.rejected[spike.from] === 1;
      if (frozen) continue;
      const beside = { tS, rate: channel.values, longestStepS };
      if (position !== null && isCarried({ ...beside, position }, spike)) continue;
      const rows = spike.to - spike.from + 1;
      const seen =
        rows === 1 ? 'row leaves the signal and returns' : 'rows leave the signal and return';
      settle(fault('spike', spike, `${rows} ${seen}`), spike);
    }
  }
  faults.push(...leaveOut(tS, corrections, mark));
  return { checked: { channel, rhythm, rejected: mark.rejected }, faults };
}

/** How a source lies on session time, and what people said about stretches of it. */
export type SourceRows = Readonly<{
  /** Rows on session time, s, strictly ascending. */
  tS: Float64Array;
  /** The source's own time to session time, for faults found while reading. */
  toSession: (sourceS: number) => number;
  corrections: readonly StretchCorrection[];
}>;

/** The line after a gap, where reading named it. */
function jumpWords({ stampFaults, tS }: TelemetrySource, { from, to }: RowStretch): string {
  const jump = stampFaults.find(
    ({ kind, startS, endS }) => kind === 'jump' && startS === tS[from] && endS === tS[to],
  );
  return jump === undefined ? '' : ` before ${linePlace(jump)}`;
}

/**
 * Looks a telemetry source over.
 *
 * @param source the source as read
 * @returns faults by column name as written (`null` = the whole source), in time order, and for each
 *   channel the rows not to use
 */
export function checkSource(
  source: TelemetrySource,
  { tS, toSession, corrections }: SourceRows,
): CheckedSource {
  const { stepS, longestStepS, gaps } = findGaps(tS);
  const faults: DataFault[] = gaps.map((gap): DataFault => {
    const startS = tS[gap.from] ?? Number.NaN;
    const endS = tS[gap.to] ?? Number.NaN;
    return {
      kind: 'gap',
      source: source.file,
      channel: null,
      startS,
      endS,
      note: `no row for ${(endS - startS).toFixed(1)} s${jumpWords(source, gap)}; nothing is evaluated inside`,
    };
  });
  for (const stamp of source.stampFaults) {
    if (stamp.kind === 'jump') continue;
    faults.push({
      kind: stamp.kind,
      source: source.file,
      channel: null,
      startS: toSession(stamp.startS),
      endS: toSession(stamp.endS),
      note:
        stamp.kind === 'duplicate'
          ? `${linePlace(stamp)} repeats a stamp; the row is left out`
          : `${linePlace(stamp)} has a stamp before the one above it; the row is left out`,
    });
  }
  const channels = source.channels.map((channel) => {
    const own = corrections.filter((one) => one.channel === channel.name);
    const beside = columnsBeside(channel, source);
    const rows = { tS, stepS, longestStepS, source: source.file, corrections: own, ...beside };
    const result = checkChannel(channel, rows);
    faults.push(...result.faults);
    return result.checked;
  });
  faults.push(...rateFaults(source, tS, longestStepS));
  faults.sort((a, b) => a.startS - b.startS || a.endS - b.endS);
  return { source, tS, stepS, longestStepS, gaps, channels, faults };
}
