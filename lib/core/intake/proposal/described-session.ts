/** A description that a person accepted, as the data of session.yaml; and what is still open in it. */
import type { Issue } from '../../result';
import { isMessageFile } from '../../session/read-source';
import type { SessionData, SourceData } from '../../session/session-schema';
import { latencySeconds } from '../../session/stamping';
import { isElapsedCode } from '../../time/time-code';
import { CHANNEL_QUANTITIES } from '../../units/quantity';
import type { DescribedTime } from './first-instant';
import {
  type DescribedFile,
  hasRange,
  POSITION_AXES,
  type SessionDescription,
} from './session-proposal';

function timeData({ columns, code, scale, from, dateOrder }: DescribedTime): SourceData['time'] {
  if (code === null) return undefined;
  const [column, second] = columns;
  const place =
    second !== undefined ? { columns: [...columns] } : column === undefined ? {} : { column };
  const since = from === null || !isElapsedCode(code) ? {} : { from: from.trim() };
  const isOrdered = code === 'iso8601' && dateOrder !== null && dateOrder !== 'open';
  const order = isOrdered ? { date_order: dateOrder } : {};
  return { ...place, code, ...(scale === null ? {} : { scale }), ...since, ...order };
}

function stampingData({ stamping: { stamp, latency, available } }: DescribedFile) {
  return {
    ...(stamp === null ? {} : { stamp }),
    ...(latency.trim() === '' ? {} : { latency_s: latencySeconds(latency) }),
    ...(available === null ? {} : { available }),
  };
}

function sourceData(file: DescribedFile): SourceData[] {
  const needsNone = file.time === null || (file.ownTimes && isMessageFile(file.file));
  const time = file.time === null || needsNone ? undefined : timeData(file.time);
  const clock = file.clock === 'callouts' ? { clock: { align: 'callouts' as const } } : {};
  const common = { file: file.file, ...clock, ...stampingData(file) };
  if (file.use === 'events') {
    return [{ ...common, type: 'events', ...(time === undefined ? {} : { time }) }];
  }
  if (file.use === 'ephemeris') return [{ ...common, type: 'ephemeris' }];
  if (file.use !== 'telemetry' || (time === undefined && !needsNone)) return [];
  const channels = file.channels.flatMap(({ column, as, unit, sign }) =>
    as === null
      ? []
      : [[column, { as, unit: unit ?? '1', ...(sign === -1 ? { sign } : {}) }] as const],
  );
  const long =
    file.layout === 'long' && file.nameColumn !== null && file.valueColumn !== null
      ? { layout: file.layout, name_column: file.nameColumn, value_column: file.valueColumn }
      : {};
  const times = time === undefined ? {} : { time };
  return [
    { ...common, type: 'telemetry', ...times, ...long, channels: Object.fromEntries(channels) },
  ];
}

/**
 * The data of session.yaml that a description stands for.
 *
 * @param description as accepted; files of use `nothing` are left out
 * @returns data to be written and then read again by the reader of session.yaml, which judges it
 */
export function describedSession(description: SessionDescription): SessionData {
  const { title, kind, zero, files } = description;
  const named = (use: 'plan' | 'rules'): string | undefined =>
    files.find((file) => file.use === use)?.file;
  const [plan, rules] = [named('plan'), named('rules')];
  return {
    title: title.trim(),
    kind,
    zero: zero.trim(),
    sources: files.flatMap(sourceData),
    ...(plan === undefined ? {} : { plan }),
    ...(rules === undefined ? {} : { rules }),
  };
}

function open(file: string | null, message: string, expected: string): Issue {
  const place = file === null ? {} : { file };
  return { code: 'description-open', severity: 'error', ...place, message, expected };
}

