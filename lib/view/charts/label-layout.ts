/**
 * Labels beside marks on one axis without any text over another: as many rows as given, each text
 * cut to the room it has, and a count where there is no room for text.
 */

export type LabelMark = Readonly<{ id: string; xPx: number; text: string }>;

export type PlacedLabel = Readonly<{
  id: string;
  row: number;
  /** Left edge of the text. */
  xPx: number;
  widthPx: number;
  /** The whole text, or its start with an ellipsis. */
  text: string;
}>;

/** Marks whose text found no room, told by number. */
export type CountMarker = Readonly<{ xPx: number; widthPx: number; ids: readonly string[] }>;

export type LabelLayout = Readonly<{
  labels: readonly PlacedLabel[];
  counts: readonly CountMarker[];
}>;

export type LabelRoom = Readonly<{
  widthPx: number;
  rows: number;
  fontPx: number;
  /** Between a mark and its text, and between a text and the next mark of its row. */
  gapPx: number;
  /** A cut text narrower than this says nothing: it becomes a count. */
  leastPx: number;
}>;

const NARROW = new Set(" .,:;'|!ijltfI()[]-".split(''));
const WIDE = new Set('mwMW@%—…'.split(''));

/**
 * Width of a text in the program's text face, on the safe side.
 *
 * Valid: IBM Plex Sans regular; the classes are rounded up from its advance widths, so the drawn
 * text is not wider (held by a browser test, not by this arithmetic).
 *
 * @returns pixels
 */
export function textWidthPx(text: string, fontPx: number): number {
  let em = 0;
  for (const letter of text) {
    if (NARROW.has(letter)) em += 0.37;
    else if (WIDE.has(letter)) em += 0.95;
    else if (letter >= 'A' && letter <= 'Z') em += 0.69;
    else if (letter.charCodeAt(0) > 0x2e80) em += 1.05;
    else em += 0.6;
  }
  return em * fontPx;
}

/** The text, or its start with an ellipsis, within a width; empty when not even three letters fit. */
export function fitText(text: string, widthPx: number, fontPx: number): string {
  if (textWidthPx(text, fontPx) <= widthPx) return text;
  const letters = Array.from(text);
  let low = 0;
  let high = letters.length;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (textWidthPx(`${letters.slice(0, middle).join('').trimEnd()}…`, fontPx) <= widthPx)
      low = middle;
    else high = middle - 1;
  }
  return low < 3 ? '' : `${letters.slice(0, low).join('').trimEnd()}…`;
}

/**
 * Places a text to the right of each mark, in the first row that has room for it.
 *
 * Fewer texts that can be read are better than many that are cut after a word: a text takes up to
 * `mostPx`, and what finds no row is told by number. A mark near the right edge has its text on its
 * left where that is free.
 *
 * @param marks in ascending order of `xPx`
 */
export function placeLabels(
  marks: readonly LabelMark[],
  room: LabelRoom & Readonly<{ mostPx: number }>,
): LabelLayout {
  const takenTo = new Array<number>(room.rows).fill(Number.NEGATIVE_INFINITY);
  const labels: PlacedLabel[] = [];
  const hidden: LabelMark[] = [];
  for (const mark of marks) {
    const wanted = Math.min(room.mostPx, textWidthPx(mark.text, room.fontPx));
    const left = mark.xPx + room.gapPx;
    const width = Math.min(wanted, room.widthPx - left);
    const row = takenTo.findIndex((to) => to + room.gapPx <= mark.xPx);
    if (row !== -1 && (width >= wanted || width >= room.leastPx)) {
      labels.push(label(mark, { row, xPx: left, widthPx: width, fontPx: room.fontPx }));
      takenTo[row] = left + width;
      continue;
    }
    const leftward = mark.xPx - room.gapPx - wanted;
    const rowLeft = takenTo.findIndex((to) => to + room.gapPx <= leftward);
    if (width < wanted && rowLeft !== -1 && leftward >= 0) {
      const at = { row: rowLeft, xPx: leftward, widthPx: wanted, fontPx: room.fontPx };
      labels.push(label(mark, at));
      takenTo[rowLeft] = mark.xPx;
      continue;
    }
    hidden.push(mark);
  }
  return { labels, counts: countHidden(hidden, room) };
}

function label(
  mark: LabelMark,
  at: Readonly<{ row: number; xPx: number; widthPx: number; fontPx: number }>,
): PlacedLabel {
  return {
    id: mark.id,
    row: at.row,
    xPx: at.xPx,
    widthPx: at.widthPx,
    text: fitText(mark.text, at.widthPx + 0.01, at.fontPx),
  };
}

/** Joins marks until no two counts touch; counts stand in a row of their own under the texts. */
function countHidden(hidden: readonly LabelMark[], room: LabelRoom): readonly CountMarker[] {
  const groups: { ids: string[]; fromPx: number; toPx: number }[] = [];
  for (const mark of hidden) {
    const last = groups.at(-1);
    if (
      last !== undefined &&
      centred(last, room).endPx + room.gapPx > mark.xPx - countWidthPx(1, room) / 2
    ) {
      last.ids.push(mark.id);
      last.toPx = mark.xPx;
    } else groups.push({ ids: [mark.id], fromPx: mark.xPx, toPx: mark.xPx });
  }
  let joined = true;
  while (joined) {
    joined = false;
    for (let index = 1; index < groups.length; index += 1) {
      const before = groups[index - 1];
      const after = groups[index];
      if (before === undefined || after === undefined) continue;
      if (centred(before, room).endPx + room.gapPx <= centred(after, room).startPx) continue;
      before.ids.push(...after.ids);
      before.toPx = after.toPx;
      groups.splice(index, 1);
      joined = true;
      index -= 1;
    }
  }
  return groups.map((group) => {
    const at = centred(group, room);
    return { xPx: at.startPx, widthPx: at.endPx - at.startPx, ids: group.ids };
  });
}

