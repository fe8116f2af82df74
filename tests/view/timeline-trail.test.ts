import { expect, test } from 'vitest';
import { restedAt, trailFrom, trailStep } from '@/lib/view/timeline-trail';

const at = (fromS: number) => ({ fromS, toS: fromS + 100 });

test('back and on again go through the windows that were rested at, and end there', () => {
  const trail = restedAt(restedAt(trailFrom(at(0)), at(10)), at(20));
  const back = trailStep(trail, 'back');
  expect(back?.now).toEqual(at(10));
  const first = back === null ? null : trailStep(back, 'back');
  expect(first?.now).toEqual(at(0));
  expect(first === null ? null : trailStep(first, 'back')).toBeNull();
  expect(first === null ? null : trailStep(first, 'on')?.now).toEqual(at(10));
  expect(trailStep(trail, 'on')).toBeNull();
});

test('another window after going back ends what lay ahead; the same one changes nothing', () => {
  const trail = restedAt(restedAt(trailFrom(at(0)), at(10)), at(20));
  const back = trailStep(trail, 'back');
  if (back === null) throw new Error('there is a window before');
  expect(restedAt(back, at(10 + 1e-6))).toBe(back);
  const elsewhere = restedAt(back, at(50));
  expect(trailStep(elsewhere, 'on')).toBeNull();
  expect(elsewhere.past).toEqual([at(0), at(10)]);
});
