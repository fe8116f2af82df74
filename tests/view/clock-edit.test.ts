import { expect, test } from 'vitest';
import {
  CLOCK_FORM_START,
  readJudgement,
  readTiePoint,
  refusedState,
  typedOf,
} from '@/lib/view/clock/clock-edit';
import { undoRefusal } from '@/lib/view/clock/correction-list';

const PLACE = { source: 'loop.vtt', line: 12, nth: 1 };

test('a corrected range may be typed in feet and is kept in metres', () => {
  const typed = { kind: 'correct', said: '40', unit: 'ft', reason: 'heard so' };
  expect(readJudgement(typed, PLACE).word).toEqual({
    kind: 'correct',
    ...PLACE,
    quantity: 'range',
    // International foot, exact: 0.3048 m (1959 agreement).
    saidSi: 40 * 0.3048,
    reason: 'heard so',
  });
  const rate = readJudgement({ ...typed, said: '\u22120,3', unit: 'm/s' }, PLACE);
  expect(rate.word).toMatchObject({ quantity: 'rate', saidSi: -0.3 });
});

test('a number or time that cannot be read is said beside its field', () => {
  const judged = readJudgement({ kind: 'correct', said: 'forty', unit: 'm' }, PLACE);
  expect(judged.fields).toEqual({
    said: '“forty” cannot be read. Expected a number, such as 40 or 0.3.',
    reason: 'A reason is needed.',
  });
  const tied = readTiePoint({ sourceS: '00:61', sessionS: '', sdS: 'x' }, 'loop.vtt');
  expect(tied.fields?.sourceS).toBe(
    '“00:61” cannot be read. Expected hh:mm:ss, hh:mm:ss.s or seconds.',
  );
  expect(tied.fields?.sessionS).toMatch(/^Nothing is given\./);
  expect(tied.fields?.sdS).toContain('Expected seconds');
});

test('a tie point is typed as a clock or in seconds', () => {
  const typed = { sourceS: '00:41:59.9', sessionS: '2559.8', sdS: '0.2', reason: 'camera' };
  expect(readTiePoint(typed, 'loop.vtt').word).toEqual({
    kind: 'tie-point',
    source: 'loop.vtt',
    sourceS: 2519.9,
    sessionS: 2559.8,
    sdS: 0.2,
    reason: 'camera',
  });
});

test('after a refusal what was typed stays, each problem by the name of its field', () => {
  const form = new FormData();
  form.set('said', '-4');
  const state = refusedState(CLOCK_FORM_START, typedOf(form), {
    message: 'A range is more than 0.',
    fields: { 'word.saidSi': 'A range is more than 0.', 'word.reason': 'A reason is needed.' },
  });
  expect(state).toMatchObject({ attempt: 1, typed: { said: '-4' }, done: null });
  expect(state.fields).toEqual({ said: 'A range is more than 0.', reason: 'A reason is needed.' });
  expect(state.message).toBe('Nothing was kept: see beside the fields.');
});

test('who undoes what is undone already is told who was first', () => {
  const late = { code: 'changed-meanwhile', message: 'x', newer: { undoneBy: 'B. Reviewer' } };
  expect(undoRefusal(late)).toBe('Undone already, by B. Reviewer.');
  expect(undoRefusal({ code: 'not-found', message: 'It is gone.' })).toBe('It is gone.');
});
