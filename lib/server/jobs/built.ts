/** What `lib/cli/build-entries.mjs` made: programs that run outside the web framework, and the engine. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { z } from 'zod';

export type BuiltEntry =
  | 'import-child'
  | 'reconstruct-child'
  | 'poll-child'
  | 'trial-child'
  | 'make-demo'
  | 'publish-child'
  | 'quick-look-child';

/** Path of a bundled entry; the server always runs in the project's folder. */
export function builtEntry(name: BuiltEntry): string {
  return path.join(process.cwd(), '.built', `${name}.mjs`);
}

/** Version of the numerics: a hash over the core's sources. */
export function currentEngine(): string {
  const text = readFileSync(path.join(process.cwd(), '.built', 'engine.json'), 'utf8');
  return z.object({ engine: z.string().min(1) }).parse(JSON.parse(text)).engine;
}
