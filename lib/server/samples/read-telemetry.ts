import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { TelemetrySource } from '@/lib/core/session/session-input';

export async function readTelemetrySource(
  _samplesRoot: string,
  _folder: string,
  _spec: TelemetrySpec,
): Promise<TelemetrySource> {
  throw new Error('readTelemetrySource is not written yet');
}
