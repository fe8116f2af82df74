/** Composes core's stages into one Reconstruction. The only file that knows their order. */
import type { Figure } from '../figure';
import type { SessionInput } from '../session/session-input';
import type { DerivedColumns, Reconstruction } from './reconstruction';

/**
 * What the numerics cannot know by themselves.
 *
 * `engine` is the version of the numerics (a hash of the core's sources); `sha256` returns the
 * lower-case hexadecimal SHA-256 of a text's UTF-8 bytes.
 */
export type ReconstructOptions = Readonly<{
  engine: string;
  sha256: (text: string) => string;
}>;

export type ReconstructResult = Readonly<{
  reconstruction: Reconstruction;
  derived: DerivedColumns;
}>;

/**
 * Reconstructs an approach from what was recorded: pure, and the same bytes for the same input.
 *
 * @param input the session folder once it has been read; times on each source's own clock
 * @param options version of the numerics and the hash function
 * @returns the reconstruction and the estimated motion at each row, for traces
 */
export function reconstruct(input: SessionInput, options: ReconstructOptions): ReconstructResult {
  const duration: Figure = {
    value: null,
    unit: 's',
    uncertainty: null,
    method: 'Last row or event of all sources, on session time.',
    evidence: { sources: [], channels: [], fromS: null, toS: null },
    reason: 'not computed',
  };
  return {
    reconstruction: {
      format: 'wakeline/core-reconstruction/1',
      engine: options.engine,
      inputsSha256: options.sha256(input.title),
      session: {
        title: input.title,
        kind: input.kind,
        zeroUtc: input.zeroUtc,
        zeroTaiNs: input.zero.taiNs.toString(),
        durationS: duration,
      },
      evaluated: null,
      plan: input.plan,
      ruleSet: input.rules,
      sources: [],
      phases: [],
      steps: [],
      rules: [],
      exceedances: [],
      contact: null,
      callouts: [],
      events: [],
      dataQuality: [],
      notes: [
        { code: 'not-computed', severity: 'note', message: 'The motion is not computed yet.' },
      ],
    },
    derived: { tS: new Float64Array(0), columns: [] },
  };
}
