import { expect, test } from 'vitest';
import type { PollState, RuleAtPoll } from '@/lib/core/reconstruction/poll-state';
import { parseInstant } from '@/lib/core/time/parse';
import { pollAnswers, pollChoices, pollView, readPollInstant } from '@/lib/view/poll-view';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleRules } from '../support/sample-plan';
import { sampleReconstruction } from '../support/sample-reconstruction';

/** An hour from 09:05:00 UTC. */
const HOUR = {
  session: { fromS: 0, toS: 3600 },
  zeroTaiNs: `${parseInstant('2031-04-17T09:05:00Z', 'UTC')?.taiNs}`,
};

test.each([
  ['00:34:18', 2058],
  ['34:18.5', 2058.5],
  ['2058', 2058],
  ['-12', -12],
  ['99:00:00', 356_400],
  ['09:39:18 UTC', 2058],
])('the address %s is %d s', (at, expected) => {
  expect(readPollInstant(at, HOUR)).toMatchObject({ atS: expected, problem: null });
});

test('an address that is no time is said, and nothing asked is nothing', () => {
  expect(readPollInstant('noon', HOUR)).toMatchObject({
    atS: null,
    problem: 'Not a time: hh:mm:ss, seconds, or a clock time such as 09:30:44 UTC.',
  });
  expect(readPollInstant(undefined, HOUR)).toEqual({ atS: null, typed: '', problem: null });
});

test('polls of the logs can be chosen, and the open one is marked', () => {
  const poll = { timeS: 110.5, endS: null, source: 'events.csv', line: 9, event: 'poll' };
  const flown = {
    ...sampleReconstruction,
    events: [...sampleReconstruction.events, { ...poll, text: 'Go or no go.', speaker: null }],
  };
  const open = pollChoices(flown, SAMPLE_SESSION_ID, { atS: 110.5, verdict: null });
  expect(open).toEqual([
    {
      key: 'poll-0',
      text: '00:01:50.5',
      words: 'Go or no go.',
      href: `/sessions/${SAMPLE_SESSION_ID}/rules?at=110.5#poll`,
      isOpen: true,
    },
  ]);
  const [filtered] = pollChoices(flown, SAMPLE_SESSION_ID, {
    atS: null,
    verdict: 'not applicable',
  });
  const asked = new URL(filtered?.href ?? '', 'http://localhost').searchParams;
  expect([asked.get('at'), asked.get('verdict')]).toEqual(['110.5', 'not applicable']);
});

function rule(id: string, more: Partial<RuleAtPoll>): RuleAtPoll {
  return {
    id,
    standing: 'inside',
    value: null,
    limit: null,
    margin: null,
    trendPerS: null,
    ageS: null,
    unit: 'm/s',
    soFar: null,
    words: '',
    ...more,
  };
}

test('the board has the worst first, and calls a trend only where it is more than noise', () => {
  const state: PollState = {
    atS: 100,
    rangeM: null,
    closingMps: null,
    motionAgeS: null,
    step: null,
    touchedS: null,
    motion: null,
    rules: [
      rule('calm', { trendPerS: sampleFigure(-0.001, 'm/s2', 0.002) }),
      rule('open', { standing: 'open' }),
      rule('closing-rate', {
        standing: 'beyond',
        trendPerS: sampleFigure(-0.01, 'm/s2', 0.002),
      }),
      rule('unseen', { standing: 'not known' }),
    ],
    sources: [],
    unknown: [],
  };
  const view = pollView(state, sampleRules, SAMPLE_SESSION_ID);
  expect(view.rows.map(({ id, trendWord }) => [id, trendWord])).toEqual([
    ['closing-rate', 'shrinks'],
    ['unseen', null],
    ['calm', 'steady'],
    ['open', null],
  ]);
  expect(view.counts.map(({ standing, count }) => `${count} ${standing}`)).toEqual([
    '1 beyond',
    '1 not known',
    '1 inside',
    '1 open',
  ]);
  expect(view.rows[0]?.statement).toBe(sampleRules[0]?.statement);
});

test('answers belong to their poll and end at the next one', () => {
  const entry = (timeS: number, event: string) => ({
    timeS,
    endS: null,
    source: 'events.csv',
    line: timeS,
    event,
    text: `${event} ${timeS}`,
    speaker: 'STATION',
  });
  const events = [
    entry(10, 'poll'),
    entry(12, 'poll-answer'),
    entry(20, 'poll'),
    entry(25, 'poll-answer'),
    entry(26, 'poll-answer'),
  ];
  const flown = { ...sampleReconstruction, events };
  const times = (atS: number) => pollAnswers(flown, atS).map(({ time }) => time);
  expect(times(10)).toEqual(['00:00:12.0']);
  expect(times(20)).toEqual(['00:00:25.0', '00:00:26.0']);
  expect(times(11)).toEqual([]);
  expect(pollAnswers(flown, 10)[0]?.words).toBe('STATION: poll-answer 12');
});
