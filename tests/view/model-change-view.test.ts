import { expect, test } from 'vitest';
import { changedMeanwhile } from '@/lib/view/model-change-view';

test('somebody whose words came too late reads what stands there now', () => {
  const newer = { parameter: 'thrust', now: '20 N', proposed: '22 N', state: 'agreed' };
  expect(changedMeanwhile(newer)).toMatch(/“thrust”, from “20 N” to “22 N”, agreed/);
  expect(changedMeanwhile({ ...newer, removed: 'removed' })).toMatch(/took it off the table/);
});
