import { expect, test } from 'vitest';
import { serverEnd } from '@/lib/cli/server-end';
import { strayErrorText } from '@/lib/server/stray-errors';

test('a server that was told to stop ends without a word', () => {
  expect(serverEnd({ code: null, signal: 'SIGTERM' }, 'asked')).toEqual({
    line: null,
    exitCode: 0,
  });
  expect(serverEnd({ code: 0, signal: null }, 'asked')).toEqual({ line: null, exitCode: 0 });
  expect(serverEnd({ code: 3, signal: null }, 'asked')).toEqual({ line: null, exitCode: 3 });
});

test.each([
  [{ code: null, signal: 'SIGKILL' }, /ended by SIGKILL \(perhaps .* memory\)/],
  [{ code: null, signal: 'SIGSEGV' }, /ended by SIGSEGV \(a fault in a native library\)/],
  [{ code: null, signal: 'SIGTERM' }, /ended by SIGTERM\. /],
  [{ code: 134, signal: null }, /by itself with code 134/],
  [{ code: 0, signal: null }, /by itself with code 0/],
])('a server that ends by itself, %o, is said in one line and is a failure', (ended, line) => {
  const end = serverEnd(ended, 'by-itself');
  expect(end.line).toMatch(line);
  expect(end.line).not.toContain('\n');
  expect(end.exitCode).toBeGreaterThan(0);
});

test('an error that nothing caught is one short line with its place', () => {
  const error = new RangeError(`Invalid\nlength ${'x'.repeat(1_000)}`);
  const text = strayErrorText(error);
  expect(text.reason).toMatch(/^RangeError: Invalid length x+…$/);
  expect(text.reason.length).toBeLessThan(400);
  expect(text.place).toMatch(/^at .*server-end\.test/);
  expect(strayErrorText('words').reason).toBe('words');
  expect(strayErrorText(undefined)).toEqual({ reason: 'undefined', place: '' });
});