function countWidthPx(count: number, room: LabelRoom): number {
  return textWidthPx(`${count}`, room.fontPx) + 10;
}

function centred(
  group: Readonly<{ ids: readonly string[]; fromPx: number; toPx: number }>,
  room: LabelRoom,
): Readonly<{ startPx: number; endPx: number }> {
  const width = countWidthPx(group.ids.length, room);
  const middle = (group.fromPx + group.toPx) / 2;
  const startPx = Math.max(0, Math.min(room.widthPx - width, middle - width / 2));
  return { startPx, endPx: startPx + width };
}

export type StretchMark = Readonly<{ id: string; fromPx: number; toPx: number; text: string }>;

export type PlacedStretch = Readonly<{
  id: string;
  row: number;
  fromPx: number;
  toPx: number;
  /** Empty where there is no room for it; the stretch is drawn all the same. */
  text: string;
}>;

export type StretchLayout = Readonly<{
  placed: readonly PlacedStretch[];
  counts: readonly CountMarker[];
}>;

/**
 * Stacks stretches with their texts in rows so that neither a stretch nor a text covers another.
 *
 * A text may be longer than its stretch, up to `mostTextPx`, the edge of the plot, and the stretch
 * that will want the same row. Stretches that find no row are told by number.
 *
 * @param marks in ascending order of `fromPx`; ends outside the plot are drawn to its edge
 */
export function stackStretches(
  marks: readonly StretchMark[],
  room: LabelRoom & Readonly<{ mostTextPx: number }>,
): StretchLayout {
  const taken: { toPx: number }[] = Array.from({ length: room.rows }, () => ({
    toPx: Number.NEGATIVE_INFINITY,
  }));
  const placed: PlacedStretch[] = [];
  const hidden: LabelMark[] = [];
  marks.forEach((mark, index) => {
    const fromPx = Math.max(0, mark.fromPx);
    const toPx = Math.min(room.widthPx, Math.max(mark.toPx, fromPx));
    const row = taken.findIndex((each) => each.toPx + room.gapPx <= fromPx);
    const slot = taken[row];
    if (slot === undefined) {
      hidden.push({ id: mark.id, xPx: fromPx, text: mark.text });
      return;
    }
    const next = marks[index + room.rows]?.fromPx ?? Number.POSITIVE_INFINITY;
    const most = Math.min(room.mostTextPx, room.widthPx - fromPx, next - room.gapPx - fromPx);
    const textRoom = Math.max(most, toPx - fromPx);
    const fitted = fitText(mark.text, textRoom, room.fontPx);
    const text = fitted === mark.text || textRoom >= room.leastPx ? fitted : '';
    placed.push({ id: mark.id, row, fromPx, toPx, text });
    slot.toPx = Math.max(toPx, fromPx + textWidthPx(text, room.fontPx));
  });
  return { placed, counts: countHidden(hidden, room) };
}

/** `place`: right of its block, or on the block itself where that fills the room. */
export type BarLabel = PlacedLabel & Readonly<{ place: 'beside' | 'on' }>;

/**
 * Names of blocks in one row: right of each, only where that meets neither a block nor the edge, cut to the
 * room before the next block. A block that leaves no such room carries its name where it is wide enough, so
 * that one which fills the window is not without a name.
 *
 * @param marks blocks in ascending order of `toPx`
 */
export function placeBarLabels(
  marks: readonly StretchMark[],
  room: LabelRoom,
): readonly BarLabel[] {
  return marks.flatMap((mark) => {
    const others = marks.filter((each) => each.id !== mark.id);
    const beside = besideLabel(mark, others, room);
    return beside ?? onLabel(mark, others, room) ?? [];
  });
}

function besideLabel(
  mark: StretchMark,
  others: readonly StretchMark[],
  room: LabelRoom,
): BarLabel | null {
  const xPx = Math.max(0, mark.toPx) + room.gapPx;
  const next = others
    .filter((each) => each.toPx >= mark.toPx)
    .reduce((least, each) => Math.min(least, each.fromPx), Number.POSITIVE_INFINITY);
  const widthPx = Math.min(room.widthPx, next - room.gapPx) - xPx;
  const text = fitText(mark.text, widthPx, room.fontPx);
  if (text === '' || (text !== mark.text && widthPx < room.leastPx)) return null;
  return {
    id: mark.id,
    row: 0,
    xPx,
    widthPx: textWidthPx(text, room.fontPx),
    text,
    place: 'beside',
  };
}

function onLabel(
  mark: StretchMark,
  others: readonly StretchMark[],
  room: LabelRoom,
): BarLabel | null {
  const fromPx = Math.max(0, mark.fromPx);
  const xPx = fromPx + room.gapPx;
  const widthPx = textWidthPx(mark.text, room.fontPx);
  const endPx = xPx + widthPx + room.gapPx;
  if (endPx > Math.min(room.widthPx, mark.toPx)) return null;
  if (others.some((each) => each.toPx >= fromPx && each.fromPx <= endPx)) return null;
  return { id: mark.id, row: 0, xPx, widthPx, text: mark.text, place: 'on' };
}
