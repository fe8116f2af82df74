/**
 * Reads sessions with a draft of a plan or rule set, each in a process of its own, and keeps how they
 * would read differently in the job's row. Nothing of a session is changed.
 */
import type { ReadingDifferences } from '@/lib/core/reconstruction/reading-differences';
import { unknownSteps } from '@/lib/core/session/read-rules-file';
import type { Rule } from '@/lib/core/session/rule';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { logLine } from '../log-line';
import { loadWordsSince } from '../queries/load-corrections';
import { type ReadVersion, readVersion } from '../read-version';
import { parseJson, reconstructionFromBody } from '../rows';
import { type TrialInput, trialInput } from '../trials/trial-input';
import type { TrialAnswer, TrialRequest } from '../trials/trial-messages';
import type { TouchedDisposition, TrialSession } from '../trials/trial-result';
import { currentEngine } from './built';
import type { JobContext, JobOutcome } from './job-runner';
import { runInChild } from './run-in-child';
import { missingSamples } from './run-reconstruct';
import { type StoredInput, withCorrections } from './stored-input';
import { readUsedInput } from './used-input';

export async function runTrial(context: JobContext): Promise<JobOutcome> {
  const asked = parseJson(trialInput, context.input);
  const draft = readVersion(asked.kind, asked.text);
  const sessions: TrialSession[] = [];
  for (const [at, sessionId] of asked.sessionIds.entries()) {
    const row = await db().session.findFirst({
      where: { id: sessionId, teamId: context.actor.teamId },
      select: { id: true, title: true, filesNumber: true },
    });
    if (row === null) continue;
    context.report({
      stage: `Reading ${row.title} with the draft (${at + 1} of ${asked.sessionIds.length})`,
      bytesDone: at,
      bytesTotal: asked.sessionIds.length,
      rowsDone: 0,
    });
    sessions.push(await trySession(context, row, draft, asked));
  }
  const { kind, entryId } = asked;
  const title = draft.title ?? '';
  const trial = { kind, entryId, title, sha256: draft.sha256, sessions };
  return { state: 'done', result: { sessionId: null, wasThere: false, issues: [], trial } };
}

type Row = Readonly<{ id: string; title: string; filesNumber: number }>;

async function trySession(
  context: JobContext,
  row: Row,
  draft: ReadVersion,
  asked: TrialInput,
): Promise<TrialSession> {
  const nothing = { sessionId: row.id, title: row.title, sameRuleCount: 0, sameStepCount: 0 };
  const empty = { ...nothing, differences: null, unknownSteps: [], dispositions: [] };
  try {
    const used = await readUsedInput(row);
    // Held against simulator runs is the flight, not its plan or its rules: they need not be read.
    const { simulations: _runs, ...flight } = used;
    const stored = withCorrections(flight, await loadWordsSince(row.id));
    const missing = await missingSamples(stored);
    if (missing.length > 0) {
      return { ...empty, fault: missing.map(({ message }) => message).join('; ') };
    }
    const all = await differencesWith(context.signal, row.id, stored, draft);
    return {
      ...nothing,
      sameRuleCount: all.rules.filter(({ differs }) => !differs).length,
      sameStepCount: all.steps.filter(({ differs }) => !differs).length,
      differences: asked.sessionIds.length === 1 ? all : onlyDiffering(all),
      unknownSteps: unknownIn({ ...stored, ...draft.inputs }),
      dispositions: touchedDispositions(stored, draft.inputs.rules),
      fault: null,
    };
  } catch (error) {
    context.signal.throwIfAborted();
    logLine('trial-not-computed', { session: row.id, fault: String(error) });
    return { ...empty, fault: 'it could not be computed; the log of the server says why' };
  }
}

async function differencesWith(
  signal: AbortSignal,
  sessionId: string,
  stored: StoredInput,
  draft: ReadVersion,
): Promise<ReadingDifferences> {
  const engine = currentEngine();
  const newest = await db().reconstruction.findFirst({
    where: { sessionId },
    orderBy: { createdAt: 'desc' },
    select: { engine: true, body: true },
  });
  // What another engine computed differs by the engine too, so both sides are then computed alike.
  const now = newest?.engine === engine ? reconstructionFromBody(newest.body) : null;
  const request: TrialRequest = {
    stored,
    draft: draft.inputs,
    now,
    samplesRoot: samplesRoot(),
    engine,
  };
  return runInChild<TrialAnswer, ReadingDifferences>({
    entry: 'trial-child',
    request,
    take: ({ differences }) => differences,
    signal,
  });
}

function onlyDiffering({
  rules,
  steps,
  phases,
  arrival = [],
}: ReadingDifferences): ReadingDifferences {
  const differs = (pair: Readonly<{ differs: boolean }>): boolean => pair.differs;
  return {
    rules: rules.filter(differs),
    steps: steps.filter(differs),
    phases: phases.filter(differs),
    arrival: arrival.filter(differs),
  };
}

function unknownIn({ plan, rules }: Pick<StoredInput, 'plan' | 'rules'>): readonly string[] {
  if (plan === null) return [];
  return unknownSteps(rules, plan).map(
    ({ rule, step }) => `rule ${rule} names the step ${step}, which the plan has not`,
  );
}

/** Decisions about rules that the draft drops, or has in other words than the rules in use. */
function touchedDispositions(
  { rules, ruleDispositions = [] }: StoredInput,
  drafted: readonly Rule[] | undefined,
): readonly TouchedDisposition[] {
  if (drafted === undefined) return [];
  const wordsOf = (of: readonly Rule[]) =>
    new Map(of.map((each) => [each.id, JSON.stringify(each)]));
  const [before, after] = [wordsOf(rules), wordsOf(drafted)];
  return ruleDispositions.flatMap(({ rule, disposition }): TouchedDisposition[] => {
    if (before.get(rule) === after.get(rule)) return [];
    return [{ rule, disposition, change: after.has(rule) ? 'altered' : 'dropped' }];
  });
}
