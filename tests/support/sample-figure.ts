/** Figures of the invented sample session, and the files they name. */
import type { Figure } from '@/lib/core/figure';

export const SAMPLE_SESSION_ID = 'sample-session';
export const TELEMETRY = { file: 'telemetry.csv', sha256: 'a1'.repeat(32) };
export const EVENTS = { file: 'events.csv', sha256: 'b2'.repeat(32) };
export const VOICE = { file: 'loop.vtt', sha256: 'c3'.repeat(32) };
export const DEG = Math.PI / 180;

/** Everything about a sample figure but its value, unit and half-width. */
type FigureMore = Partial<Pick<Figure, 'method' | 'reason'>> &
  Readonly<{ from?: number; to?: number; systematic?: number; channels?: readonly string[] }>;

/** A figure for a test: `random` is the half-width of the 95 % interval, null = not known. */
export function sampleFigure(
  value: number | null,
  unit: string,
  random: number | null = null,
  more: FigureMore = {},
): Figure {
  return {
    value,
    unit,
    uncertainty:
      random === null && more.systematic === undefined
        ? null
        : { random, systematic: more.systematic ?? null },
    method: more.method ?? 'Local quadratic fit over 2 s.',
    evidence: {
      sources: [TELEMETRY],
      channels: more.channels ?? ['x', 'y', 'z'],
      fromS: more.from ?? null,
      toS: more.to ?? null,
    },
    ...(more.reason === undefined ? {} : { reason: more.reason }),
  };
}
