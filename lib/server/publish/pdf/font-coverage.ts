/**
 * Which characters a TrueType font has a glyph for.
 *
 * Source: OpenType specification 1.9, "cmap": format 4 (segments) and format 12 (groups).
 */
import type { Coverage } from '@/lib/core/debrief/pdf/glyph-text';

type Add = (code: number) => void;

function tableAt(font: Buffer, tag: string): number | null {
  const count = font.readUInt16BE(4);
  for (let index = 0; index < count; index += 1) {
    const at = 12 + 16 * index;
    if (font.toString('latin1', at, at + 4) === tag) return font.readUInt32BE(at + 8);
  }
  return null;
}

function readSegments(font: Buffer, at: number, add: Add): void {
  const twice = font.readUInt16BE(at + 6);
  for (let segment = 0; segment < twice; segment += 2) {
    const end = font.readUInt16BE(at + 14 + segment);
    const start = font.readUInt16BE(at + 16 + twice + segment);
    const delta = font.readUInt16BE(at + 16 + 2 * twice + segment);
    const offsetAt = at + 16 + 3 * twice + segment;
    const offset = font.readUInt16BE(offsetAt);
    for (let code = start; code <= end && code !== 0xffff; code += 1) {
      const glyph =
        offset === 0 ? code + delta : font.readUInt16BE(offsetAt + offset + 2 * (code - start));
      if ((glyph & 0xffff) !== 0) add(code);
    }
  }
}

function readGroups(font: Buffer, at: number, add: Add): void {
  const count = font.readUInt32BE(at + 12);
  for (let group = 0; group < count; group += 1) {
    const place = at + 16 + 12 * group;
    const [start, end] = [font.readUInt32BE(place), font.readUInt32BE(place + 4)];
    for (let code = start; code <= end; code += 1) add(code);
  }
}

/** @param font the bytes of a TTF; throws where it has no table of characters */
export function fontCoverage(font: Buffer): Coverage {
  const cmap = tableAt(font, 'cmap');
  if (cmap === null) throw new Error('a font without a table of characters');
  const codes = new Set<number>();
  const add: Add = (code) => codes.add(code);
  const count = font.readUInt16BE(cmap + 2);
  for (let index = 0; index < count; index += 1) {
    const at = cmap + font.readUInt32BE(cmap + 4 + 8 * index + 4);
    const format = font.readUInt16BE(at);
    if (format === 4) readSegments(font, at, add);
    if (format === 12) readGroups(font, at, add);
  }
  return codes;
}
