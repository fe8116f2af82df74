/** The text of a session.yaml. */
import { stringify } from 'yaml';
import type { SessionData } from './session-schema';

/**
 * Writes session.yaml.
 *
 * @param data as the schema has it
 * @returns text that `readSessionFile` reads to the same data; a short map stands on one line
 */
export function writeSessionFile(data: SessionData): string {
  return stringify(data, { lineWidth: 100, defaultStringType: 'PLAIN' });
}
