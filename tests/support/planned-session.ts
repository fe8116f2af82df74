/** The arrival of `FLOWN_PLAN` flown as planned, with rules on it, for tests of the whole reconstruction. */
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import type { LogEntry, SessionInput, TelemetrySource } from '@/lib/core/session/session-input';
import { type FlownOptions, plannedArrival, TEST_ENGINE } from './flown-session';
import { RATE_RULE } from './rate-rule';

export const AS_PLANNED: FlownOptions = { axial: plannedArrival(), durationS: 2000 };

export function entry(sourceS: number, event: string | null): LogEntry {
  return { sourceS, sourceEndS: null, event, text: null, speaker: null, line: 1 };
}

export const NEAR_RULE = {
  ...RATE_RULE,
  within: { rangeM: [0, 200], axialM: null, step: null },
  persistsS: 2,
} satisfies Rule;

export const NEVER_RULE = {
  kind: 'never',
  id: 'never',
  statement: 'No command near the port.',
  event: 'crew-command',
  within: { rangeM: [0, 2], axialM: null, step: null },
  persistsS: 0,
} satisfies Rule;

export function run(input: SessionInput) {
  return reconstruct(input, TEST_ENGINE);
}

export function withTelemetry(
  input: SessionInput,
  change: (source: TelemetrySource) => TelemetrySource,
): SessionInput {
  const sources = input.sources.map((source) =>
    source.type === 'telemetry' ? change(source) : source,
  );
  return { ...input, sources };
}
