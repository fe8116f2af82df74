/** Where the cursor stands. Kept outside the component tree: a move redraws one line, no strip. */
export type CursorStore = Readonly<{
  get: () => number;
  set: (tS: number) => void;
  subscribe: (listener: () => void) => () => void;
}>;

export function makeCursorStore(firstS: number): CursorStore {
  let tS = firstS;
  const listeners = new Set<() => void>();
  return {
    get: () => tS,
    set: (next) => {
      if (next === tS) return;
      tS = next;
      for (const listener of listeners) listener();
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
