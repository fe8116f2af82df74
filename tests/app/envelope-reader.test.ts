import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import {
  type EnvelopeReader,
  type EnvelopesRead,
  GoneError,
  makeEnvelopeReader,
} from '@/app/sessions/[sessionId]/timeline/_components/envelope-reader';
import type { EnvelopeQuestion } from '@/lib/view/charts/envelope-question';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import type { TimeWindow } from '@/lib/view/charts/time-window';

const SESSION = { fromS: 0, toS: 1000 };

type Asked = Readonly<{
  question: EnvelopeQuestion;
  signal: AbortSignal;
  answer: () => Promise<void>;
  refuse: (reason: Error) => Promise<void>;
}>;

let asked: Asked[] = [];
let told: EnvelopesRead[] = [];
let reader: EnvelopeReader;

beforeEach(() => {
  vi.useFakeTimers();
  asked = [];
  told = [];
  reader = makeEnvelopeReader(
    (question, signal) =>
      new Promise((resolve, reject) => {
        const settled = async (act: () => void): Promise<void> => {
          act();
          await vi.advanceTimersByTimeAsync(0);
        };
        asked.push({
          question,
          signal,
          answer: () => settled(() => resolve(answerTo(question))),
          refuse: (reason) => settled(() => reject(reason)),
        });
      }),
    (read) => told.push(read),
  );
});
afterEach(() => {
  reader.close();
  vi.useRealTimers();
});

function answerTo({ window, keys, pixels }: EnvelopeQuestion): EnvelopeAnswer {
  const none = new Float64Array();
  const columns = keys.map((key) => {
    return { key, unit: 'm', stepS: 1, minimum: none, maximum: none };
  });
  return { ...window, pixels, exact: true, missing: [], groups: [{ tS: none, columns }] };
}

function want(window: TimeWindow, pixels = 800, keys: readonly string[] = ['range']): void {
  reader.want({ session: SESSION, window, keys, pixels });
}

const windowsAsked = (): readonly number[] => asked.map(({ question }) => question.window.fromS);

test('whole session and window are asked for once, and nothing while both are held', async () => {
  want({ fromS: 100, toS: 200 });
  expect(windowsAsked()).toEqual([0, 100]);
  await asked[1]?.answer();
  expect(told.at(-1)?.state).toBe('asking');
  await asked[0]?.answer();
  expect(told.at(-1)).toMatchObject({ state: 'ready' });
  expect(told.at(-1)?.answers.map(({ fromS }) => fromS)).toEqual([0, 100]);
  want({ fromS: 100, toS: 200 });
  want(SESSION);
  await vi.advanceTimersByTimeAsync(1000);
  expect(asked).toHaveLength(2);
});

test('a window that moves on: one question at a time, and the newest window is the next', async () => {
  want(SESSION);
  await asked[0]?.answer();
  want({ fromS: 100, toS: 200 });
  expect(windowsAsked()).toEqual([0, 100]);
  for (const fromS of [110, 120, 130]) want({ fromS, toS: 200 });
  expect(windowsAsked()).toEqual([0, 100]);
  await asked[1]?.answer();
  expect(windowsAsked()).toEqual([0, 100, 130]);
  await asked[2]?.answer();
  expect(told.at(-1)?.answers.map(({ fromS }) => fromS)).toEqual([0, 100, 130]);
});

test('a slow answer to a window that was left is called off after a moment of rest', async () => {
  want(SESSION);
  await asked[0]?.answer();
  want({ fromS: 100, toS: 200 });
  want({ fromS: 300, toS: 400 });
  await vi.advanceTimersByTimeAsync(59);
  expect(windowsAsked()).toEqual([0, 100]);
  await vi.advanceTimersByTimeAsync(2);
  expect(windowsAsked()).toEqual([0, 100, 300]);
  expect(asked[1]?.signal.aborted).toBe(true);
  // What was called off and answers all the same is not drawn.
  await asked[1]?.answer();
  expect(told.at(-1)?.answers.map(({ fromS }) => fromS)).toEqual([0]);
});

test('a width that turns out narrower asks nothing more; a wider one asks again', async () => {
  want(SESSION, 1280);
  want(SESSION, 1086);
  await asked[0]?.answer();
  want(SESSION, 1086);
  expect(asked).toHaveLength(1);
  want(SESSION, 1700);
  expect(asked.at(-1)?.question.pixels).toBe(1700);
});

test('a column put on is asked for alone', async () => {
  want(SESSION);
  await asked[0]?.answer();
  want(SESSION, 800, ['range', 'closing_rate']);
  expect(asked.at(-1)?.question.keys).toEqual(['closing_rate']);
});

test('a server that does not answer is asked again later and later, and by hand at once', async () => {
  want(SESSION);
  await asked[0]?.refuse(new Error('no connection'));
  expect(told.at(-1)?.state).toBe('no-answer');
  await vi.advanceTimersByTimeAsync(999);
  expect(asked).toHaveLength(1);
  await vi.advanceTimersByTimeAsync(1);
  expect(asked).toHaveLength(2);
  await asked[1]?.refuse(new Error('no connection'));
  await vi.advanceTimersByTimeAsync(1500);
  expect(asked).toHaveLength(2);
  // The notice stays until something was answered, and moving asks nothing of a server that is not there.
  want({ fromS: 100, toS: 200 });
  expect(asked).toHaveLength(2);
  reader.retry();
  expect(windowsAsked().slice(2)).toEqual([0, 100]);
  await asked[2]?.answer();
  await asked[3]?.answer();
  expect(told.at(-1)?.state).toBe('ready');
});

test('a session that is no longer kept is not asked for again and again', async () => {
  want(SESSION);
  await asked[0]?.refuse(new GoneError());
  expect(told.at(-1)?.state).toBe('gone');
  await vi.advanceTimersByTimeAsync(20_000);
  expect(asked).toHaveLength(1);
});
