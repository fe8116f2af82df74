/** What a row says now that somebody else has changed it, for the person whose words were refused. */

export type ConflictText = Readonly<{
  version: number;
  fields: readonly (readonly [name: string, text: string])[];
}>;

const SHOWN: readonly (readonly [key: string, name: string])[] = [
  ['title', 'title'],
  ['seen', 'what was seen'],
  ['change', 'what should change'],
  ['owner', 'owner'],
  ['due', 'due'],
  ['kind', 'kind'],
  ['severity', 'severity'],
  ['state', 'state'],
  ['text', 'words'],
];

/** @returns null when the refusal brought no newer row */
export function conflictText(newer: unknown): ConflictText | null {
  if (typeof newer !== 'object' || newer === null) return null;
  const version: unknown = Reflect.get(newer, 'version');
  if (typeof version !== 'number') return null;
  const fields = SHOWN.flatMap(([key, name]) => {
    const text: unknown = Reflect.get(newer, key);
    return typeof text === 'string' ? [[name, text] as const] : [];
  });
  return { version, fields };
}
