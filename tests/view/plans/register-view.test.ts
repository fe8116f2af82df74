import { expect, test } from 'vitest';
import { refusedUse } from '@/lib/view/plans/register-view';

test('who was not quick enough to put a version in use is told where to look, not of a text beside', () => {
  const meanwhile = refusedUse({
    code: 'changed-meanwhile',
    message: 'Somebody changed this meanwhile. The newer text is shown beside yours.',
  });
  expect(meanwhile).toContain('Look at what it uses now, then send yours again.');
  expect(meanwhile).not.toContain('newer text');
  expect(refusedUse({ code: 'used-already', message: 'The session uses version 2 already.' })).toBe(
    'The session uses version 2 already.',
  );
});
