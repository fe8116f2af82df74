/** Rates at the cursor by column; none while the cursor moves. Kept outside the component tree, as the cursor. */
export type RatesStore = Readonly<{
  get: (key: string) => string;
  subscribe: (listener: () => void) => () => void;
}>;

/** @returns the store and what fills it; a column it has nothing of reads as an empty text */
export function makeRatesStore(): RatesStore &
  Readonly<{ set: (rates: ReadonlyMap<string, string>) => void }> {
  let rates: ReadonlyMap<string, string> = new Map();
  const listeners = new Set<() => void>();
  return {
    get: (key) => rates.get(key) ?? '',
    set: (next) => {
      if (next.size === 0 && rates.size === 0) return;
      rates = next;
      for (const listener of listeners) listener();
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
