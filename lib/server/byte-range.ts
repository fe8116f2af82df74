/**
 * Parts of a file, as a player asks for them.
 *
 * Source: RFC 9110 (HTTP Semantics), 13.1.5 (If-Range), 14.1.2 (byte ranges), 14.2 (Range), 15.5.17 (416).
 */

/** First and last byte, both included. */
export type BytePart = Readonly<{ from: number; to: number }>;

export type RangeAnswer = 'whole' | 'unsatisfiable' | BytePart;

type Asked = Readonly<{
  range: string | null;
  ifRange: string | null;
  /** Strong validator of the file, with its quotation marks. */
  etag: string;
  bytes: number;
}>;

/**
 * What to send of a file.
 *
 * A range of another unit, several ranges at once, and one that is none are answered with the whole, as a
 * server may; so is one whose `If-Range` names another file. A date in it never fits: none is sent.
 */
export function rangeAnswer({ range, ifRange, etag, bytes }: Asked): RangeAnswer {
  if (range === null || (ifRange !== null && ifRange.trim() !== etag)) return 'whole';
  const match = /^\s*bytes\s*=\s*(?:(\d+)-(\d*)|-(\d+))\s*$/i.exec(range);
  if (match === null) return 'whole';
  const [, first, last = '', suffix] = match;
  if (suffix !== undefined) {
    const count = Math.min(bytes, Number(suffix));
    return count === 0 ? 'unsatisfiable' : { from: bytes - count, to: bytes - 1 };
  }
  const from = Number(first);
  const to = last === '' ? bytes - 1 : Math.min(bytes - 1, Number(last));
  // One that ends before it starts is no range at all.
  if (last !== '' && Number(last) < from) return 'whole';
  return from >= bytes ? 'unsatisfiable' : { from, to };
}
