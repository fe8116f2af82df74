/** The text of a draft with what it was before, so that every change can be undone and done again. */

/** `group`: changes of one group in a row, such as the letters of one field, are undone at once. */
export type DraftHistory = Readonly<{
  text: string;
  past: readonly string[];
  future: readonly string[];
  group: string | null;
}>;

/** So many steps back are kept. */
const KEPT = 500;

export function startHistory(text: string): DraftHistory {
  return { text, past: [], future: [], group: null };
}

/** The text changed. What had been undone cannot be done again after it. */
export function changedTo(
  history: DraftHistory,
  text: string,
  group: string | null = null,
): DraftHistory {
  if (text === history.text) return history;
  const goesOn = group !== null && group === history.group && history.past.length > 0;
  const past = goesOn ? history.past : [...history.past, history.text].slice(-KEPT);
  return { text, past, future: [], group };
}

export function undone(history: DraftHistory): DraftHistory {
  const text = history.past.at(-1);
  if (text === undefined) return history;
  const future = [history.text, ...history.future];
  return { text, past: history.past.slice(0, -1), future, group: null };
}

export function doneAgain(history: DraftHistory): DraftHistory {
  const [text, ...future] = history.future;
  if (text === undefined) return history;
  return { text, past: [...history.past, history.text], future, group: null };
}
