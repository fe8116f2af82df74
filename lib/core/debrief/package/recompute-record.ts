/** The numbers of a record beside those that its data give again. */
import type { Figure } from '../../figure';
import { stretchFigures } from '../../findings/stretch-figures';
import type { ChannelSamples } from '../../findings/stretch-rows';
import { listFigures } from '../../reconstruction/list-figures';
import type { DerivedColumns, Reconstruction } from '../../reconstruction/reconstruction';
import { countedFigures } from '../counted-figures';
import { type PollPlace, pollFigures, pollsOfKeys, type StatedPoll } from '../poll-place';
import type { DebriefRecord } from '../record';
import type { FindingBlock, NumberRun, ResolvedBlock } from '../resolved';

/** `relative` is the difference over the larger of the two in size; 0 where both are the same. */
export type NumberDifference = Readonly<{
  key: string;
  recorded: number | null;
  computed: number | null;
  difference: number;
  relative: number;
  unit: string;
}>;

export type Recomputed = Readonly<{
  compared: number;
  /** The largest by `relative`; null where nothing was compared. */
  largest: NumberDifference | null;
  /** Beyond what arithmetic leaves, in the order of the record. */
  differing: readonly NumberDifference[];
  /** Keys that the data give no figure for, and numbers without a key. */
  notComputed: readonly string[];
}>;

/**
 * What is left where the same program computes the same inputs on another machine: a few steps of
 * the last place of functions such as `Math.hypot`, which ECMA-262 leaves to the engine. Our choice.
 */
const MOST_RELATIVE = 1e-9;

type Cited = Readonly<{ run: NumberRun; finding: FindingBlock | null }>;

function numbersIn(value: unknown, finding: FindingBlock | null): readonly Cited[] {
  if (Array.isArray(value)) return value.flatMap((each) => numbersIn(each, finding));
  if (typeof value !== 'object' || value === null) return [];
  if ('kind' in value && value.kind === 'figure') return [];
  if ('kind' in value && value.kind === 'number' && 'evidence' in value) {
    return [{ run: value as NumberRun, finding }];
  }
  const inside = 'kind' in value && value.kind === 'finding' ? (value as FindingBlock) : finding;
  return Object.values(value).flatMap((each) => numbersIn(each, inside));
}

/** Every number of a record's text, with the finding that it stands in. */
export function citedNumbers(blocks: readonly ResolvedBlock[]): readonly Cited[] {
  return numbersIn(blocks, null);
}

function difference(run: NumberRun, key: string, figure: Figure): NumberDifference {
  const [recorded, computed] = [run.value, figure.value];
  const base = { key, recorded, computed, unit: run.unit };
  if (recorded === null || computed === null) {
    const isSame = recorded === computed;
    return { ...base, difference: isSame ? 0 : Infinity, relative: isSame ? 0 : Infinity };
  }
  const off = Math.abs(recorded - computed);
  const size = Math.max(Math.abs(recorded), Math.abs(computed));
  return { ...base, difference: off, relative: off === 0 ? 0 : off / size };
}

export type AgainComputed = Readonly<{
  reconstruction: Reconstruction;
  derived: DerivedColumns;
  /** Channels on session time, for the figures of stretches that findings captured. */
  channels: readonly ChannelSamples[];
  /** What was known at the instants that the record names; absent where it names none. */
  polls?: readonly StatedPoll[];
}>;

/** Instants at which what was known has to be computed again for a record. */
export function polledInstants(
  { blocks }: DebriefRecord,
  reconstruction: Reconstruction,
): readonly PollPlace[] {
  return pollsOfKeys(
    citedNumbers(blocks).map(({ run }) => run.key ?? ''),
    reconstruction,
  );
}

/**
 * Holds each number of a record against the figure of its key.
 *
 * @param record as it was published
 * @param again what its data give now
 * @returns what agrees, what differs, what could not be computed
 *
 * Valid: numbers of figures (plots) are not compared; they are the estimated motion, decimated.
 */
export function recomputeRecord(record: DebriefRecord, again: AgainComputed): Recomputed {
  const { reconstruction } = again;
  const figures = new Map([
    ...listFigures(reconstruction),
    ...countedFigures(reconstruction),
    ...(again.polls ?? []).flatMap((poll) => pollFigures(poll, reconstruction)),
  ]);
  const stretches = new Map<FindingBlock, ReadonlyMap<string, Figure>>();
  const ofStretch = (finding: FindingBlock) => {
    const known = stretches.get(finding);
    if (known !== undefined) return known;
    const captured = stretchFigures({ ...again, fromS: finding.fromS, toS: finding.toS });
    const found = new Map(captured.map(({ key, figure }) => [key, figure]));
    stretches.set(finding, found);
    return found;
  };
  const all: NumberDifference[] = [];
  const notComputed: string[] = [];
  for (const { run, finding } of citedNumbers(record.blocks)) {
    const key = run.key ?? '';
    const figure = (finding === null ? undefined : ofStretch(finding).get(key)) ?? figures.get(key);
    if (figure === undefined) notComputed.push(key === '' ? `"${run.text}"` : key);
    else all.push(difference(run, key, figure));
  }
  const largest = all.reduce<NumberDifference | null>(
    (most, each) => (most === null || each.relative > most.relative ? each : most),
    null,
  );
  const differing = all.filter(({ relative }) => relative > MOST_RELATIVE);
  return { compared: all.length, largest, differing, notComputed };
}
