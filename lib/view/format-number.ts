/** Sizes and counts with the word they count, for screens. */
import { formatCount, formatNumber } from '../core/units/number-text';

/** Bytes in decimal multiples: 640 B, 12.4 kB, 1.83 GB. */
export function formatBytes(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let value = bytes;
  let index = 0;
  while (value >= 999.5 && index < units.length - 1) {
    value /= 1000;
    index += 1;
  }
  const decimals = index === 0 || value >= 100 ? 0 : value >= 10 ? 1 : 2;
  return `${formatNumber(value, decimals)} ${units[index]}`;
}

/** `1 rule`, `3 rules`; the plural is the singular with s unless given. */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${formatCount(count)} ${count === 1 ? one : many}`;
}
