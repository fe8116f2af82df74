/** What the stamps of a source mean, how long it was on its way and when it was there, in words. */
import type { Stamping } from '../core/session/stamping';
import { formatNumber } from '../core/units/number-text';

/** One phrase for any source: `stamped when received, 0.40 s on its way, known in real time`. */
export function stampingText({ stamp, latencyS, available }: Stamping): string {
  const parts = [
    stamp === null ? 'stamp not stated' : `stamped when ${stamp}`,
    ...(latencyS === null ? [] : [`${formatNumber(latencyS, 2)} s on its way until received`]),
    ...(available === null
      ? []
      : [available === 'real-time' ? 'known in real time' : 'known afterwards']),
  ];
  return parts.join(', ');
}
