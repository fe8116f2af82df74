/** A text imported as the telemetry of a session, and read back. */
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { sourceOnDisk, ZERO } from './telemetry-spec';

export async function importText(content: string | Uint8Array, spec: TelemetrySpec, zero = ZERO) {
  const disk = sourceOnDisk(content);
  const outcome = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec,
    zero,
    samplesRoot: disk.samplesRoot,
  });
  const source =
    outcome.folder === null
      ? null
      : await readTelemetrySource(disk.samplesRoot, outcome.folder, spec);
  return { ...disk, ...outcome, source };
}
