/** Where the points of a picture come from, stated as for a number. */
import type { Evidence, EvidenceSource } from '../figure';
import { columnLabel } from './column-label';
import type { ResolveContext } from './resolve-context';

/** What a picture is drawn from. */
export type DrawnFrom = Readonly<{
  /** Names of the derived columns that are drawn. */
  columns: readonly string[];
  /** Equal parts of the stretch that keep their smallest and their largest value each. */
  parts: number;
  /** Session time, s. */
  fromS: number;
  toS: number;
  /** What else stands in the picture, a sentence each. */
  beside: readonly string[];
}>;

const distinct = <T>(values: readonly T[], keyOf: (value: T) => string): readonly T[] => [
  ...new Map(values.map((value) => [keyOf(value), value])).values(),
];

/** What the estimated motion rests on: that of the runs which it was parted into. */
function motionEvidence({ material }: ResolveContext): Omit<Evidence, 'fromS' | 'toS'> {
  const { phases, sources } = material.reconstruction;
  const of = phases.map(({ startS }) => startS.evidence);
  const telemetry = sources.filter(({ type }) => type === 'telemetry');
  const files: readonly EvidenceSource[] =
    of.length > 0
      ? of.flatMap((each) => each.sources)
      : telemetry.map(({ file, sha256 }) => ({ file, sha256 }));
  const people = [...new Set(of.flatMap((each) => each.people ?? []))];
  return {
    sources: distinct(files, ({ file, sha256 }) => JSON.stringify([file, sha256])),
    channels: [...new Set(of.flatMap(({ channels }) => channels))],
    ...(people.length === 0 ? {} : { people }),
  };
}

/**
 * Enters the evidence of a picture in the book.
 *
 * @param drawn what it shows and how it was thinned
 * @returns its place in the book, for the figure's `evidence`
 */
export function enterFigureEvidence(context: ResolveContext, drawn: DrawnFrom): number {
  const { columns, parts, fromS, toS, beside } = drawn;
  const method = [
    `Drawn from the estimated motion and what is formed of it, at the rows of the telemetry: ${columns.map(columnLabel).join(', ')}.`,
    `Of each of ${parts} equal parts of the stretch the rows with the smallest and the largest value are drawn; nothing is drawn across a gap.`,
    ...beside,
  ].join(' ');
  return context.book.enter({
    ...{ value: null, unit: '1', uncertainty: null, method },
    evidence: { ...motionEvidence(context), fromS, toS },
  });
}
