import { describe, expect, test } from 'vitest';
import {
  AXIS_WIDTH_PX,
  fitWindow,
  frameStretch,
  MARGIN_RIGHT_PX,
  panWindow,
  plotWidthPx,
  revealTime,
  timeAtX,
  xAtTime,
  zoomWindow,
} from '@/lib/view/charts/time-window';

const session = { fromS: -20, toS: 2000 };

describe('the window on a session', () => {
  test('zooming in keeps the instant under the pointer where it is', () => {
    const before = { fromS: 100, toS: 500 };
    const after = zoomWindow(before, session, { aroundS: 200, factor: 0.5 });
    expect(after).toEqual({ fromS: 150, toS: 350 });
    expect(xAtTime(after, 1000, 200)).toBeCloseTo(xAtTime(before, 1000, 200), 9);
  });

  test('zooming out stops at the whole session', () => {
    expect(zoomWindow({ fromS: 0, toS: 1500 }, session, { aroundS: 10, factor: 4 })).toEqual(
      session,
    );
  });

  test('zooming in stops at a fifth of a second', () => {
    const after = zoomWindow({ fromS: 10, toS: 10.3 }, session, { aroundS: 10.1, factor: 0.01 });
    expect(after.toS - after.fromS).toBeCloseTo(0.2, 9);
  });

  test('panning past an end keeps the span', () => {
    expect(panWindow({ fromS: 1800, toS: 1900 }, session, 5)).toEqual({ fromS: 1900, toS: 2000 });
    expect(panWindow({ fromS: 0, toS: 100 }, session, -5)).toEqual({ fromS: -20, toS: 80 });
  });

  test('an instant outside is brought in, one inside moves nothing', () => {
    const window = { fromS: 100, toS: 200 };
    expect(revealTime(window, session, 150)).toBe(window);
    const moved = revealTime(window, session, 400);
    expect(moved.toS - moved.fromS).toBeCloseTo(100, 9);
    expect(moved.fromS).toBeLessThan(400);
    expect(moved.toS).toBeGreaterThan(400);
  });

  test('a framed stretch has room on both sides and an instant has a span', () => {
    expect(frameStretch({ fromS: 100, toS: 200 }, session)).toEqual({ fromS: 80, toS: 220 });
    expect(frameStretch({ fromS: 100, toS: 100 }, session)).toEqual({ fromS: 99, toS: 101 });
  });

  test('pixels and instants are inverse', () => {
    const window = fitWindow({ fromS: 33, toS: 77 }, session);
    expect(timeAtX(window, 640, xAtTime(window, 640, 51.25))).toBeCloseTo(51.25, 9);
  });
});

test('a plot leaves room for its axis and labels, and is never too narrow to be read', () => {
  expect(plotWidthPx(1160)).toBe(1160 - AXIS_WIDTH_PX - MARGIN_RIGHT_PX);
  expect(plotWidthPx(300)).toBe(120);
});
