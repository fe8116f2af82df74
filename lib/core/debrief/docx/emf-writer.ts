/**
 * Records of an enhanced metafile: lines, areas and words that a word processor keeps as vectors.
 *
 * Source: Microsoft, [MS-EMF] Enhanced Metafile Format, revision 17 (2021), 2.3.4.2 (header), 2.3.5
 * (drawing), 2.3.7 (objects), 2.3.11 (state), 2.2.13 (LogFont), 2.2.5 (EmrText).
 */

/** A point in logical units. */
export type EmfPoint = readonly [x: number, y: number];
export type EmfAlign = 'start' | 'middle' | 'end';
type Box = readonly [left: number, top: number, right: number, bottom: number];

/** Logical units in a pixel of 1/96 inch: what is drawn keeps a twentieth of it. */
const PER_PX = 20;
const HUNDREDTH_MM_PER_PX = 2540 / 96;
const HEADER_BYTES = 108;
/** The device that it is drawn for: 96 dots an inch, so that its size in mm follows. */
const DEVICE = { widthPx: 1920, heightPx: 1080, widthMm: 508, heightMm: 286 } as const;

const ALIGN: Readonly<Record<EmfAlign, number>> = { start: 0, end: 2, middle: 6 };
const BASELINE = 24;
const NULL_BRUSH = 0x80000005;
const NULL_PEN = 0x80000008;
/** Each object takes one place, is used and given back. */
const PLACE = 1;
const FONT_PLACE = 2;

const colour = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) =>
    Number.parseInt(hex.slice(at, at + 2), 16),
  );
  return red + green * 256 + blue * 65536;
};

const unit = (px: number): number => Math.round(px * PER_PX);

/** A picture that is being written. Sizes and places are pixels of 1/96 inch, colours `#rrggbb`. */
export type EmfWriter = Readonly<{
  line: (points: readonly EmfPoint[], look: Readonly<{ colour: string; widthPx: number }>) => void;
  area: (points: readonly EmfPoint[], look: Readonly<{ colour: string }>) => void;
  ring: (
    centre: EmfPoint,
    look: Readonly<{ radiusPx: number; colour: string; widthPx: number }>,
  ) => void;
  word: (
    text: string,
    at: EmfPoint,
    look: Readonly<{ colour: string; align: EmfAlign; widthsPx: readonly number[] }>,
  ) => void;
  clip: (box: Box | null) => void;
  finish: () => Uint8Array;
}>;

function bytesOf(type: number, body: readonly number[]): Uint8Array {
  const view = new DataView(new ArrayBuffer(8 + body.length * 4));
  view.setUint32(0, type, true);
  view.setUint32(4, 8 + body.length * 4, true);
  body.forEach((value, at) => {
    if (value < 0) view.setInt32(8 + at * 4, value, true);
    else view.setUint32(8 + at * 4, value, true);
  });
  return new Uint8Array(view.buffer);
}

/** UTF-16 units two to a word, padded. */
function packed(text: string, words = Math.ceil(text.length / 2)): readonly number[] {
  return Array.from({ length: words }, (_, at) => {
    const low = text.charCodeAt(at * 2) || 0;
    return low + (text.charCodeAt(at * 2 + 1) || 0) * 65536;
  });
}

function fontRecord(sizePx: number, face: string): Uint8Array {
  const plain = [-unit(sizePx), 0, 0, 0, 400, 0, 0];
  const names = [...packed(face, 16), ...packed('', 32), ...packed('', 16)];
  return bytesOf(82, [FONT_PLACE, ...plain, ...names, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
}

function header(width: number, height: number, count: number, bytes: number): Uint8Array {
  const frame = [width, height].map((px) => Math.round(px * HUNDREDTH_MM_PER_PX));
  return bytesOf(1, [
    ...[0, 0, width - 1, height - 1],
    ...[0, 0, frame[0] ?? 0, frame[1] ?? 0],
    0x464d4520,
    0x00010000,
    bytes,
    count,
    3,
    ...[0, 0, 0],
    ...[DEVICE.widthPx, DEVICE.heightPx, DEVICE.widthMm, DEVICE.heightMm],
    ...[0, 0, 0],
    ...[DEVICE.widthMm * 1000, DEVICE.heightMm * 1000],
  ]);
}

/** Begins a picture of a size, its words in one face and size. */
export function emfWriter(
  size: Readonly<{ widthPx: number; heightPx: number }>,
  font: Readonly<{ face: string; sizePx: number }>,
): EmfWriter {
  const width = Math.ceil(size.widthPx);
  const height = Math.ceil(size.heightPx);
  const records: Uint8Array[] = [];
  const put = (type: number, body: readonly number[]) => records.push(bytesOf(type, body));
  const nowhere = [0, 0, -1, -1];
  const placed = (points: readonly EmfPoint[]) => points.flatMap(([x, y]) => [unit(x), unit(y)]);
  const withPen = (look: Readonly<{ colour: string; widthPx: number }>, draw: () => void) => {
    put(38, [PLACE, 0, unit(look.widthPx), 0, colour(look.colour)]);
    put(37, [PLACE]);
    put(37, [NULL_BRUSH]);
    draw();
    put(37, [NULL_PEN]);
    put(40, [PLACE]);
  };
  put(17, [8]); // the size of logical units is free
  put(10, [0, 0]);
  put(9, [width * PER_PX, height * PER_PX]);
  put(12, [0, 0]);
  put(11, [width, height]);
  put(18, [1]); // words leave what is behind them
  records.push(fontRecord(font.sizePx, font.face));
  put(37, [FONT_PLACE]);
  return {
    line: (points, look) => {
      if (points.length < 2) return;
      withPen(look, () => put(4, [...nowhere, points.length, ...placed(points)]));
    },
    area: (points, look) => {
      put(39, [PLACE, 0, colour(look.colour), 0]);
      put(37, [PLACE]);
      put(37, [NULL_PEN]);
      put(3, [...nowhere, points.length, ...placed(points)]);
      put(37, [NULL_BRUSH]);
      put(40, [PLACE]);
    },
    ring: ([x, y], look) => {
      const { radiusPx: r } = look;
      withPen(look, () => put(42, [x - r, y - r, x + r, y + r].map(unit)));
    },
    word: (text, [x, y], look) => {
      put(22, [BASELINE + ALIGN[look.align]]);
      put(24, [colour(look.colour)]);
      const letters = packed(text);
      const widthsAt = 76 + letters.length * 4;
      const place = [unit(x), unit(y), text.length, 76, 0, ...nowhere, widthsAt];
      const one = 0x3f800000; // 1 as a float
      put(84, [...nowhere, 1, one, one, ...place, ...letters, ...look.widthsPx.map(unit)]);
    },
    clip: (box) => {
      if (box === null) return void put(34, [-1]);
      put(33, []);
      put(30, box.map(unit));
    },
    finish: () => {
      const all = [...records, bytesOf(14, [0, 16, 20])];
      const bytes = all.reduce((sum, { length }) => sum + length, HEADER_BYTES);
      const file = new Uint8Array(bytes);
      file.set(header(width, height, all.length + 1, bytes), 0);
      let at = HEADER_BYTES;
      for (const record of all) {
        file.set(record, at);
        at += record.length;
      }
      return file;
    },
  };
}
