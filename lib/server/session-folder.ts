/** A session folder on the disk into the input of a reconstruction. */
import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { readEventLog } from '@/lib/core/intake/event-log';
import { readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import { farFromZeroIssue } from '@/lib/core/session/far-from-zero';
import type { PartlyRead } from '@/lib/core/session/file-faults';
import type { Plan } from '@/lib/core/session/plan';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import type { Rule } from '@/lib/core/session/rule';
import type { EventSpec, SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type {
  EventSource,
  SessionInput,
  SessionSource,
  TelemetrySource,
} from '@/lib/core/session/session-input';
import { rolloverIssue } from '@/lib/core/time/gps-rollover';
import { type FolderFile, type Found, findFile } from './folder-file';
import { type FolderText, readText } from './read-text';
import { isSystemError } from './samples/durable-files';
import { type ImportReport, importTelemetry } from './samples/import-telemetry';
import type { ImportProgress } from './samples/import-watch';
import { readTelemetrySource } from './samples/read-telemetry';
import { checkTelemetryHead } from './samples/source-head';
import type { SourcePart } from './samples/unpack-source';
import { findSourceFiles } from './source-files';

export type SessionFolderOptions = Readonly<{
  samplesRoot: string;
  threads?: number;
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress & Readonly<{ file: string }>) => void;
  signal?: AbortSignal;
}>;

export type TelemetryFolder = Readonly<{ file: string; folder: string; report: ImportReport }>;

export type SessionFolder = Readonly<{
  /** null when an issue of severity `error` stands in the way. */
  input: SessionInput | null;
  sessionFile: SessionFile | null;
  /** Every file that was read: session.yaml, the plan, the rules and the sources. */
  files: readonly FolderFile[];
  planText: string | null;
  rulesText: string | null;
  telemetry: readonly TelemetryFolder[];
  issues: readonly Issue[];
}>;

/** Names under which a session file is looked for, in this order. */
export const SESSION_FILES = ['session.yaml', 'session.yml', 'session.json'] as const;

const YAML_TEXT = { mostBytes: 1_000_000, encoding: null, otherwise: 'refuse' } as const;
const MOST_LOG_BYTES = 64 * 1024 * 1024;

/** What one reading gathers on its way. */
type Gathered = {
  readonly folder: string;
  readonly options: SessionFolderOptions;
  readonly files: FolderFile[];
  readonly issues: Issue[];
};

function take<T>(gathered: Gathered, found: Found<T>): T | null {
  if (found.issue !== null) gathered.issues.push(found.issue);
  return found.value;
}

/** A text and what was said of it; the file counts as read. */
function takeText(gathered: Gathered, found: Found<FolderText>): FolderText | null {
  const text = take(gathered, found);
  if (text === null) return null;
  gathered.files.push(text.file);
  gathered.issues.push(...text.issues);
  return text;
}

type TextFile<T> = Readonly<{ value: T; text: string; sha256: string }>;

/** Reads a text file of the folder with one of the core's readers, as far as it is understood. */
async function readPart<T, U>(
  gathered: Gathered,
  name: string | null,
  read: (text: string, fileName: string) => PartlyRead<T, U>,
): Promise<TextFile<U> | null> {
  if (name === null) return null;
  const found = takeText(gathered, await readText(gathered.folder, name, YAML_TEXT));
  if (found === null) return null;
  const parsed = read(found.text, name);
  gathered.issues.push(...parsed.issues);
  if (parsed.understood === null) return null;
  return { value: parsed.understood, text: found.text, sha256: found.file.sha256 };
}

async function findSessionFile(gathered: Gathered): Promise<string | null> {
  for (const name of SESSION_FILES) {
    const found = await findFile(gathered.folder, name);
    if (found.issue?.code !== 'file-missing') return name;
  }
  gathered.issues.push({
    code: 'session-file-missing',
    severity: 'error',
    file: SESSION_FILES[0],
    message: 'there is no session.yaml in the folder',
    expected: SESSION_FILES.join(' or '),
  });
  return null;
}

/** What stands in the way of reading the folder; null where nothing does. */
async function folderIssue(folder: string): Promise<Issue | null> {
  const fault = { severity: 'error', expected: 'a session folder' } as const;
  try {
    if (!(await stat(folder)).isDirectory()) {
      return { ...fault, code: 'folder-missing', message: `${folder} is not a folder` };
    }
    await access(folder, constants.R_OK | constants.X_OK);
    return null;
  } catch (error) {
    const message = isSystemError(error, ['EACCES', 'EPERM'])
      ? `the folder ${folder} cannot be opened for reading`
      : `there is no folder ${folder}`;
    return { ...fault, code: 'folder-missing', message };
  }
}

function noteFar(
  gathered: Gathered,
  spec: EventSpec | TelemetrySpec,
  extent: Readonly<{ fromS: number; toS: number }>,
): void {
  const isWeeks = spec.time?.code === 'gps-week-seconds' && spec.clock.kind === 'given';
  const rollover = isWeeks ? rolloverIssue(spec.file, extent.fromS) : null;
  const issue = rollover ?? farFromZeroIssue(spec.file, spec.clock, extent);
  if (issue !== null) gathered.issues.push(issue);
}

async function readEvents(
  gathered: Gathered,
  spec: EventSpec,
  session: SessionFile,
): Promise<EventSource | null> {
  const { encoding } = spec.dialect;
  const wish = { mostBytes: MOST_LOG_BYTES, encoding, otherwise: 'assume' } as const;
  const found = takeText(gathered, await readText(gathered.folder, spec.file, wish));
  if (found === null) return null;
  const log = readEventLog({
    text: found.text,
    fileName: spec.file,
    time: spec.time,
    zero: session.zero,
    separator: spec.dialect.separator,
  });
  gathered.issues.push(...log.issues);
  if (log.value === null) return null;
  const { entries } = log.value;
  const [first, last] = [entries[0], entries.at(-1)];
  if (first !== undefined && last !== undefined) {
    noteFar(gathered, spec, { fromS: first.sourceS, toS: last.sourceS });
  }
  return {
    type: 'events',
    file: spec.file,
    sha256: found.file.sha256,
    clock: spec.clock,
    ...log.value,
  };
}

/** Cheap checks of telemetry files, so that every fault of a folder is told in one go. */
async function checkTelemetry(
  gathered: Gathered,
  spec: TelemetrySpec,
): Promise<readonly SourcePart[]> {
  const { parts, issues } = await findSourceFiles(gathered.folder, spec.files);
  gathered.issues.push(...issues);
  for (const { name, file } of parts) {
    gathered.issues.push(...(await checkTelemetryHead(file, { ...spec, file: name })));
  }
  return issues.length > 0 ? [] : parts;
}

async function readTelemetry(
  gathered: Gathered,
  spec: TelemetrySpec,
  parts: readonly SourcePart[],
  session: SessionFile,
): Promise<Readonly<{ source: TelemetrySource; folder: TelemetryFolder }> | null> {
  const { onProgress, samplesRoot, threads, original, signal } = gathered.options;
  const outcome = await importTelemetry({
    parts,
    spec,
    zero: session.zero,
    samplesRoot,
    ...(threads === undefined ? {} : { threads }),
    ...(original === undefined ? {} : { original }),
    ...(signal === undefined ? {} : { signal }),
    ...(onProgress === undefined
      ? {}
      : { onProgress: (progress: ImportProgress) => onProgress({ ...progress, file: spec.file }) }),
  });
  gathered.issues.push(...outcome.issues);
  const { folder, report } = outcome;
  if (folder === null || report === null || report.source === null) return null;
  const { sha256, bytes } = report.source;
  // The source as a whole, and the files of it that are called otherwise.
  gathered.files.push({ name: spec.file, sha256, bytes });
  gathered.files.push(...report.parts.filter(({ name }) => name !== spec.file));
  if (report.fromS !== null && report.toS !== null) {
    noteFar(gathered, spec, { fromS: report.fromS, toS: report.toS });
  }
  const source = await readTelemetrySource(samplesRoot, folder, spec);
  return { source, folder: { file: spec.file, folder, report } };
}

const PEOPLE_FILE = 'people.yaml';

/** What people said about the clocks, where the folder has a people.yaml. */
async function readCorrections(
  gathered: Gathered,
  session: SessionFile,
): Promise<readonly ClockCorrection[]> {
  const found = await findFile(gathered.folder, PEOPLE_FILE);
  if (found.issue?.code === 'file-missing') return [];
  const people = await readPart(gathered, PEOPLE_FILE, readPeopleFile);
  const corrections = people?.value.clockCorrections ?? [];
  const names = new Set(session.sources.map(({ file }) => file));
  for (const { source } of corrections) {
    if (names.has(source)) continue;
    gathered.issues.push({
      code: 'source-unknown',
      severity: 'warning',
      file: PEOPLE_FILE,
      message: `a clock correction names "${source}", which is no source of the session`,
      expected: [...names].join(', '),
      received: source,
    });
  }
  return corrections;
}

/** What is kept and said, because nothing is computed from it yet. */
async function noteUnused(gathered: Gathered, session: SessionFile): Promise<Issue[]> {
  const notes: Issue[] = [];
  for (const spec of session.sources) {
    if (spec.type !== 'ephemeris') continue;
    const wish = { mostBytes: MOST_LOG_BYTES, encoding: null, otherwise: 'refuse' } as const;
    const found = takeText(gathered, await readText(gathered.folder, spec.file, wish));
    if (found === null) continue;
    const { value, issues } = readCcsdsMessage(found.text, spec.file);
    gathered.issues.push(...issues);
    if (value === null) continue;
    const states = value.segments.reduce((sum, segment) => sum + segment.rows.length, 0);
    notes.push({
      code: 'not-computed',
      severity: 'note',
      file: spec.file,
      message: `the ${value.kind} has ${states} rows in ${value.segments.length} segments; it is kept but nothing is computed from it yet`,
    });
  }
  if (session.simulations !== null) {
    notes.push({
      code: 'not-computed',
      severity: 'note',
      keyPath: 'simulations',
      message: `the simulations ${session.simulations.files} are not compared yet`,
    });
  }
  gathered.issues.push(...notes);
  return notes;
}

type Sources = Readonly<{
  sources: readonly SessionSource[];
  telemetry: readonly TelemetryFolder[];
}>;

/** Logs and heads first, which is quick; samples only when nothing stands in the way. */
async function readSources(gathered: Gathered, session: SessionFile): Promise<Sources> {
  const logs = new Map<string, EventSource>();
  const found = new Map<string, readonly SourcePart[]>();
  for (const spec of session.sources) {
    gathered.options.signal?.throwIfAborted();
    if (spec.type === 'events') {
      const log = await readEvents(gathered, spec, session);
      if (log !== null) logs.set(spec.file, log);
    } else if (spec.type === 'telemetry') {
      found.set(spec.file, await checkTelemetry(gathered, spec));
    }
  }
  const sources: SessionSource[] = [];
  const telemetry: TelemetryFolder[] = [];
  if (hasErrors(gathered.issues)) return { sources, telemetry };
  for (const spec of session.sources) {
    const log = logs.get(spec.file);
    if (log !== undefined) sources.push(log);
    const parts = found.get(spec.file) ?? [];
    if (spec.type !== 'telemetry' || parts.length === 0) continue;
    const read = await readTelemetry(gathered, spec, parts, session);
    if (read === null) continue;
    sources.push(read.source);
    telemetry.push(read.folder);
  }
  return { sources, telemetry };
}

/**
 * Reads a session folder whole: its three small files, its logs, and its telemetry through the
 * sample store. Every fault found is one issue; a fault of severity `error` leaves `input` null.
 *
 * @param folder path of the folder
 */
export async function readSessionFolder(
  folder: string,
  options: SessionFolderOptions,
): Promise<SessionFolder> {
  const gathered: Gathered = { folder, options, files: [], issues: [] };
  const nothing = (): SessionFolder => ({
    input: null,
    sessionFile: null,
    files: gathered.files,
    planText: null,
    rulesText: null,
    telemetry: [],
    issues: gathered.issues,
  });
  const hidden = await folderIssue(folder);
  if (hidden !== null) {
    gathered.issues.push(hidden);
    return nothing();
  }
  const name = await findSessionFile(gathered);
  const session = await readPart(gathered, name, readSessionFile);
  if (session === null) return nothing();
  const { session: value, onlyNamed } = session.value;
  for (const file of onlyNamed) take(gathered, await findFile(folder, file));
  const plan: TextFile<Plan> | null = await readPart(gathered, value.planFile, readPlanFile);
  const rules: TextFile<readonly Rule[]> | null = await readPart(
    gathered,
    value.rulesFile,
    (text, fileName) => readRulesFile(text, fileName, plan?.value ?? null),
  );
  const clockCorrections = await readCorrections(gathered, value);
  const notComputed = await noteUnused(gathered, value);
  const { sources, telemetry } = await readSources(gathered, value);
  const input: SessionInput | null = hasErrors(gathered.issues)
    ? null
    : {
        title: value.title,
        kind: value.kind,
        zero: value.zero,
        zeroUtc: value.zeroUtc,
        plan: plan?.value ?? null,
        planSha256: plan?.sha256 ?? null,
        rules: rules?.value ?? [],
        rulesSha256: rules?.sha256 ?? null,
        sources,
        ...(clockCorrections.length === 0 ? {} : { clockCorrections }),
        notComputed,
      };
  return {
    input,
    sessionFile: value,
    files: gathered.files,
    planText: plan?.text ?? null,
    rulesText: rules?.text ?? null,
    telemetry,
    issues: gathered.issues,
  };
}
