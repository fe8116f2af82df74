import { nameKey } from '../safe-path';

/**
 * `loop.wav`, `loop (2).wav` where that is taken: a name stands once in an exported folder, also on disks
 * that do not tell capitals apart.
 */
export function freeName(name: string, taken: ReadonlySet<string>): string {
  const keys = new Set([...taken].map(nameKey));
  if (!keys.has(nameKey(name))) return name;
  const dot = name.lastIndexOf('.') > 0 ? name.lastIndexOf('.') : name.length;
  for (let count = 2; ; count++) {
    const other = `${name.slice(0, dot)} (${count})${name.slice(dot)}`;
    if (!keys.has(nameKey(other))) return other;
  }
}
