/** Packs a screenshot tighter without changing a pixel: 8-bit RGB or RGBA, not interlaced. */
import { crc32, deflateSync, inflateSync } from 'node:zlib';

const SIGNATURE_BYTES = 8;
const FILTER_TYPES = [0, 1, 2, 3, 4] as const;

type FilterType = (typeof FILTER_TYPES)[number];
type Chunk = Readonly<{ type: string; data: Buffer }>;
type Image = Readonly<{ bytesPerPixel: number; rowBytes: number; rows: readonly Buffer[] }>;

function readChunks(png: Buffer): readonly Chunk[] {
  const chunks: Chunk[] = [];
  for (let at = SIGNATURE_BYTES; at < png.length; ) {
    const length = png.readUInt32BE(at);
    const type = png.toString('latin1', at + 4, at + 8);
    chunks.push({ type, data: png.subarray(at + 8, at + 8 + length) });
    at += length + 12;
  }
  return chunks;
}

function chunkBytes({ type, data }: Chunk): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

/** The predictor of filter 4. Source: W3C, PNG (Third Edition), 9.4. */
function paeth(left: number, above: number, corner: number): number {
  const guess = left + above - corner;
  const [toLeft, toAbove, toCorner] = [left, above, corner].map((each) => Math.abs(guess - each));
  if (toLeft === undefined || toAbove === undefined || toCorner === undefined) return 0;
  if (toLeft <= toAbove && toLeft <= toCorner) return left;
  return toAbove <= toCorner ? above : corner;
}

function predicted(filter: FilterType, left: number, above: number, corner: number): number {
  if (filter === 0) return 0;
  if (filter === 1) return left;
  if (filter === 2) return above;
  return filter === 3 ? (left + above) >> 1 : paeth(left, above, corner);
}

function readImage(chunks: readonly Chunk[]): Image {
  const header = chunks.find(({ type }) => type === 'IHDR')?.data ?? Buffer.alloc(13);
  const colourType = header[9];
  if (header[8] !== 8 || (colourType !== 2 && colourType !== 6) || header[12] !== 0) {
    throw new Error('only 8-bit RGB or RGBA without interlace is packed');
  }
  const bytesPerPixel = colourType === 2 ? 3 : 4;
  const rowBytes = header.readUInt32BE(0) * bytesPerPixel;
  const packed = Buffer.concat(chunks.filter(({ type }) => type === 'IDAT').map((c) => c.data));
  const filtered = inflateSync(packed);
  const rows: Buffer[] = [];
  let above: Buffer = Buffer.alloc(rowBytes);
  for (let at = 0; at < filtered.length; at += rowBytes + 1) {
    const filter = FILTER_TYPES.find((each) => each === filtered[at]) ?? 0;
    const row = Buffer.from(filtered.subarray(at + 1, at + 1 + rowBytes));
    for (let x = 0; x < rowBytes; x += 1) {
      const left = row[x - bytesPerPixel] ?? 0;
      const corner = above[x - bytesPerPixel] ?? 0;
      row[x] = (row[x] ?? 0) + predicted(filter, left, above[x] ?? 0, corner);
    }
    rows.push(row);
    above = row;
  }
  return { bytesPerPixel, rowBytes, rows };
}

function filterAll({ bytesPerPixel, rowBytes, rows }: Image, filter: FilterType): Buffer {
  const out = Buffer.alloc(rows.length * (rowBytes + 1));
  let above: Buffer = Buffer.alloc(rowBytes);
  for (const [index, row] of rows.entries()) {
    const at = index * (rowBytes + 1);
    out[at] = filter;
    for (let x = 0; x < rowBytes; x += 1) {
      const left = row[x - bytesPerPixel] ?? 0;
      const corner = above[x - bytesPerPixel] ?? 0;
      out[at + 1 + x] = (row[x] ?? 0) - predicted(filter, left, above[x] ?? 0, corner);
    }
    above = row;
  }
  return out;
}

/** @returns the same picture, by whichever filter packs it smallest; never larger than it was */
export function packPng(png: Buffer): Buffer {
  const chunks = readChunks(png);
  const image = readImage(chunks);
  const header = chunks.filter(({ type }) => type === 'IHDR');
  const tries = FILTER_TYPES.map((filter) => {
    const data = deflateSync(filterAll(image, filter), { level: 9, memLevel: 9 });
    const kept: readonly Chunk[] = [...header, { type: 'IDAT', data }];
    const end = { type: 'IEND', data: Buffer.alloc(0) };
    return Buffer.concat([png.subarray(0, SIGNATURE_BYTES), ...[...kept, end].map(chunkBytes)]);
  });
  return [png, ...tries].reduce((least, each) => (each.length < least.length ? each : least));
}
