/** How the large file of the bench is read. */
import { channelSpec, telemetrySpec } from '../support/telemetry-spec';

export const LARGE_CHANNELS: readonly string[] = Array.from({ length: 23 }, (_, at) => `ch${at}`);

export const LARGE_SPEC = telemetrySpec({
  channels: LARGE_CHANNELS.map((name) => channelSpec(name)),
});
