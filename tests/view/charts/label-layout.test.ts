import { describe, expect, test } from 'vitest';
import {
  fitText,
  type LabelMark,
  placeBarLabels,
  placeLabels,
  stackStretches,
  textWidthPx,
} from '@/lib/view/charts/label-layout';

const room = { widthPx: 1000, rows: 3, fontPx: 12, gapPx: 4, leastPx: 60, mostPx: 220 };

/** A seeded sequence in [0, 1): the same marks in every run. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

function crowd(seed: number, count: number): readonly LabelMark[] {
  const next = seeded(seed);
  return Array.from({ length: count }, (_, index) => ({
    id: `${index}`,
    xPx: next() * 1000,
    text: 'Holding here, vertical again, and more words'.slice(0, 4 + Math.floor(next() * 40)),
  })).sort((a, b) => a.xPx - b.xPx);
}

describe('labels beside marks', () => {
  test('no text lies over another or leaves the plot, however crowded', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      const layout = placeLabels(crowd(seed, 5 + (seed % 120)), room);
      for (let row = 0; row < room.rows; row += 1) {
        const inRow = layout.labels
          .filter((each) => each.row === row)
          .sort((a, b) => a.xPx - b.xPx);
        inRow.forEach((each, index) => {
          expect(each.xPx).toBeGreaterThanOrEqual(0);
          expect(each.xPx + each.widthPx).toBeLessThanOrEqual(room.widthPx + 1e-6);
          expect(textWidthPx(each.text, room.fontPx)).toBeLessThanOrEqual(each.widthPx + 0.02);
          const next = inRow[index + 1];
          if (next !== undefined) expect(each.xPx + each.widthPx).toBeLessThanOrEqual(next.xPx);
        });
      }
      layout.counts.forEach((each, index) => {
        const next = layout.counts[index + 1];
        if (next !== undefined) expect(each.xPx + each.widthPx).toBeLessThanOrEqual(next.xPx);
      });
    }
  });

  test('every mark has a text or is counted, once', () => {
    const marks = crowd(7, 150);
    const layout = placeLabels(marks, room);
    const told = [
      ...layout.labels.map((each) => each.id),
      ...layout.counts.flatMap((each) => each.ids),
    ];
    expect(told.sort()).toEqual(marks.map((each) => each.id).sort());
  });

  test('a lone text near the right edge stands left of its mark', () => {
    const [label] = placeLabels([{ id: 'a', xPx: 990, text: 'Contact.' }], room).labels;
    expect(label?.text).toBe('Contact.');
    expect((label?.xPx ?? 0) + (label?.widthPx ?? 0)).toBeLessThanOrEqual(990);
  });

  test('a text is cut with an ellipsis, or left out under three letters', () => {
    expect(fitText('Holding here', 45, 12)).toMatch(/^Hold.*…$/);
    expect(fitText('Holding here', 12, 12)).toBe('');
  });
});

describe('stretches with texts', () => {
  const bars = { widthPx: 1000, rows: 2, fontPx: 12, gapPx: 4, leastPx: 60, mostTextPx: 300 };

  test('neither a stretch nor its text covers another, and each is placed or counted', () => {
    for (let seed = 1; seed <= 120; seed += 1) {
      const next = seeded(seed);
      const marks = Array.from({ length: 1 + (seed % 30) }, (_, index) => {
        const fromPx = next() * 1000 - 20;
        return { id: `${index}`, fromPx, toPx: fromPx + next() * 200, text: 'Corridor left twice' };
      }).sort((a, b) => a.fromPx - b.fromPx);
      const { placed, counts } = stackStretches(marks, bars);
      expect(placed.length + counts.flatMap((each) => each.ids).length).toBe(marks.length);
      for (let row = 0; row < bars.rows; row += 1) {
        const inRow = placed.filter((each) => each.row === row);
        inRow.forEach((each, index) => {
          const end = Math.max(each.toPx, each.fromPx + textWidthPx(each.text, bars.fontPx));
          const after = inRow[index + 1];
          if (after !== undefined) expect(end).toBeLessThanOrEqual(after.fromPx);
          expect(each.toPx).toBeLessThanOrEqual(bars.widthPx);
        });
      }
    }
  });

  test('names of blocks in one row meet neither a block nor the edge', () => {
    for (let seed = 1; seed <= 120; seed += 1) {
      const next = seeded(seed);
      const marks = Array.from({ length: 1 + (seed % 12) }, (_, index) => {
        const fromPx = next() * 1000;
        return { id: `${index}`, fromPx, toPx: fromPx + next() * 40, text: 'closing-rate' };
      }).sort((a, b) => a.toPx - b.toPx);
      const names = placeBarLabels(marks, { ...bars, rows: 1 });
      for (const name of names) {
        const end = name.xPx + name.widthPx;
        expect(end).toBeLessThanOrEqual(bars.widthPx + 1e-6);
        for (const mark of marks)
          if (mark.id !== name.id) expect(mark.fromPx >= end || mark.toPx <= name.xPx).toBe(true);
        for (const other of names)
          if (other.id !== name.id)
            expect(other.xPx >= end || other.xPx + other.widthPx <= name.xPx).toBe(true);
      }
    }
  });
});

test('a block that fills the window has its name on itself; one too narrow for it has none', () => {
  const marks = [{ id: 'gap', fromPx: -400, toPx: 1400, text: 'gap' }];
  expect(placeBarLabels(marks, { ...room, rows: 1 })).toMatchObject([
    { id: 'gap', place: 'on', xPx: 4, text: 'gap' },
  ]);
  const narrow = [{ id: 'gap', fromPx: 985, toPx: 1400, text: 'gap of telemetry' }];
  expect(placeBarLabels(narrow, { ...room, rows: 1 })).toEqual([]);
  const crossed = [{ id: 'spike', fromPx: 10, toPx: 14, text: 'spike' }, ...marks];
  expect(placeBarLabels(crossed, { ...room, rows: 1 })).toEqual([]);
});
