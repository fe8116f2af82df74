/** A draft that was not saved yet, kept in this browser until it is. */
export type KeptDraft = Readonly<{ text: string; baseNumber: number; atIso: string }>;

/** A browser may refuse to keep anything: the draft is then only on the page. */
function withStorage<T>(work: (storage: Storage) => T, otherwise: T): T {
  try {
    return work(window.localStorage);
  } catch {
    return otherwise;
  }
}

export function keepDraft(key: string, kept: KeptDraft): boolean {
  return withStorage((storage) => {
    storage.setItem(key, JSON.stringify(kept));
    return true;
  }, false);
}

export function forgetDraft(key: string): void {
  withStorage((storage) => storage.removeItem(key), undefined);
}

function isKept(value: unknown): value is KeptDraft {
  if (typeof value !== 'object' || value === null) return false;
  if (!('text' in value && 'baseNumber' in value && 'atIso' in value)) return false;
  return typeof value.text === 'string' && typeof value.baseNumber === 'number';
}

export function keptDraft(key: string): KeptDraft | null {
  return withStorage((storage) => {
    const text = storage.getItem(key);
    const value: unknown = text === null ? null : JSON.parse(text);
    return isKept(value) ? value : null;
  }, null);
}