function openInFile(file: DescribedFile): Issue[] {
  if (file.use !== 'telemetry' && file.use !== 'events') return [];
  const issues: Issue[] = [];
  const { latency } = file.stamping;
  if (latency.trim() !== '' && Number.isNaN(latencySeconds(latency)))
    issues.push(
      open(
        file.file,
        `how long it was on its way must be seconds of 0 or more, found "${latency}"`,
        'seconds, as 0.4',
      ),
    );
  if (file.time === null && file.use === 'telemetry')
    issues.push(open(file.file, 'how its times are written is not said', 'a time code'));
  if (file.time !== null && !file.ownTimes) {
    const { columns, code, scale } = file.time;
    if (code === null)
      issues.push(open(file.file, 'how its times are written is not said', 'a time code'));
    else if (file.use === 'telemetry' && columns.length === 0)
      issues.push(open(file.file, 'the column of its times is not said', 'a column'));
    if (code !== null && scale === null)
      issues.push(open(file.file, 'the scale of its times is not said', 'UTC, TAI, GPS or TT'));
    if (code !== null && isElapsedCode(code) && file.time.from?.trim() === '')
      issues.push(
        open(
          file.file,
          'the midnight that its times of the day count from is not said',
          'a UTC instant',
        ),
      );
    if (code === 'iso8601' && file.time.dateOrder === 'open')
      issues.push(
        open(
          file.file,
          'whether the day or the month stands first in its dates is not said',
          'day or month',
        ),
      );
  }
  if (file.use === 'telemetry' && !file.channels.some(({ as }) => as !== null))
    issues.push(
      open(
        file.file,
        'no column of it has a quantity: name one, or leave the file out',
        'a quantity',
      ),
    );
  for (const { column, as, unit } of file.channels) {
    if (as === null || unit !== null || file.use !== 'telemetry') continue;
    const needed = CHANNEL_QUANTITIES.get(as);
    const expected = needed === undefined ? 'its unit, 1 where it has none' : `a unit of ${needed}`;
    issues.push(open(file.file, `the unit of "${column}" (${as}) is not said`, expected));
  }
  return issues;
}

/**
 * What a description leaves open: nothing of it is filled in without being said.
 *
 * @returns one issue for each thing that a person must still say; empty when it can be written
 */
export function openQuestions(description: SessionDescription): readonly Issue[] {
  const { title, zero, files } = description;
  const issues: Issue[] = [];
  if (title.trim() === '') issues.push(open(null, 'the session has no title', 'a title'));
  if (zero.trim() === '')
    issues.push(open(null, 'the instant of session time 0 is not said', 'a UTC instant'));
  if (!files.some(({ use }) => use === 'telemetry' || use === 'events'))
    issues.push(open(null, 'no file is used as telemetry or events', 'at least one'));
  return [...issues, ...files.flatMap(openInFile)];
}

const COLUMNS_NAMED = 6;

/** What of a position is there and what is not, with the columns that could be it. */
function withoutTrack(file: DescribedFile): Issue {
  const { channels } = file;
  const missing = POSITION_AXES.filter((axis) => !channels.some(({ as }) => as === axis));
  const free = channels.filter(({ as }) => as === null).map(({ column }) => column);
  const more = free.length > COLUMNS_NAMED ? `, and ${free.length - COLUMNS_NAMED} more` : '';
  const unused =
    free.length === 0
      ? ''
      : ` Columns without a quantity: ${free.slice(0, COLUMNS_NAMED).join(', ')}${more}.`;
  return {
    code: 'no-track',
    severity: 'warning',
    file: file.file,
    message: `no column is ${missing.join(', ')} or range: phases, rates, most rules and contact cannot be computed from it.${unused}`,
    expected: `${POSITION_AXES.join(', ')}, or range`,
  };
}

/**
 * What a description leaves out so that the main job cannot be done, though it can be written.
 *
 * @returns a warning for each telemetry file where none of them tells how far the vehicle is
 */
export function missingTrack({ files }: SessionDescription): readonly Issue[] {
  const telemetry = files.filter(({ use }) => use === 'telemetry');
  return telemetry.some(hasRange) ? [] : telemetry.map(withoutTrack);
}
