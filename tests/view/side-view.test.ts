import { expect, test } from 'vitest';
import { niceTicks } from '@/lib/view/overview/nice-ticks';
import { type SideTrack, sideView } from '@/lib/view/overview/side-view';
import { sampleDerived } from '../support/sample-derived';
import { sampleReconstruction } from '../support/sample-reconstruction';

function column(name: string): Float64Array {
  return sampleDerived.columns.find((each) => each.name === name)?.values ?? new Float64Array();
}

const track: SideTrack = {
  axialM: column('axial_distance'),
  across: [{ label: 'distance from the axis', valuesM: column('lateral_offset') }],
};

test('a gap in the data breaks the line', () => {
  const [line] = sideView(sampleReconstruction, track)?.lines ?? [];
  expect(line?.path.match(/M/g)).toHaveLength(2);
});

test('labels of marks never cover each other and stay inside the drawing', () => {
  const crowded = {
    ...sampleReconstruction,
    phases: [46, 46.5, 47, 48, 52, 99, 100].flatMap((rangeM) =>
      sampleReconstruction.phases.slice(2, 3).map((phase) => ({
        ...phase,
        rangeEndM: { ...phase.rangeEndM, value: rangeM },
      })),
    ),
  };
  const view = sideView(crowded, track);
  if (view === null) throw new Error('there is a track');
  const boxes = view.marks.map(({ labelX, labelY, text }) => ({
    left: labelX,
    right: labelX + text.length * 6.5,
    top: labelY - 13,
    bottom: labelY,
  }));
  for (const [index, a] of boxes.entries()) {
    expect(a.left).toBeGreaterThanOrEqual(0);
    expect(a.right).toBeLessThanOrEqual(view.width);
    expect(a.bottom).toBeLessThan(view.plot.top);
    expect(a.top).toBeGreaterThanOrEqual(0);
    for (const b of boxes.slice(index + 1)) {
      const apart =
        a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
      expect(apart).toBe(true);
    }
  }
});

test('the corridor is drawn at the rule’s own angle on the scale of the drawing', () => {
  const view = sideView(sampleReconstruction, track);
  const [path = ''] = view?.corridor?.paths ?? [];
  const points = [...path.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, x, y]) => [
    Number(x),
    Number(y),
  ]);
  const [, knee = [0, 0], end = [0, 0]] = points;
  if (view === null) throw new Error('there is a track');
  const [, y1 = 0] = knee;
  const [, y2 = 0] = end;
  const [x1 = 0] = knee;
  const [x2 = 0] = end;
  const ticksX = view.xTicks;
  const perMetreX = Math.abs(((ticksX[1]?.at ?? 0) - (ticksX[0]?.at ?? 0)) / 20);
  const ticksY = view.yTicks;
  const metresY = Number(ticksY[1]?.text) - Number(ticksY[0]?.text);
  const perMetreY = Math.abs(((ticksY[1]?.at ?? 0) - (ticksY[0]?.at ?? 0)) / metresY);
  const slope = Math.abs(y2 - y1) / perMetreY / (Math.abs(x2 - x1) / perMetreX);
  // Coordinates are written to 0.1 px over some 400 px.
  expect(Math.abs(slope - Math.tan((3 * Math.PI) / 180))).toBeLessThan(2e-4);
});

test('without a position along the axis there is no drawing', () => {
  const empty = { axialM: new Float64Array([Number.NaN]), across: [] };
  expect(sideView(sampleReconstruction, empty)).toBeNull();
});

test('ticks are round and inside the stretch', () => {
  expect(niceTicks(0, 100, 6)).toEqual([0, 20, 40, 60, 80, 100]);
  expect(niceTicks(-2.9, 2.9, 4)).toEqual([-2, 0, 2]);
  expect(niceTicks(5, 5, 4)).toEqual([]);
});
