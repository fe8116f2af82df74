/** Where a finding is written from a screen: its stretch, and the numbers that go with it. */

/** `query` is the page's question about runs, as it stands in its address; empty for none. */
export type FindingPlace = Readonly<{
  sessionId: string;
  fromS: number;
  toS: number;
  channels: readonly string[];
  keys: readonly string[];
  query: string;
}>;

/** A finding on what was aligned; null where nothing was, so that there is no stretch. */
export function alignedFinding(
  { fromS, toS }: Readonly<{ fromS: number | null; toS: number | null }>,
  place: Omit<FindingPlace, 'fromS' | 'toS'>,
): FindingPlace | null {
  return fromS === null || toS === null ? null : { ...place, fromS, toS };
}

function textsOf(posted: unknown): readonly string[] {
  return Array.isArray(posted)
    ? posted.filter((each): each is string => typeof each === 'string').slice(0, 200)
    : [];
}

/** What was posted as a place; what no page of ours sends is taken for nothing, and is then refused. */
export function findingPlace(posted: FindingPlace): Omit<FindingPlace, 'sessionId'> {
  const { fromS, toS, channels, keys, query }: Partial<FindingPlace> = posted ?? {};
  const number = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN);
  return {
    fromS: number(fromS),
    toS: number(toS),
    channels: textsOf(channels),
    keys: textsOf(keys),
    query: typeof query === 'string' ? query : '',
  };
}
