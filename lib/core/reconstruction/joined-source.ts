/** Telemetry sources that show one motion one after another, as one. */
import { lowerBound } from '../math/search';
import { isMovedStep, type MotionEstimate } from '../motion/motion-estimate';
import type { StepPlace } from '../navigation/solution-step';
import { formatSigned } from '../units/number-text';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { DataFault } from './reconstruction';
import { referenceWords } from './source-reference';

/**
 * `source` holds the columns of the motion over all rows used; `parts` are the sources as they are, in the order
 * of their rows, and `joins` the places between the last row of one and the first used of the next.
 */
export type JoinedSource = Readonly<{
  source: CheckedSource;
  parts: readonly CheckedSource[];
  joins: readonly StepPlace[];
}>;

/** The source whose rows are used at an instant; before the first and after the last row the nearest. */
export function partAt(
  { parts, joins }: Pick<JoinedSource, 'parts' | 'joins'>,
  atS: number,
): CheckedSource | undefined {
  return parts[joins.filter((join) => join.atS <= atS).length];
}

/** A source that reaches no further than this beside another tells of no other time, s. */
export const BESIDE_S = 10;

/** Names of the quantities that motion is measured by. */
export const KINEMATIC = /^(range|range_rate|position\.[xyz]|velocity\.[xyz])$/;

/** The first column of each measured quantity of motion. */
function kinematic(source: CheckedSource): ReadonlyMap<string, CheckedChannel> {
  const columns = new Map<string, CheckedChannel>();
  for (const each of source.channels) {
    const { as } = each.channel;
    if (KINEMATIC.test(as) && !columns.has(as)) columns.set(as, each);
  }
  return columns;
}

/** True where nothing was brought or turned by attitudes, whose noise differs from row to row. */
function isAsMeasured({ reference }: CheckedSource): boolean {
  return (reference?.rateSdMps ?? 0) === 0 && (reference?.turnSdMps ?? null) === null;
}

const RATE = /^(range_rate|velocity\.[xyz])$/;

/** The columns of a motion without its rates. */
function withoutRates(source: CheckedSource): ReadonlyMap<string, CheckedChannel> {
  return new Map([...kinematic(source)].filter(([as]) => !RATE.test(as)));
}

type ColumnsOf = (source: CheckedSource) => ReadonlyMap<string, CheckedChannel>;

/** True where two sources measure the same of these quantities between the same points in the same axes. */
function isAlike(a: CheckedSource, b: CheckedSource, columnsOf: ColumnsOf): boolean {
  const [ofA, ofB] = [columnsOf(a), columnsOf(b)];
  if (ofA.size !== ofB.size || [...ofA.keys()].some((as) => !ofB.has(as))) return false;
  if (!isAsMeasured(a) || !isAsMeasured(b)) return false;
  return referenceWords(a.reference) === referenceWords(b.reference);
}

/** Rows `from` up to, not including, `to` of a source. */
type Piece = Readonly<{ part: CheckedSource; from: number; to: number }>;

const firstS = ({ part, from }: Piece): number => part.tS[from] ?? Number.NaN;
const lastS = ({ part, to }: Piece): number => part.tS[to - 1] ?? Number.NaN;

/** True where some row of a piece may be used of each of these quantities. */
function showsMotion({ part, from, to }: Piece, columnsOf: ColumnsOf): boolean {
  return [...columnsOf(part).values()].every(({ channel, rejected }) =>
    channel.values
      .subarray(from, to)
      .some((value, row) => !Number.isNaN(value) && (rejected?.[from + row] ?? 0) === 0),
  );
}

/** The rows of other sources before and after those of the first, each continuing what is there by more than `BESIDE_S`. */
function piecesAround(
  best: CheckedSource,
  others: readonly CheckedSource[],
  columnsOf: ColumnsOf,
): readonly Piece[] {
  const whole = (part: CheckedSource): Piece => ({ part, from: 0, to: part.tS.length });
  const pieces: Piece[] = [whole(best)];
  const byStart = others.map(whole).sort((a, b) => firstS(a) - firstS(b));
  for (const piece of byStart) {
    const endS = lastS(pieces.at(-1) ?? piece);
    if (!(lastS(piece) > endS + BESIDE_S)) continue;
    const after = { ...piece, from: lowerBound(piece.part.tS, endS + 1e-9) };
    if (showsMotion(after, columnsOf)) pieces.push(after);
  }
  const byEnd = others.map(whole).sort((a, b) => lastS(b) - lastS(a));
  for (const piece of byEnd) {
    const startS = firstS(pieces[0] ?? piece);
    if (!(firstS(piece) < startS - BESIDE_S)) continue;
    const before = { ...piece, to: lowerBound(piece.part.tS, startS) };
    if (showsMotion(before, columnsOf)) pieces.unshift(before);
  }
  return pieces;
}

function joinColumns(
  first: CheckedChannel,
  columns: readonly CheckedChannel[],
  pieces: readonly Piece[],
): CheckedChannel {
  const rows = pieces.reduce((sum, { from, to }) => sum + to - from, 0);
  const values = new Float64Array(rows);
  const rejected = columns.some((each) => each.rejected !== null) ? new Uint8Array(rows) : null;
  let at = 0;
  pieces.forEach(({ from, to }, index) => {
    const each = columns[index];
    if (each === undefined) return;
    values.set(each.channel.values.subarray(from, to), at);
    if (each.rejected !== null) rejected?.set(each.rejected.subarray(from, to), at);
    at += to - from;
  });
  return { ...first, channel: { ...first.channel, values }, rejected };
}

