/**
 * The least and the greatest value of channels in each pixel of a window, as bytes: a length, a
 * description in JSON, then columns of little-endian doubles. NaN where a channel has no sample.
 */

export type EnvelopeColumn = Readonly<{
  key: string;
  /** SI. */
  unit: string;
  /** Usual time between two samples; null where not known. Longer than five of them is a gap. */
  stepS: number | null;
  minimum: Float64Array;
  maximum: Float64Array;
}>;

/** Channels that share their rows. `tS` is session time of each pixel, ascending. */
export type EnvelopeGroup = Readonly<{ tS: Float64Array; columns: readonly EnvelopeColumn[] }>;

/** An answer for one window. `missing` are channels that the store does not hold. */
export type EnvelopeAnswer = Readonly<{
  fromS: number;
  toS: number;
  pixels: number;
  /** False where a level of detail was read: a pixel may hold a sample of its neighbour. */
  exact: boolean;
  groups: readonly EnvelopeGroup[];
  missing: readonly string[];
}>;

type Head = Readonly<{
  format: 'wakeline/envelope/1';
  fromS: number;
  toS: number;
  pixels: number;
  exact: boolean;
  missing: readonly string[];
  groups: readonly Readonly<{
    count: number;
    columns: readonly Readonly<{ key: string; unit: string; stepS: number | null }>[];
  }>[];
}>;

const DOUBLE = 8;

export function encodeEnvelope(answer: EnvelopeAnswer): ArrayBuffer {
  const head: Head = {
    format: 'wakeline/envelope/1',
    fromS: answer.fromS,
    toS: answer.toS,
    pixels: answer.pixels,
    exact: answer.exact,
    missing: answer.missing,
    groups: answer.groups.map((group) => ({
      count: group.tS.length,
      columns: group.columns.map(({ key, unit, stepS }) => ({ key, unit, stepS })),
    })),
  };
  const text = new TextEncoder().encode(JSON.stringify(head));
  const start = dataStart(text.length);
  const arrays = answer.groups.flatMap((group) => [
    group.tS,
    ...group.columns.flatMap((column) => [column.minimum, column.maximum]),
  ]);
  const doubles = arrays.reduce((sum, array) => sum + array.length, 0);
  const bytes = new ArrayBuffer(start + doubles * DOUBLE);
  new DataView(bytes).setUint32(0, text.length, true);
  new Uint8Array(bytes).set(text, 4);
  let offset = start;
  for (const array of arrays) {
    writeDoubles(bytes, offset, array);
    offset += array.length * DOUBLE;
  }
  return bytes;
}

/** Machines that keep their numbers as the wire does copy them as they lie. */
const IS_LITTLE_ENDIAN = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1;

function writeDoubles(bytes: ArrayBuffer, offset: number, values: Float64Array): void {
  if (IS_LITTLE_ENDIAN) {
    new Float64Array(bytes, offset, values.length).set(values);
    return;
  }
  const view = new DataView(bytes);
  values.forEach((value, index) => {
    view.setFloat64(offset + index * DOUBLE, value, true);
  });
}

/** @param offset a multiple of eight. @returns a view of the bytes where the machine allows one */
function readDoubles(bytes: ArrayBuffer, offset: number, count: number): Float64Array {
  if (IS_LITTLE_ENDIAN) return new Float64Array(bytes, offset, count);
  const view = new DataView(bytes);
  return Float64Array.from({ length: count }, (_, at) =>
    view.getFloat64(offset + at * DOUBLE, true),
  );
}

/** @returns the answer; null when the bytes are not one (cut short, another format) */
export function decodeEnvelope(bytes: ArrayBuffer): EnvelopeAnswer | null {
  if (bytes.byteLength < 4) return null;
  const view = new DataView(bytes);
  const length = view.getUint32(0, true);
  if (bytes.byteLength < 4 + length) return null;
  const head = parseHead(new TextDecoder().decode(new Uint8Array(bytes, 4, length)));
  if (head === null) return null;
  let offset = dataStart(length);
  const doubles = head.groups.reduce(
    (sum, group) => sum + group.count * (1 + 2 * group.columns.length),
    0,
  );
  if (bytes.byteLength !== offset + doubles * DOUBLE) return null;
  const take = (count: number): Float64Array => {
    const column = readDoubles(bytes, offset, count);
    offset += count * DOUBLE;
    return column;
  };
  const groups = head.groups.map((group) => ({
    tS: take(group.count),
    columns: group.columns.map((column) => ({
      key: column.key,
      unit: column.unit,
      stepS: column.stepS,
      minimum: take(group.count),
      maximum: take(group.count),
    })),
  }));
  const { fromS, toS, pixels, exact, missing } = head;
  return { fromS, toS, pixels, exact, groups, missing };
}

function dataStart(textLength: number): number {
  return Math.ceil((4 + textLength) / DOUBLE) * DOUBLE;
}

function parseHead(text: string): Head | null {
  try {
    const head: unknown = JSON.parse(text);
    if (typeof head !== 'object' || head === null || !('format' in head)) return null;
    // The format word is ours alone: what carries it was written by `encodeEnvelope`.
    return head.format === 'wakeline/envelope/1' ? (head as Head) : null;
  } catch {
    return null;
  }
}
