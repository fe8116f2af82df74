/** A small whole file of each format that is read, with what reads it. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { DuckDBInstance } from '@duckdb/node-api';
import { zipSync } from 'fflate';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { formatInstant } from '@/lib/core/time/format';
import type { TimeSpec } from '@/lib/core/time/time-code';
import { channelSpec, telemetrySpec, ZERO } from '../support/telemetry-spec';
import type { FolderFiles } from './damage';
import { smallFolder } from './damaged-case';
import {
  answerOf,
  type Format,
  logFormat,
  telemetryFormat,
  textFormat,
  zipFormat,
} from './damaged-format';

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

/** Utterances of one to three lines, some by a second speaker at the same stamp. */
function textLog(): string {
  const lines = Array.from({ length: 40 }, (_, index) => {
    const said = SPOKEN[index % SPOKEN.length] ?? '';
    const more = index % 3 === 0 ? ['and holding,', '20 metres.'] : [];
    const reply = index % 4 === 0 ? ['Flight: Copy.'] : [];
    return [`[${stamp(index * 7, '.')}] CREW: ${said}`, ...more, ...reply].join('\n');
  });
  return `${lines.join('\n')}\n`;
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
    logFormat('loop.txt', textLog(), 'elapsed-dhms'),
    logFormat('loop.jsonl', `${rows.map((row) => JSON.stringify(row)).join('\n')}\n`),
  ];
}

/** So few rows of so few columns that what a case costs is the reading itself. */
const ROWS = 60;

type Row = Readonly<{ t: string; utc: string; x: string; vx: string }>;

function rows(): readonly Row[] {
  return Array.from({ length: ROWS }, (_, index) => ({
    t: (0.2 * index).toFixed(1),
    utc: formatInstant({ taiNs: ZERO.taiNs + BigInt(index) * 200_000_000n }, 'UTC', {
      decimals: 3,
    }),
    x: (20 - 0.02 * index).toFixed(4),
    vx: (-0.1 - 0.0001 * (index % 7)).toFixed(5),
  }));
}

const DATED = { columns: ['utc'], code: 'iso8601', scale: 'UTC', from: ZERO } as const;
const COUNTED = { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: ZERO } as const;
const CHANNELS = [channelSpec('x'), channelSpec('vx', { unit: 'm/s', siUnit: 'm/s' })];

function tableSpec(file: string, time: TimeSpec) {
  return telemetrySpec({ file, files: [file], time, channels: CHANNELS });
}

const KVN_HEAD = `CCSDS_TDM_VERS = 2.0
CREATION_DATE = 2031-061T12:00:00
ORIGINATOR = TEST
META_START
TIME_SYSTEM = UTC
PARTICIPANT_1 = PORT
PARTICIPANT_2 = CHASER
MODE = SEQUENTIAL
PATH = 1,2,1
RANGE_UNITS = km
META_STOP
DATA_START
`;

/** Tracking data in the two spellings of CCSDS 503.0-B-2; the numbers are invented. */
function trackingData(): Readonly<{ kvn: string; xml: string }> {
  const ranges = rows().map(({ utc, x }) => [utc, (Number(x) / 1000).toFixed(7)] as const);
  const kvn = ranges.map(([utc, range]) => `RANGE = ${utc} ${range}\n`).join('');
  const observations = ranges.map(
    ([utc, range]) => `<observation><EPOCH>${utc}</EPOCH><RANGE>${range}</RANGE></observation>\n`,
  );
  return {
    kvn: `${KVN_HEAD}${kvn}DATA_STOP\n`,
    xml: `<?xml version="1.0" encoding="UTF-8"?>
<tdm id="CCSDS_TDM_VERS" version="2.0">
<header><CREATION_DATE>2031-061T12:00:00</CREATION_DATE><ORIGINATOR>TEST</ORIGINATOR></header>
<body><segment><metadata><TIME_SYSTEM>UTC</TIME_SYSTEM><PARTICIPANT_1>PORT</PARTICIPANT_1>
<PARTICIPANT_2>CHASER</PARTICIPANT_2><MODE>SEQUENTIAL</MODE><PATH>1,2,1</PATH>
<RANGE_UNITS>km</RANGE_UNITS></metadata><data>
${observations.join('')}</data></segment></body></tdm>
`,
  };
}

async function parquetBytes(): Promise<Buffer> {
  const folder = await mkdtemp(path.join(tmpdir(), 'wakeline-parquet-'));
  const file = path.join(folder, 'a.parquet');
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  const values = rows().map(({ t, x, vx }) => `(${t}::DOUBLE, ${x}::DOUBLE, ${vx}::DOUBLE)`);
  await connection.run(
    `COPY (SELECT * FROM (VALUES ${values.join(', ')}) AS t(t, x, vx)) TO '${file}' (FORMAT parquet)`,
  );
  connection.closeSync();
  instance.closeSync();
  const bytes = await readFile(file);
  await rm(folder, { recursive: true });
  return bytes;
}

async function telemetryFormats(): Promise<readonly Format[]> {
  const lines = rows().map(({ utc, x, vx }) => `${utc},${x},${vx}`);
  const csv = Buffer.from(`utc,x,vx\n${lines.join('\n')}\n`);
  const json = rows().map(({ t, x, vx }) => `{"t":${t},"x":${x},"vx":${vx}}`);
  const { kvn, xml } = trackingData();
  const range = channelSpec('RANGE', { as: 'range', unit: 'km', siUnit: 'm', toSi: 1000 });
  const messageSpec = (file: string) => telemetrySpec({ file, files: [file], channels: [range] });
  const format = (name: string, whole: string | Buffer, time: TimeSpec) =>
    telemetryFormat(Buffer.from(whole), tableSpec(name, time), ZERO);
  return [
    format('telemetry.csv', csv, DATED),
    format('telemetry.jsonl', `${json.join('\n')}\n`, COUNTED),
    format('telemetry.csv.gz', gzipSync(csv), DATED),
    format('telemetry.parquet', await parquetBytes(), COUNTED),
    telemetryFormat(Buffer.from(kvn), messageSpec('tracking.tdm'), ZERO),
    telemetryFormat(Buffer.from(xml), messageSpec('tracking.xml'), ZERO),
  ];
}

function packed(folder: FolderFiles): Format {
  const names = ['session.yaml', 'plan.yaml', 'rules.yaml'];
  const files = new Map(names.map((name) => [name, folder.get(name) ?? Buffer.alloc(0)]));
  return zipFormat('flight.zip', Buffer.from(zipSync(Object.fromEntries(files))), files);
}

/** Every format with its whole file. */
export async function damagedFormats(): Promise<readonly Format[]> {
  const folder = smallFolder();
  const bytesOf = (name: string): Buffer => folder.get(name) ?? Buffer.alloc(0);
  const plan = readPlanFile(bytesOf('plan.yaml').toString(), 'plan.yaml').value;
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
    ...(await telemetryFormats()),
    packed(folder),
    ...logFormats(),
  ];
}
