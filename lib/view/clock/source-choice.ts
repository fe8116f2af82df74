/** Which source's clock is shown, and the way to the others. */
import type { SourceReport } from '../../core/reconstruction/source-report';

export type SourceLink = Readonly<{ file: string; href: string; isChosen: boolean; note: string }>;

/** @returns the source asked for; where none is, the one with the most evidence; null where there is none */
export function chosenSource(
  sources: readonly SourceReport[],
  asked: string | null,
): SourceReport | null {
  const named = sources.find(({ file }) => file === asked);
  if (named !== undefined) return named;
  const tieCount = ({ clock }: SourceReport) => clock.evidence?.ties.length ?? 0;
  const most = Math.max(0, ...sources.map(tieCount));
  return sources.find((source) => most > 0 && tieCount(source) === most) ?? null;
}

/** Every source of the session with what its clock rests on. */
export function sourceLinks(
  sources: readonly SourceReport[],
  sessionId: string,
  chosen: SourceReport | null,
): readonly SourceLink[] {
  return sources.map(({ file, clock }) => ({
    file,
    href: clockHref(sessionId, file),
    isChosen: file === chosen?.file,
    note: noteOf(clock),
  }));
}

function noteOf({ evidence, tiePointsUsed }: SourceReport['clock']): string {
  if (evidence === null) return 'as stated';
  return evidence.basis === 'given' ? 'stated, ranges beside it' : `${tiePointsUsed} tie points`;
}

export function clockHref(sessionId: string, file: string): string {
  return `/sessions/${encodeURIComponent(sessionId)}/sources/clock?file=${encodeURIComponent(file)}`;
}
