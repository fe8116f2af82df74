import { expect, test } from 'vitest';
import { parseInstant } from '@/lib/core/time/parse';
import {
  entryRows,
  refusedUse,
  trialChoices,
  usageRows,
  versionRows,
} from '@/lib/view/plans/register-view';
import { sessionNames } from '@/lib/view/plans/session-names';

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

const session = (id: string, title: string, day: string, at: string) => ({
  id,
  title,
  version: 1,
  zeroTaiNs: `${parseInstant(`${day}T09:05:00Z`, 'UTC')?.taiNs}`,
  createdAtIso: `2031-06-01T${at}:00.000Z`,
  used: null,
  chosen: null,
});
const ALONE = session('a', 'Rehearsal', '2031-04-17', '10:00');
const FIRST = session('b', 'Arrival', '2031-04-17', '10:00');
const OTHER_DAY = session('c', 'Arrival', '2031-04-18', '10:00');
const AGAIN = session('d', 'Arrival', '2031-04-17', '11:30');

test('sessions of one title are told apart by the day, then by the import, at last by their id', () => {
  const of = (...sessions: (typeof ALONE)[]) => [...sessionNames(sessions).values()].sort();
  expect(of(ALONE, FIRST)).toEqual(['Arrival', 'Rehearsal']);
  expect(of(FIRST, OTHER_DAY)).toEqual(['Arrival, 17 Apr 2031', 'Arrival, 18 Apr 2031']);
  expect(of(FIRST, AGAIN, OTHER_DAY)).toEqual([
    'Arrival, 18 Apr 2031',
    'Arrival, imported 1 Jun 2031, 10:00 UTC',
    'Arrival, imported 1 Jun 2031, 11:30 UTC',
  ]);
  expect(of(FIRST, { ...FIRST, id: 'e' })).toEqual(['Arrival, b', 'Arrival, e']);
  // One session in two lists is one.
  expect(of(FIRST, FIRST)).toEqual(['Arrival']);
});

test('the registers, the forms of use and the choice of a trial name them so', () => {
  const version = (number: number, sessions: readonly (typeof ALONE)[]) => ({
    id: `v${number}`,
    number,
    author: '',
    reason: '',
    createdAtIso: '2031-06-01T10:00:00.000Z',
    sessions,
  });
  const entry = {
    kind: 'plan' as const,
    entryId: 'p',
    title: 'Plan',
    versions: [version(2, [FIRST]), version(1, [OTHER_DAY])],
  };
  const days = ['Arrival, 17 Apr 2031', 'Arrival, 18 Apr 2031'];
  const links = entryRows([entry])[0]?.sessions ?? [];
  expect(links.map(({ text }) => text)).toEqual(days);
  const own = versionRows(entry, 'plan.yaml').flatMap(({ sessions }) => sessions);
  expect(own.map(({ text }) => text)).toEqual(days);
  const { others } = usageRows('p', [FIRST, OTHER_DAY]);
  expect(others.map(({ title }) => title)).toEqual(days);
  expect(trialChoices([FIRST, OTHER_DAY], null)).toEqual([
    { id: 'b', title: days[0], isOwn: false },
    { id: 'c', title: days[1], isOwn: false },
  ]);
});
