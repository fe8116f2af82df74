/** Writes everything the database keeps of an imported session, inside one transaction. */
import { createHash } from 'node:crypto';
import {
  type CrewAnswer,
  type CrewQuestionWords,
  withFurtherAnswers,
} from '@/lib/core/session/crew-question-words';
import type { EventSource, LogEntry } from '@/lib/core/session/session-input';
import type { Actor } from '../actor';
import { answersOf, CREW_QUESTION_COLUMNS, type CrewQuestionRow } from '../crew-question-row';
import type { Transaction } from '../db';
import { newId } from '../new-id';
import { toJson } from '../rows';
import type { FolderReading } from './import-messages';
import type { ReconstructedMessage } from './reconstruct-in-child';
import { storePlan, storeRules } from './store-versions';

export type SessionOrigin = 'import' | 'demo';

export type NewSession = Readonly<{
  id: string;
  origin: SessionOrigin;
  folderSha256: string;
  reading: FolderReading;
  reconstruction: ReconstructedMessage;
}>;

const ENTRIES_AT_ONCE = 500;

/** SHA-256 over names and hashes of the folder's files: the same folder, however it came. */
export function folderHash(reading: FolderReading): string {
  const hash = createHash('sha256');
  for (const file of [...reading.files].sort((a, b) => (a.name < b.name ? -1 : 1))) {
    hash.update(`${file.name}\0${file.sha256}\n`);
  }
  return hash.digest('hex');
}

/** The session of the same folder, if the team has it. */
export async function findSameSession(
  tx: Transaction,
  teamId: string,
  folderSha256: string,
): Promise<string | null> {
  const where = { teamId_folderSha256: { teamId, folderSha256 } };
  return (await tx.session.findUnique({ where, select: { id: true } }))?.id ?? null;
}

/** Session, versions of plan and rules, sources with their log entries, reconstruction. */
export async function storeSession(
  tx: Transaction,
  actor: Actor,
  session: NewSession,
): Promise<void> {
  const { reading, reconstruction } = session;
  const { input } = reading;
  await tx.session.create({
    data: {
      id: session.id,
      teamId: actor.teamId,
      title: input.title,
      kind: input.kind,
      zeroTaiNs: input.zero.taiNs,
      zeroUtc: input.zeroUtc,
      origin: session.origin,
      folderSha256: session.folderSha256,
      planVersionId: await storePlan(tx, actor, reading),
      ruleSetVersionId: await storeRules(tx, actor, reading),
    },
    select: { id: true },
  });
  for (const spec of reading.sessionFile.sources) {
    const kept = { sessionId: session.id, reading, file: spec.file, earlier: null };
    await storeSource(tx, kept);
  }
  await storeCrewQuestions(tx, session.id, input.crewQuestions ?? []);
  await storeReconstruction(tx, session.id, reconstruction);
}

const questionKey = ({
  question,
  fromS,
  toS,
}: Pick<CrewQuestionWords, 'question' | 'fromS' | 'toS'>) => JSON.stringify([question, fromS, toS]);

async function takeFurtherAnswers(
  tx: Transaction,
  row: CrewQuestionRow,
  further: readonly CrewAnswer[],
): Promise<void> {
  const there = answersOf(row);
  const answers = withFurtherAnswers(there, further);
  if (answers === there) return;
  await tx.crewQuestion.update({
    where: { id: row.id },
    data: { answers: JSON.stringify(answers), version: { increment: 1 } },
    select: { id: true },
  });
}

/**
 * Questions that came with the folder: from now on they are asked and answered here. One that was on the
 * sheet before keeps its number and words, and takes over the answers that it did not have.
 */
export async function storeCrewQuestions(
  tx: Transaction,
  sessionId: string,
  questions: readonly CrewQuestionWords[],
): Promise<void> {
  if (questions.length === 0) return;
  const there = await tx.crewQuestion.findMany({
    where: { sessionId },
    select: CREW_QUESTION_COLUMNS,
  });
  const known = new Map(there.map((row) => [questionKey(row), row]));
  for (const asked of questions) {
    const row = known.get(questionKey(asked));
    if (row !== undefined) await takeFurtherAnswers(tx, row, asked.answers);
  }
  const fresh = questions.filter((asked) => !known.has(questionKey(asked)));
  const taken = new Set(there.map(({ number }) => number));
  const numbers = [...there, ...fresh].map(({ number }) => number);
  let highest = numbers.reduce((most, number) => Math.max(most, number), 0);
  await tx.crewQuestion.createMany({
    data: fresh.map(({ channels, answers, number, ...asked }) => ({
      id: newId(),
      sessionId,
      ...asked,
      number: taken.has(number) ? ++highest : number,
      channels: JSON.stringify(channels),
      answers: JSON.stringify(answers),
    })),
  });
}

/** A reconstruction just computed: from now on the session's newest. */
export async function storeReconstruction(
  tx: Transaction,
  sessionId: string,
  reconstruction: ReconstructedMessage,
): Promise<void> {
  const { inputsSha256, engine, body, derivedFolder, runsFolder } = reconstruction;
  const key = { sessionId, inputsSha256, engine };
  await tx.reconstruction.upsert({
    where: { sessionId_inputsSha256_engine: key },
    create: { id: newId(), ...key, body, derivedFolder, runsFolder },
    // Computed before, as after going back to an earlier file: it is the newest again.
    update: { createdAt: new Date() },
    select: { id: true },
  });
}

/** A file that takes the place of an earlier version of it. */
export type EarlierVersion = Readonly<{ id: string; number: number }>;

export type KeptSourceFile = Readonly<{
  sessionId: string;
  reading: FolderReading;
  file: string;
  /** null for the first version. */
  earlier: EarlierVersion | null;
}>;

/** Writes one version of a source, with the entries of a log. */
export async function storeSource(tx: Transaction, kept: KeptSourceFile): Promise<void> {
  const { sessionId, reading, file, earlier } = kept;
  const declared = reading.sessionFile.sources.find((spec) => spec.file === file);
  const known = reading.files.find((each) => each.name === file);
  if (declared === undefined || known === undefined) throw new Error(`${file} was not read`);
  const telemetry = reading.telemetry.find((each) => each.file === file);
  const source = reading.input.sources.find((each) => each.file === file);
  const log = source?.type === 'events' ? source : null;
  const id = newId();
  await tx.sourceVersion.create({
    data: {
      id,
      sessionId,
      file,
      type: declared.type,
      number: (earlier?.number ?? 0) + 1,
      supersedesId: earlier?.id ?? null,
      sha256: known.sha256,
      bytes: BigInt(known.bytes),
      folder: telemetry?.folder ?? '',
      declared: toJson(declared),
      report: toJson(telemetry?.report ?? rowCounts(log)),
    },
    select: { id: true },
  });
  await storeEntries(tx, id, log?.entries ?? []);
}

type RowCounts = Pick<EventSource, 'rowsRead' | 'rowsRejected' | 'rejects'>;

function rowCounts(log: EventSource | null): Partial<RowCounts> {
  if (log === null) return {};
  const { rowsRead, rowsRejected, rejects } = log;
  return { rowsRead, rowsRejected, ...(rejects === undefined ? {} : { rejects }) };
}

async function storeEntries(
  tx: Transaction,
  sourceVersionId: string,
  entries: readonly LogEntry[],
): Promise<void> {
  for (let from = 0; from < entries.length; from += ENTRIES_AT_ONCE) {
    const some = entries.slice(from, from + ENTRIES_AT_ONCE);
    await tx.logEntry.createMany({
      data: some.map((entry) => ({ id: newId(), sourceVersionId, ...entry })),
    });
  }
}
