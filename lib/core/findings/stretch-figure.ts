/** How a figure of a stretch is made: from what, and with which evidence. */
import type { Evidence, Figure, Uncertainty } from '../figure';
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import { referenceWords } from '../reconstruction/source-reference';
import type { ChannelSamples } from './stretch-rows';

export type StretchInput = Readonly<{
  reconstruction: Reconstruction;
  /** All rows of the stretch; rows outside it are left out here. */
  derived: DerivedColumns;
  /** Channels beside the derived columns, where the session has them. */
  channels: readonly ChannelSamples[];
  fromS: number;
  toS: number;
}>;

/** What a figure of a stretch is made from; `reason` is said where it has no value. */
export type FigureParts = Readonly<{
  value: number | null;
  unit: string;
  uncertainty: Uncertainty | null;
  method: string;
  channels: readonly string[];
  reason?: string;
}>;

/** A figure under its key, before its evidence is put to it. */
export function captured(
  key: string,
  label: string,
  parts: FigureParts,
): Readonly<{ key: string; label: string; figure: FigureParts }> {
  return { key, label, figure: parts };
}

/** A figure of a stretch with its evidence: all telemetry, where it has any channel. */
export function figureOf(input: StretchInput, parts: FigureParts): Figure {
  return {
    value: parts.value,
    unit: parts.unit,
    uncertainty: parts.value === null ? null : parts.uncertainty,
    method: methodOf(input, parts),
    evidence: evidenceOf(
      input,
      parts.channels,
      parts.channels.length === 0
        ? []
        : input.reconstruction.sources
            .filter((each) => each.type === 'telemetry')
            .map((each) => each.file),
    ),
    ...(parts.value === null && parts.reason !== undefined ? { reason: parts.reason } : {}),
  };
}

/** The method with the points that lengths and speeds are of, where these are not the ports as given. */
function methodOf({ reconstruction }: StretchInput, { method, unit }: FigureParts): string {
  const solution = reconstruction.navigation?.sources.find(({ isSolution }) => isSolution);
  const words = referenceWords(solution?.reference);
  return words === null || (unit !== 'm' && unit !== 'm/s') ? method : `${method} ${words}`;
}

/** The evidence of a stretch: these channels of these files. */
export function evidenceOf(
  input: StretchInput,
  channels: readonly string[],
  files: readonly string[],
): Evidence {
  return {
    sources: input.reconstruction.sources
      .filter((each) => files.includes(each.file))
      .map(({ file, sha256 }) => ({ file, sha256 })),
    channels,
    fromS: input.fromS,
    toS: input.toS,
  };
}
