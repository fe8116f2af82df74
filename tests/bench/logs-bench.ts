/** Readers of logs against reading the same text and splitting it into lines. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { readEventLog } from '@/lib/core/intake/event-log';
import type { TimeSpec } from '@/lib/core/time/time-code';
import { ZERO } from '../support/telemetry-spec';
import { type Bench, type BenchRow, median, secondsOf } from './bench';

const ENTRIES = 100_000;
const ROUNDS = 5;

const WORDS = 'Range two hundred metres, closing at three tenths, corridor is good';

function clock(timeS: number, mark: string): string {
  const parts = [Math.floor(timeS / 3600), Math.floor(timeS / 60) % 60, timeS % 60];
  return `${parts.map((part) => String(part).padStart(2, '0')).join(':')}${mark}`;
}

type LogForm = Readonly<{
  fileName: string;
  time: TimeSpec | null;
  text: string;
}>;

function timed(code: TimeSpec['code'], columns: readonly string[]): TimeSpec {
  return { columns: [...columns], code, scale: 'UTC', from: ZERO };
}

/** The same log in each form that is read. */
function logForms(): readonly LogForm[] {
  const entries = Array.from({ length: ENTRIES }, (_, at) => at);
  const lines = (line: (at: number) => string): string => `${entries.map(line).join('\n')}\n`;
  return [
    {
      fileName: 'loop.vtt',
      time: null,
      text: `WEBVTT\n\n${lines((at) => `${clock(at, '.250')} --> ${clock(at + 1, '.000')}\n<v Crew>${WORDS} ${at}\n`)}`,
    },
    {
      fileName: 'loop.srt',
      time: null,
      text: lines(
        (at) =>
          `${at + 1}\n${clock(at, ',250')} --> ${clock(at + 1, ',000')}\nCREW: ${WORDS} ${at}\n`,
      ),
    },
    {
      fileName: 'loop.csv',
      time: timed('elapsed-seconds', ['t']),
      text: `t,speaker,text\n${lines((at) => `${at}.25,Crew,"${WORDS} ${at}"`)}`,
    },
    {
      fileName: 'loop.jsonl',
      time: timed('elapsed-seconds', ['t']),
      text: lines((at) => JSON.stringify({ t: at + 0.25, speaker: 'Crew', text: WORDS })),
    },
    {
      fileName: 'loop.txt',
      time: timed('elapsed-dhms', []),
      text: lines((at) => `${clock(at, '')} CREW: ${WORDS} ${at}`),
    },
  ];
}

async function benchForm(folder: string, form: LogForm): Promise<BenchRow> {
  const { fileName, time, text } = form;
  const file = path.join(folder, fileName);
  await writeFile(file, text);
  const [ours, plain]: [number[], number[]] = [[], []];
  for (let round = 0; round < ROUNDS; round += 1) {
    plain.push(
      await secondsOf(async () => {
        const lines = (await readFile(file, 'utf8')).split('\n');
        if (lines.length < ENTRIES) throw new Error(`${fileName} has ${lines.length} lines`);
      }),
    );
    ours.push(
      await secondsOf(async () => {
        const read = readEventLog({
          text: await readFile(file, 'utf8'),
          fileName,
          time,
          zero: ZERO,
        });
        const count = read.value?.entries.length ?? 0;
        if (count !== ENTRIES) throw new Error(`${fileName} gave ${count} entries`);
      }),
    );
  }
  const [measured, reference] = [median(ours), median(plain)];
  const megabytes = Buffer.byteLength(text) / 1e6;
  const speed = (seconds: number): string => `${Math.round(megabytes / seconds)} MB/s`;
  return {
    what: `log ${fileName}, ${ENTRIES} entries`,
    unit: 's',
    measured,
    reference,
    against: 'reading and splitting its lines',
    must: 40,
    aim: 20,
    detail: `${speed(measured)} beside ${speed(reference)}, medians of ${ROUNDS} alternating runs`,
  };
}

export const logsBench: Bench = {
  name: 'logs',
  run: async (say) => {
    const folder = await mkdtemp(path.join(tmpdir(), 'wakeline-bench-'));
    try {
      const rows: BenchRow[] = [];
      for (const form of logForms()) {
        say(form.fileName);
        rows.push(await benchForm(folder, form));
      }
      return rows;
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  },
};
