/**
 * One damaged file of each format through its reader: an error that says why, or a result whose
 * rows add up. Nothing throws, nothing hangs, nothing half-written stays.
 */
import { mkdir, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { readEventLog } from '@/lib/core/intake/event-log';
import { hasErrors, type Issue } from '@/lib/core/result';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import type { SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import { readText } from '@/lib/server/read-text';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { damageFile } from './damage';
import { type CaseOutcome, issueProblems, leftovers, smallFolder } from './damaged-case';

/** Longest that one damaged file may take, ms: a whole one takes some milliseconds. */
const PATIENCE_MS = 20_000;
const TEXT = { mostBytes: 4_000_000, encoding: null, otherwise: 'refuse' } as const;

type Answer = Readonly<{
  isRead: boolean;
  issues: readonly Issue[];
  /** Empty when the rows add up. */
  accounts: readonly string[];
}>;

type Place = Readonly<{ folder: string; samplesRoot: string }>;

type Format = Readonly<{
  name: string;
  whole: Buffer;
  read: (place: Place) => Promise<Answer>;
}>;

type TextReader = (text: string, fileName: string) => Omit<Answer, 'accounts'> & Partial<Answer>;

function textFormat(name: string, whole: Buffer, read: TextReader): Format {
  return {
    name,
    whole,
    read: async ({ folder }) => {
      const found = await readText(folder, name, TEXT);
      if (found.value === null) return { isRead: false, issues: [found.issue], accounts: [] };
      return { accounts: [], ...read(found.value.text, name) };
    },
  };
}

const answerOf = ({ value, issues }: Readonly<{ value: unknown; issues: readonly Issue[] }>) => ({
  isRead: value !== null,
  issues,
});

/** Logs count their own seconds from zero. */
const ELAPSED = {
  columns: ['t'],
  code: 'elapsed-seconds',
  scale: 'UTC',
  from: { taiNs: 0n },
} as const;

function logFormat(name: string, whole: string): Format {
  return textFormat(name, Buffer.from(whole), (text, fileName) => {
    const log = readEventLog({ text, fileName, time: ELAPSED, zero: ELAPSED.from });
    if (log.value === null) return answerOf(log);
    const { entries, rowsRead, rowsRejected } = log.value;
    // A cue with two voices in it is one row and two entries.
    const sum = new Set(entries.map(({ line }) => line)).size + rowsRejected;
    const accounts = sum === rowsRead ? [] : [`${rowsRead} rows read, ${sum} accounted for`];
    if (entries.some(({ sourceS }) => !Number.isFinite(sourceS))) accounts.push('a time is none');
    return { ...answerOf(log), accounts };
  });
}

function telemetryFormat(whole: Buffer, spec: TelemetrySpec, session: SessionFile): Format {
  const read = async ({ folder, samplesRoot }: Place): Promise<Answer> => {
    const parts = [{ name: spec.file, file: path.join(folder, spec.file) }];
    const { zero } = session;
    const request = { parts, spec, zero, samplesRoot, threads: 1, original: 'leave' } as const;
    const outcome = await importTelemetry(request);
    const left = (await leftovers(samplesRoot)).map((name) => `${name} was left behind`);
    const { report, issues } = outcome;
    if (outcome.folder === null || report === null) {
      return { isRead: false, issues, accounts: left };
    }
    const { rows, rowsRead, rowsRejected, rowsOutOfOrder } = report;
    const sum = rows + rowsRejected + rowsOutOfOrder;
    if (sum !== rowsRead) left.push(`${rowsRead} rows read, ${sum} accounted for`);
    return { isRead: true, issues, accounts: left };
  };
  return { name: spec.file, whole, read };
}

const SPOKEN = ['Range 140 metres.', 'closing, three tenths', 'Go for final', 'hold at 30'];

function stamp(timeS: number, mark: ',' | '.'): string {
  const [minutes, seconds] = [Math.floor(timeS / 60), timeS % 60];
  const two = (value: number): string => String(value).padStart(2, '0');
  return `00:${two(minutes)}:${two(seconds)}${mark}500`;
}

function cues(mark: ',' | '.', speaker: (text: string) => string): string[] {
  return Array.from({ length: 40 }, (_, index) => {
    const timing = `${stamp(index * 7, mark)} --> ${stamp(index * 7 + 4, mark)}`;
    return `${index + 1}\n${timing}\n${speaker(SPOKEN[index % SPOKEN.length] ?? '')}\n`;
  });
}

function logFormats(): readonly Format[] {
  const rows = Array.from({ length: 40 }, (_, index) => ({
    t: index * 7.5,
    event: index % 5 === 0 ? 'poll' : '',
    speaker: 'Flight',
    text: SPOKEN[index % SPOKEN.length] ?? '',
  }));
  const csv = rows.map((row) => `${row.t},${row.event},${row.speaker},"${row.text}"`);
  return [
    logFormat('events.csv', `t,event,speaker,text\n${csv.join('\n')}\n`),
    logFormat('loop.vtt', `WEBVTT\n\n${cues('.', (text) => `<v Flight>${text}`).join('\n')}`),
    logFormat('loop.srt', cues(',', (text) => `FLIGHT: ${text}`).join('\n')),
    logFormat('loop.jsonl', `${rows.map((row) => JSON.stringify(row)).join('\n')}\n`),
  ];
}

const TELEMETRY_LINES = 120;

function headOf(bytes: Buffer, lines: number): Buffer {
  return Buffer.from(`${bytes.toString().split('\n').slice(0, lines).join('\n')}\n`);
}

/** A small whole file of each format, with what reads it. */
export function damagedFormats(): readonly Format[] {
  const folder = smallFolder();
  const bytesOf = (name: string): Buffer => folder.get(name) ?? Buffer.alloc(0);
  const session = readSessionFile(bytesOf('session.yaml').toString(), 'session.yaml').value;
  const plan = readPlanFile(bytesOf('plan.yaml').toString(), 'plan.yaml').value;
  const spec = session?.sources.find((each) => each.type === 'telemetry');
  if (session === null || spec === undefined) throw new Error('the small folder cannot be read');
  return [
    textFormat('session.yaml', bytesOf('session.yaml'), (text, name) =>
      answerOf(readSessionFile(text, name)),
    ),
    textFormat('plan.yaml', bytesOf('plan.yaml'), (text, name) =>
      answerOf(readPlanFile(text, name)),
    ),
    textFormat('rules.yaml', bytesOf('rules.yaml'), (text, name) =>
      answerOf(readRulesFile(text, name, plan)),
    ),
    telemetryFormat(headOf(bytesOf(spec.file), TELEMETRY_LINES), spec, session),
    ...logFormats(),
  ];
}

/** Runs one case in a scratch folder that is removed afterwards. A negative seed damages nothing. */
export async function runDamagedFormat(
  format: Format,
  seed: number,
  scratch: string,
): Promise<CaseOutcome> {
  const { bytes, said } = damageFile(format.whole, seed);
  const place = {
    folder: path.join(scratch, 'folder'),
    samplesRoot: path.join(scratch, 'samples'),
  };
  await mkdir(place.folder, { recursive: true });
  await writeFile(path.join(place.folder, format.name), bytes);
  const problems: string[] = [];
  let ended: CaseOutcome['ended'] = 'threw';
  const startedMs = performance.now();
  try {
    const { isRead, issues, accounts } = await format.read(place);
    ended = isRead ? 'read' : 'refused';
    if (isRead === hasErrors(issues)) problems.push(`${ended}, but its issues say otherwise`);
    problems.push(...accounts, ...issues.flatMap((issue) => issueProblems(issue, scratch)));
  } catch (error) {
    problems.push(error instanceof Error ? `threw ${error.stack}` : `threw ${error}`);
  }
  const tookMs = performance.now() - startedMs;
  if (tookMs > PATIENCE_MS) problems.push(`took ${Math.round(tookMs)} ms`);
  await rm(scratch, { recursive: true, force: true });
  return { seed, said: `${format.name}: ${said}`, ended, problems: [...new Set(problems)] };
}
