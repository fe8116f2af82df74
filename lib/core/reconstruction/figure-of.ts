/** Numbers made into figures, with where they come from. */
import type { Evidence, EvidenceSource, Figure } from '../figure';

/** What all figures of one subject share. */
export type Origin = Readonly<{
  sources: readonly EvidenceSource[];
  channels: readonly string[];
  /** Which simulator runs, in words; absent where none is behind it. */
  runs?: string;
  /** What people set that all of them rest on; absent where nothing was. */
  people?: readonly string[];
  /** A sentence on which points the figures are of; absent where they are of the ports as given. */
  of?: string;
}>;

/** The origin of figures that also rest on what people set. */
export function withPeople(origin: Origin, people: readonly string[]): Origin {
  if (people.length === 0) return origin;
  return { ...origin, people: [...new Set([...(origin.people ?? []), ...people])] };
}

export type FigureParts = Readonly<{
  value: number | null;
  unit: string;
  /** 95 % half-width of the random part; `null` = not known. */
  random: number | null;
  /** Stated systematic half-width; `null` = not stated. */
  systematic?: number | null;
  method: string;
  fromS?: number | null;
  toS?: number | null;
  /** Why there is no value, or what to know about it. */
  reason?: string;
}>;

function finite(value: number | null | undefined): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

/** The method with the points it is of, unless it says them already. */
function methodOf({ of }: Origin, method: string): string {
  return of === undefined || method.includes(of) ? method : `${method} ${of}`;
}

/**
 * A figure of a subject.
 *
 * A value that is not finite becomes `null` with a reason; so does a half-width that is not finite.
 */
export function figureOf(origin: Origin, parts: FigureParts): Figure {
  const value = finite(parts.value);
  const evidence: Evidence = {
    sources: origin.sources,
    channels: origin.channels,
    fromS: finite(parts.fromS),
    toS: finite(parts.toS),
    ...(origin.runs === undefined ? {} : { runs: origin.runs }),
    ...(origin.people === undefined ? {} : { people: origin.people }),
  };
  const random = finite(parts.random);
  const systematic = finite(parts.systematic);
  const reason = parts.reason ?? (value === null ? 'The data do not give it.' : undefined);
  return {
    value,
    unit: parts.unit,
    uncertainty: random === null && systematic === null ? null : { random, systematic },
    method: methodOf(origin, parts.method),
    evidence,
    ...(reason === undefined ? {} : { reason }),
  };
}
