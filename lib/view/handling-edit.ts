/** What is typed into the forms of tasks and ratings, read into the commands' inputs. */

import { TASK_LOAD_SCALES } from '../core/handling/task-load';
import { found, type ReadForm, readNumber, type Typed } from './clock/clock-edit';
import { boundInSi } from './handling-forms';
import { parseSessionTime } from './timeline-readout';

const TIME_EXPECTED = 'Expected hh:mm:ss, hh:mm:ss.s or seconds.';
const NUMBER_EXPECTED = 'Expected a number, such as 0.5.';

/** A task: times on session time, bounds in the unit that stands beside the quantity. */
export function readTask(typed: Typed): ReadForm {
  const { name = '', pilot = '', quantity = '', reason = '' } = typed;
  const fromS = parseSessionTime(typed.fromS ?? '');
  const toS = parseSessionTime(typed.toS ?? '');
  const fields: Record<string, string> = {};
  if (fromS === null) fields.fromS = `${found(typed.fromS)} ${TIME_EXPECTED}`;
  if (toS === null) fields.toS = `${found(typed.toS)} ${TIME_EXPECTED}`;
  const bound = (field: 'target' | 'desired' | 'adequate', otherwise: string): number | null => {
    const text = (typed[field] ?? '').trim() === '' ? otherwise : typed[field];
    const value = readNumber(text);
    if (value === null) fields[field] = `${found(text)} ${NUMBER_EXPECTED}`;
    return value === null ? null : boundInSi(quantity, value);
  };
  const target = bound('target', '0');
  const desired = bound('desired', '');
  const adequate = bound('adequate', '');
  if (Object.keys(fields).length > 0) return { word: null, fields };
  return {
    word: { name, pilot, fromS, toS, quantity, target, desired, adequate, reason },
    fields: null,
  };
}

/** A task load: one field a sub-scale. */
export function readTaskLoad(typed: Typed): ReadForm {
  const { rater = '', remark = '' } = typed;
  const fields: Record<string, string> = {};
  const load = Object.fromEntries(
    TASK_LOAD_SCALES.map((scale) => {
      const value = readNumber(typed[scale]);
      if (value === null) fields[scale] = 'Choose a value.';
      return [scale, value];
    }),
  );
  if (Object.keys(fields).length > 0) return { word: null, fields };
  return { word: { load, rater, remark }, fields: null };
}

/** A rating: answers come as fields named `answer.KEY`. */
export function readRating(typed: Typed): ReadForm {
  const answers = Object.fromEntries(
    Object.entries(typed).flatMap(([name, value]) =>
      name.startsWith('answer.') ? [[name.slice('answer.'.length), value]] : [],
    ),
  );
  const { scale = '', rater = '', remark = '' } = typed;
  const rating = readNumber(typed.rating);
  if (rating === null) return { word: null, fields: { rating: 'Choose a rating.' } };
  return { word: { scale, answers, rating, rater, remark }, fields: null };
}
