import { expect, test } from 'vitest';
import { crewQuestionWords } from '@/lib/core/findings/crew-question';
import { answerCrewQuestion } from '@/lib/server/commands/answer-crew-question';
import { askCrew } from '@/lib/server/commands/ask-crew';
import { editCrewQuestion } from '@/lib/server/commands/edit-crew-question';
import { removeCrewQuestion } from '@/lib/server/commands/remove-crew-question';
import { restoreCrewQuestion } from '@/lib/server/commands/restore-crew-question';
import { db } from '@/lib/server/db';
import { storeCrewQuestions } from '@/lib/server/jobs/store-session';
import { loadCrewQuestions, loadQuestionSheet } from '@/lib/server/queries/load-crew-questions';
import { runCommand } from '@/lib/server/run-command';
import { questionSheetView } from '@/lib/view/crew-questions-view';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { hostileQuestion } from '../support/hostile-question';

freshDataDir();

const STRETCH = { fromS: 100, toS: 112.5, channels: ['closing_rate'] };

async function asked(sessionId: string, question = 'What did you see on the display?') {
  const result = await runCommand(askCrew, { sessionId, question, ...STRETCH });
  if (!result.ok) throw new Error(result.message);
  return result.data;
}

test('an answer is kept word for word, a further one stands beneath it', async () => {
  const sessionId = await addSession('s1');
  const { id, version, number } = await asked(sessionId);
  expect(number).toBe(1);
  const first = { id, version, text: '  It jumped.\nTwice.  ', by: 'PILOT' };
  const once = await runCommand(answerCrewQuestion, first);
  expect(once).toMatchObject({ ok: true });
  const second = { id, version: version + 1, text: 'Once, I think.', by: 'DIRECTOR' };
  await runCommand(answerCrewQuestion, second);
  const [question] = await loadCrewQuestions(sessionId);
  expect(question?.answers.map(({ text, by }) => [text, by])).toEqual([
    ['  It jumped.\nTwice.  ', 'PILOT'],
    ['Once, I think.', 'DIRECTOR'],
  ]);
});

test('of two people who answer at once the second is told, and nothing is overwritten', async () => {
  const sessionId = await addSession('s2');
  const { id, version } = await asked(sessionId);
  await runCommand(answerCrewQuestion, { id, version, text: 'first', by: 'A' });
  const late = await runCommand(answerCrewQuestion, { id, version, text: 'late', by: 'B' });
  expect(late).toMatchObject({ ok: false, code: 'changed-meanwhile' });
  const [question] = await loadCrewQuestions(sessionId);
  expect(question?.answers.map(({ text }) => text)).toEqual(['first']);
});

test('an answered question keeps its words, an open one can be reworded', async () => {
  const sessionId = await addSession('s3');
  const { id, version } = await asked(sessionId);
  const reworded = await runCommand(editCrewQuestion, { id, version, question: 'And the sound?' });
  expect(reworded).toMatchObject({ ok: true, data: { question: 'And the sound?' } });
  await runCommand(answerCrewQuestion, { id, version: version + 1, text: 'none', by: 'A' });
  const again = await runCommand(editCrewQuestion, { id, version: version + 2, question: 'x' });
  expect(again).toMatchObject({ ok: false, code: 'question-answered' });
});

test('blank words, a stretch backwards and a session that is not there are refused', async () => {
  const sessionId = await addSession('s4');
  const blank = await runCommand(askCrew, { sessionId, question: ' ', ...STRETCH });
  expect(blank).toMatchObject({ ok: false, fields: { question: 'A question needs words.' } });
  const backwards = { ...STRETCH, fromS: 113 };
  const turned = await runCommand(askCrew, { sessionId, question: 'x', ...backwards });
  expect(turned).toMatchObject({ ok: false, code: 'stretch-backwards' });
  const lost = await runCommand(askCrew, { sessionId: 'nowhere', question: 'x', ...STRETCH });
  expect(lost).toMatchObject({ ok: false, code: 'no-such-session' });
  const { id, version } = await asked(sessionId);
  const mute = await runCommand(answerCrewQuestion, { id, version, text: '\n', by: '' });
  expect(mute).toMatchObject({
    ok: false,
    fields: { text: 'An answer needs words.', by: 'Who answered is needed.' },
  });
});

test('a question taken off the sheet can be put back, its number is not given again', async () => {
  const sessionId = await addSession('s5');
  const { id, version } = await asked(sessionId);
  await runCommand(removeCrewQuestion, { id, version });
  expect((await asked(sessionId, 'Another?')).number).toBe(2);
  const view = questionSheetView(await loadQuestionSheet(sessionId));
  expect(view.summary).toBe('1 question, 0 answered');
  expect(view.removed.map(({ number }) => number)).toEqual([1]);
  await runCommand(restoreCrewQuestion, { id, version: version + 1 });
  const back = questionSheetView(await loadQuestionSheet(sessionId));
  expect(back.standing.map(({ number }) => number)).toEqual([1, 2]);
});

test('questions that came with a folder are on its sheet, and go out with those asked here', async () => {
  const sessionId = await addSession('s9');
  const words = crewQuestionWords(hostileQuestion);
  await db().$transaction((tx) => storeCrewQuestions(tx, sessionId, [words]));
  const next = await asked(sessionId);
  expect(next.number).toBe(words.number + 1);
  const kept = await loadCrewQuestions(sessionId);
  expect(kept.map(crewQuestionWords)).toEqual([words, crewQuestionWords(next)]);

  // Another people.yaml: what is there stays, what is new is asked under a number of its own.
  const other = { ...words, fromS: words.fromS + 1000, toS: words.toS + 1000 };
  const again = { ...words, answers: [], number: 1 };
  await db().$transaction((tx) => storeCrewQuestions(tx, sessionId, [again, other]));
  const all = (await loadCrewQuestions(sessionId)).map(crewQuestionWords);
  expect(all).toContainEqual(words);
  expect(all).toContainEqual({ ...other, number: next.number + 1 });
  expect(all).toHaveLength(3);

  // A replaced file with more answers: those it adds stand among the others by time, and each once.
  const at = (text: string, atIso: string) => ({ text, by: 'CREW', atIso });
  const [early, late] = [
    at('Before all.', '2001-01-01T00:00:00Z'),
    at('After.', '2999-01-01T00:00Z'),
  ];
  const more = { ...words, answers: [late, ...words.answers, early] };
  await db().$transaction((tx) => storeCrewQuestions(tx, sessionId, [more]));
  const sameInstant = { ...early, atIso: '2001-01-01T00:00:00.000Z' };
  await db().$transaction((tx) =>
    storeCrewQuestions(tx, sessionId, [{ ...words, answers: [sameInstant] }]),
  );
  const answered = (await loadCrewQuestions(sessionId)).map(crewQuestionWords);
  expect(answered).toContainEqual({ ...words, answers: [early, ...words.answers, late] });
  expect(answered).toHaveLength(3);
});
