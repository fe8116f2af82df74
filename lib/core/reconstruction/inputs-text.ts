/** A canonical description of everything a reconstruction is computed from. */
import type { SessionInput } from '../session/session-input';
import { BUILT_IN_LEAP_TABLE, leapTable } from '../time/leap-table';

/**
 * The inputs as one text, the same for the same inputs: files by name and hash, how each is read,
 * the plan, the rules, the session's zero. Samples are not repeated, their files' hashes stand for
 * them.
 *
 * @returns JSON with keys in a fixed order
 */
export function inputsText(input: SessionInput, engine: string): string {
  const table = leapTable().id;
  return JSON.stringify({
    engine,
    ...(table === BUILT_IN_LEAP_TABLE.id ? {} : { leapTable: table }),
    title: input.title,
    kind: input.kind,
    zeroTaiNs: input.zero.taiNs.toString(),
    plan: input.plan,
    planSha256: input.planSha256,
    rules: input.rules,
    rulesSha256: input.rulesSha256,
    ...(input.clockCorrections === undefined ? {} : { clockCorrections: input.clockCorrections }),
    ...(input.stretchCorrections === undefined
      ? {}
      : { stretchCorrections: input.stretchCorrections }),
    sources: input.sources.map((source) => ({
      file: source.file,
      sha256: source.sha256,
      type: source.type,
      clock: source.clock,
      ...(source.type === 'telemetry'
        ? {
            rows: source.tS.length,
            channels: source.channels.map(({ name, as, unit }) => ({ name, as, unit })),
            declared: source.declared,
          }
        : { entries: source.entries.length }),
    })),
  });
}
