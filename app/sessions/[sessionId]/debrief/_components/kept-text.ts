/** Text that could not be saved yet, kept in this browser until it is. */
import type { DocNode } from '@/lib/core/debrief/document';

export type KeptText = Readonly<{ version: number; title: string; body: DocNode; atIso: string }>;

function keyOf(sessionId: string): string {
  return `wakeline.debrief.${sessionId}`;
}

/** A browser may refuse to keep anything: the text is then only on the page. */
function withStorage<T>(work: (storage: Storage) => T, otherwise: T): T {
  try {
    return work(window.localStorage);
  } catch {
    return otherwise;
  }
}

export function keepText(sessionId: string, kept: KeptText): boolean {
  return withStorage((storage) => {
    storage.setItem(keyOf(sessionId), JSON.stringify(kept));
    return true;
  }, false);
}

export function forgetText(sessionId: string): void {
  withStorage((storage) => storage.removeItem(keyOf(sessionId)), undefined);
}

function isKept(value: unknown): value is KeptText {
  if (typeof value !== 'object' || value === null) return false;
  return 'version' in value && 'title' in value && 'body' in value && 'atIso' in value;
}

export function keptText(sessionId: string): KeptText | null {
  return withStorage((storage) => {
    const text = storage.getItem(keyOf(sessionId));
    const value: unknown = text === null ? null : JSON.parse(text);
    return isKept(value) ? value : null;
  }, null);
}
