/** Telemetry specs for tests of the sample store, and folders to run them in. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { ChannelSpec, TelemetrySpec } from '@/lib/core/session/session-file';
import { parseInstant } from '@/lib/core/time/parse';

export function instantOf(text: string) {
  const instant = parseInstant(text, 'UTC');
  if (instant === null) throw new Error(`no instant: ${text}`);
  return instant;
}

export const ZERO = instantOf('2025-03-04T10:00:00Z');

export function channelSpec(column: string, change: Partial<ChannelSpec> = {}): ChannelSpec {
  return {
    column,
    as: column,
    unit: 'm',
    siUnit: 'm',
    toSi: 1,
    scale: 1,
    sign: 1,
    ...change,
  };
}

export function telemetrySpec(change: Partial<TelemetrySpec> = {}): TelemetrySpec {
  return {
    type: 'telemetry',
    file: 'telemetry.csv',
    files: ['telemetry.csv'],
    layout: 'wide',
    nameColumn: null,
    valueColumn: null,
    time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: ZERO },
    clock: { kind: 'given', offsetS: 0, driftPpm: 0 },
    channels: [channelSpec('a'), channelSpec('b')],
    missing: [],
    dialect: { separator: null, decimal: null, encoding: null },
    declared: {
      points: null,
      velocityFrame: null,
      leverArmM: null,
      stamp: null,
      latencyS: null,
      available: null,
      accuracy: null,
    },
    ...change,
  };
}

/** A temporary folder with one source file in it and a samples root beside it. */
export function sourceOnDisk(content: string | Uint8Array, name = 'telemetry.csv') {
  const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-samples-'));
  const file = path.join(folder, name);
  writeFileSync(file, content);
  return { folder, file, samplesRoot: path.join(folder, 'samples') };
}
