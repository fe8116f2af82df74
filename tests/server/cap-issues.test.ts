import { expect, test } from 'vitest';
import type { Issue } from '@/lib/core/result';
import { capIssues } from '@/lib/server/jobs/cap-issues';

const issue = (severity: Issue['severity'], index: number): Issue => ({
  code: 'x',
  severity,
  message: `${severity} ${index}`,
});

test('of 100,000 issues the errors and 300 in all are kept, in order, and the rest counted', () => {
  const warnings = Array.from({ length: 100_000 }, (_, index) => issue('warning', index));
  const all = [...warnings.slice(0, 50_000), issue('error', 7), ...warnings.slice(50_000)];
  const kept = capIssues(all);
  expect(kept).toHaveLength(301);
  expect(kept.slice(0, 2).map(({ message }) => message)).toEqual(['warning 0', 'warning 1']);
  expect(kept[299]?.message).toBe('error 7');
  expect(kept[300]).toMatchObject({
    severity: 'warning',
    message: expect.stringMatching(/^and 99701 more/),
  });
});

test('a text of a million characters is cut', () => {
  const [kept] = capIssues([{ ...issue('error', 0), received: 'x'.repeat(1e6) }]);
  expect(kept?.received).toHaveLength(1_001);
});
