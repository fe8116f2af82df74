/** What an axis of the final step is against the runs, in words. */
import type { AxisRatio } from './comparison';

export function axisWords({ verdict, ratio }: AxisRatio): string {
  const than = (ratio.value ?? 1) > 1 ? 'looser' : 'tighter';
  if (verdict === 'loose' || verdict === 'tight') return `${than} than any run, by far`;
  if (verdict === 'beyond') return `${than} than any run, not far`;
  return verdict === 'usual' ? 'not unusual' : 'not known';
}
