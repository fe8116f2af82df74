/** Version of the numerics, written beside the bundles when they are made. */
import { readFileSync } from 'node:fs';

export function engineVersion(): string {
  const text = readFileSync(new URL('./engine.json', import.meta.url), 'utf8');
  const { engine }: { engine?: unknown } = JSON.parse(text);
  return typeof engine === 'string' ? engine : 'unknown';
}
