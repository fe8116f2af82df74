/** A number somebody can check: value, unit, uncertainty, method, evidence. */

/** One source file that a figure was computed from. */
export type EvidenceSource = Readonly<{ file: string; sha256: string }>;

/**
 * Where a figure comes from: enough to compute it again from the original files.
 *
 * `fromS` and `toS` are session time, elapsed SI seconds from the session's zero; `null` where the
 * figure has no stretch (a count, a planned value). `people`: what people set that it rests on, a
 * sentence each; absent where all of it was computed.
 */
export type Evidence = Readonly<{
  sources: readonly EvidenceSource[];
  channels: readonly string[];
  fromS: number | null;
  toS: number | null;
  /** Which of a source's simulator runs count, in words; absent where no run is behind the figure. */
  runs?: string;
  people?: readonly string[];
}>;

/**
 * Half-widths of the 95 % interval, in the figure's unit.
 *
 * `random` shrinks with more samples; `systematic` is what the source states about its accuracy
 * and never comes from scatter. `null` means not known, which is not the same as zero.
 */
export type Uncertainty = Readonly<{ random: number | null; systematic: number | null }>;

/**
 * A number with unit, uncertainty, method and evidence. Every computed number on a screen, in the
 * API, in a finding and in a debrief is one.
 *
 * `value` is in `unit` (SI and radians inside the core); `null` means it could not be computed and
 * `reason` says why in words. `method` is one sentence naming the estimator and its variant.
 */
export type Figure = Readonly<{
  value: number | null;
  unit: string;
  uncertainty: Uncertainty | null;
  method: string;
  evidence: Evidence;
  reason?: string;
}>;

/**
 * Half-width of the 95 % interval with both parts, added in quadrature.
 *
 * @returns the half-width in the figure's unit; `null` when no part is known
 */
export function halfWidth95(figure: Figure): number | null {
  const parts = [figure.uncertainty?.random, figure.uncertainty?.systematic].filter(
    (part): part is number => typeof part === 'number',
  );
  return parts.length === 0 ? null : Math.hypot(...parts);
}
