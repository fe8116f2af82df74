/** A session folder on the disk into the input of a reconstruction. */
import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { PartlyRead } from '@/lib/core/session/file-faults';
import type { Plan } from '@/lib/core/session/plan';
import { type PeopleFile, readPeopleFile } from '@/lib/core/session/read-people-file';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { RECORDINGS_FOLDER } from '@/lib/core/session/recording-words';
import type { Rule } from '@/lib/core/session/rule';
import type { SessionFile } from '@/lib/core/session/session-file';
import type { SessionInput } from '@/lib/core/session/session-input';
import { withoutAbsent } from './absent-sources';
import { type FolderFile, findFile } from './folder-file';
import {
  type Gathered,
  type SessionFolderOptions,
  type TelemetryFolder,
  take,
  takeText,
} from './folder-reading';
import { type FolderSimulations, readSimulations } from './folder-simulations';
import { noteUnused, readSources } from './folder-sources';
import { explainMissing } from './missing-files';
import { readText } from './read-text';
import { isSystemError } from './samples/durable-files';
import { unusedFiles, unusedNote } from './unused-files';

export type SessionFolder = Readonly<{
  /** null when an issue of severity `error` stands in the way. */
  input: SessionInput | null;
  sessionFile: SessionFile | null;
  /** Every file that was read: session.yaml, the plan, the rules and the sources. */
  files: readonly FolderFile[];
  planText: string | null;
  rulesText: string | null;
  telemetry: readonly TelemetryFolder[];
  /** Folder under the samples root with the simulator runs; null where there are none. */
  runsFolder: string | null;
  issues: readonly Issue[];
}>;

/** Names under which a session file is looked for, in this order. */
export const SESSION_FILES = ['session.yaml', 'session.yml', 'session.json'] as const;

const YAML_TEXT = { mostBytes: 1_000_000, encoding: null, otherwise: 'refuse' } as const;
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

const PEOPLE_FILE = 'people.yaml';
const NOTHING_SAID: PeopleFile = { clockCorrections: [], stretchCorrections: [] };

/** What people said, where the folder has a people.yaml. */
async function readCorrections(gathered: Gathered, session: SessionFile): Promise<PeopleFile> {
  const found = await findFile(gathered.folder, PEOPLE_FILE);
  if (found.issue?.code === 'file-missing') return NOTHING_SAID;
  const people = await readPart(gathered, PEOPLE_FILE, readPeopleFile);
  const said = people?.value ?? NOTHING_SAID;
  const corrections = [...said.clockCorrections, ...said.stretchCorrections];
  const names = new Set(session.sources.map(({ file }) => file));
  for (const { source } of corrections) {
    if (names.has(source)) continue;
    gathered.issues.push({
      code: 'source-unknown',
      severity: 'warning',
      file: PEOPLE_FILE,
      message: `a correction names "${source}", which is no source of the session`,
      expected: [...names].join(', '),
      received: source,
    });
  }
  return said;
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
    runsFolder: null,
    issues: gathered.issues,
  });
  const hidden = await folderIssue(folder);
  if (hidden !== null) {
    gathered.issues.push(hidden);
    return nothing();
  }
  const name = await findSessionFile(gathered);
  const session = await readPart(gathered, name, readSessionFile);
  if (name === null || session === null) return nothing();
  const sessionText = { fileName: name, text: session.text };
  const unused = await unusedFiles(folder, session.value.session, session.value.onlyNamed);
  const { onlyNamed } = session.value;
  const { session: value, notes } = await withoutAbsent(folder, session.value.session);
  gathered.issues.push(...notes);
  for (const file of onlyNamed) take(gathered, await findFile(folder, file));
  const plan: TextFile<Plan> | null = await readPart(gathered, value.planFile, readPlanFile);
  const rules: TextFile<readonly Rule[]> | null = await readPart(
    gathered,
    value.rulesFile,
    (text, fileName) => readRulesFile(text, fileName, plan?.value ?? null),
  );
  const said = await readCorrections(gathered, value);
  const { clockCorrections, stretchCorrections, ruleDispositions } = said;
  const { phaseEdits, handlingTasks, handlingRatings, crewQuestions, recordings } = said;
  const carried = new Set(recordings?.map((each) => `${RECORDINGS_FOLDER}${each.name}`));
  const unread = unused.filter((file) => !carried.has(file));
  const notComputed = await noteUnused(gathered, value);
  const { sources, telemetry } = await readSources(gathered, value);
  const simulations: FolderSimulations | null = hasErrors(gathered.issues)
    ? null
    : await readSimulations(gathered, value);
  const input: SessionInput | null = hasErrors(gathered.issues)
    ? null
    : {
        title: value.title,
        kind: value.kind,
        zero: value.zero,
        zeroUtc: value.zeroUtc,
        ...(value.missionZero === undefined ? {} : { missionZero: value.missionZero }),
        plan: plan?.value ?? null,
        planSha256: plan?.sha256 ?? null,
        rules: rules?.value ?? [],
        rulesSha256: rules?.sha256 ?? null,
        sources,
        ...(clockCorrections.length === 0 ? {} : { clockCorrections }),
        ...(stretchCorrections.length === 0 ? {} : { stretchCorrections }),
        ...(phaseEdits === undefined ? {} : { phaseEdits }),
        ...(ruleDispositions === undefined ? {} : { ruleDispositions }),
        ...(handlingTasks === undefined ? {} : { handlingTasks }),
        ...(handlingRatings === undefined ? {} : { handlingRatings }),
        ...(crewQuestions === undefined ? {} : { crewQuestions }),
        ...(recordings === undefined ? {} : { recordings }),
        ...(simulations === null ? {} : { simulations: simulations.set }),
        notComputed: [...notes, ...notComputed],
      };
  return {
    input,
    sessionFile: value,
    files: gathered.files,
    planText: plan?.text ?? null,
    rulesText: rules?.text ?? null,
    telemetry,
    runsFolder: simulations?.folder ?? null,
    issues: [...explainMissing(gathered.issues, sessionText, unread), ...unusedNote(unread)],
  };
}
