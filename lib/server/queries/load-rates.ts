/** How fast channels change at one instant, from all samples about it. */
import { rateAt, rateReachS } from '@/lib/core/series/rate-at';
import { loadChannels } from './load-channels';
import { loadStretchColumns } from './load-stretch';

/** `rate` in SI per second; null over a gap, a step, or with too few samples. */
export type ChannelRate = Readonly<{ key: string; unit: string; rate: number | null }>;

/** @returns null where there is no such session or it has no samples; columns it lacks are left out */
export async function loadRates(
  sessionId: string,
  { atS, keys }: Readonly<{ atS: number; keys: readonly string[] }>,
): Promise<readonly ChannelRate[] | null> {
  const channels = await loadChannels(sessionId);
  if (channels.length === 0) return null;
  const wanted = channels.filter((channel) => keys.includes(channel.key));
  const reachS = wanted.reduce((most, { stepS }) => Math.max(most, rateReachS(stepS)), 0);
  // A little more than the reach: own time and session time round apart.
  const stretch = { fromS: atS - 1.01 * reachS, toS: atS + 1.01 * reachS, keys };
  const read = await loadStretchColumns(sessionId, stretch);
  return read.flatMap(({ tS, columns }) =>
    columns.map(({ channel, values }) => {
      const rate = rateAt({ tS, values }, atS, channel.stepS);
      return {
        key: channel.key,
        unit: channel.unit,
        rate: Number.isFinite(rate) ? rate : null,
      };
    }),
  );
}