/** Measured rates are given up for positions that tell of at least this share of the time besides. Our own choice. */
const WORTH_RATES = 0.1;

const coveredS = (pieces: readonly Piece[]): number => {
  const [first, last] = [pieces[0], pieces.at(-1)];
  return first === undefined || last === undefined ? 0 : lastS(last) - firstS(first);
};

/** The pieces of those that measure the same, or of those that do but for rates where these tell of much more time. */
function chosenPieces(
  best: CheckedSource,
  sources: readonly CheckedSource[],
): Readonly<{ pieces: readonly Piece[]; columnsOf: ColumnsOf }> {
  const piecesBy = (columnsOf: ColumnsOf): readonly Piece[] => {
    const others = sources.filter(
      (each) => each !== best && each.tS.length > 1 && isAlike(best, each, columnsOf),
    );
    return piecesAround(best, others, columnsOf);
  };
  const same = { pieces: piecesBy(kinematic), columnsOf: kinematic };
  const places = { pieces: piecesBy(withoutRates), columnsOf: withoutRates };
  const moreS = coveredS(places.pieces) - coveredS(same.pieces);
  const hasRates = kinematic(best).size > withoutRates(best).size;
  const worthS = Math.max(BESIDE_S, hasRates ? WORTH_RATES * coveredS(places.pieces) : 0);
  return moreS > worthS ? places : same;
}

/**
 * Joins to a source those that go on with its motion before its first row or after its last: the same measured
 * quantities, between the same points, in the same axes. Rows of others beside its own are not used. Where only some measure
 * rates and the others tell of a tenth of the time or more besides, all are joined by their positions.
 *
 * @param best the source whose rows are all used
 * @param sources all telemetry on session time, brought to the ports
 * @returns the motion's columns over all rows used, under the names of the first source, with the longest step of all that is no
 *   gap; `best` itself where nothing goes on with it
 */
export function joinSources(best: CheckedSource, sources: readonly CheckedSource[]): JoinedSource {
  const { pieces, columnsOf } = chosenPieces(best, sources);
  if (pieces.length === 1) return { source: best, parts: [best], joins: [] };
  const tS = new Float64Array(pieces.reduce((sum, { from, to }) => sum + to - from, 0));
  const joins: StepPlace[] = [];
  let at = 0;
  for (const piece of pieces) {
    const rows = piece.part.tS.subarray(piece.from, piece.to);
    if (at > 0) joins.push({ beforeS: tS[at - 1] ?? Number.NaN, atS: firstS(piece) });
    tS.set(rows, at);
    at += rows.length;
  }
  const columns = pieces.map(({ part }) => columnsOf(part));
  const channels = [...columnsOf(best)].map(([as, first]) =>
    joinColumns(
      first,
      columns.flatMap((of) => of.get(as) ?? []),
      pieces,
    ),
  );
  const parts = pieces.map(({ part }) => part);
  const source = {
    ...best,
    tS,
    channels,
    stepS: Math.max(...parts.map(({ stepS }) => stepS)),
    longestStepS: Math.max(...parts.map(({ longestStepS }) => longestStepS)),
  };
  return { source, parts, joins };
}

/**
 * Faults in the rows that a motion is estimated from: of whole rows, and of its columns by the name that each of its
 * sources gives them.
 *
 * @param joined `source` is the one after which the columns are named
 * @param channels names of the motion's columns
 */
export function faultsOfMotion(
  { source, parts, joins }: JoinedSource,
  channels: readonly string[],
): readonly DataFault[] {
  const quantities = [...kinematic(source)].filter(([, { channel }]) =>
    channels.includes(channel.name),
  );
  return parts.flatMap((part, index) => {
    const columns = kinematic(part);
    const own = quantities.map(([as]) => columns.get(as)?.channel.name);
    const names = part === source ? channels : own;
    const fromS = joins[index - 1]?.atS ?? Number.NEGATIVE_INFINITY;
    const toS = joins[index]?.beforeS ?? Number.POSITIVE_INFINITY;
    return part.faults.filter(
      ({ channel, startS, endS }) =>
        (channel === null || names.includes(channel)) && startS <= toS && endS >= fromS,
    );
  });
}

/** Steps in the position that the velocity does not carry, as faults of the source the motion is from. */
export function stepFaults(
  session: (Pick<JoinedSource, 'parts' | 'joins'> & Readonly<{ motion: MotionEstimate }>) | null,
): readonly DataFault[] {
  if (session === null) return [];
  return session.motion.steps.filter(isMovedStep).map((step) => ({
    kind: 'step',
    source: partAt(session, step.afterS)?.source.file ?? '',
    channel: step.channel,
    startS: step.beforeS,
    endS: step.afterS,
    note: `jumps by ${formatSigned(step.sizeM, 2)} m without the velocity; samples before it are moved onto those after it`,
  }));
}
