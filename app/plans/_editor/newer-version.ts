/** The version that somebody else saved meanwhile, as the server tells of it. */
export type NewerVersion = Readonly<{
  number: number;
  author: string;
  reason: string;
  atIso: string;
}>;

/** @returns null where what was told is no such version */
export function newerVersion(told: unknown): NewerVersion | null {
  if (typeof told !== 'object' || told === null) return null;
  const word = (name: string): string => {
    const value: unknown = Reflect.get(told, name);
    return typeof value === 'string' ? value : '';
  };
  const number: unknown = Reflect.get(told, 'number');
  if (typeof number !== 'number') return null;
  const author = word('author') === '' ? 'An import' : word('author');
  const reason = word('reason') === '' ? 'it came with a session folder' : word('reason');
  return { number, author, reason, atIso: word('atIso') };
}
