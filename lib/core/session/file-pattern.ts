/** Names of files in a session file that stand for several. */
import type { TelemetrySpec } from './session-file';

/** `*` stands for any characters of a name, `?` for one. */
export function isPattern(name: string): boolean {
  return /[*?]/.test(name);
}

/** Whether a person wrote the order of a source's files, or it is that of their names. */
export function orderGivenBy({ files }: Pick<TelemetrySpec, 'files'>): 'stated' | 'named' {
  return files.length > 1 && !files.some(isPattern) ? 'stated' : 'named';
}
