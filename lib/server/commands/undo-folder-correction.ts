/** Takes back what came with the folder's people.yaml; the file stays, the word counts no more. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { wordsKey } from '@/lib/core/session/words-key';
import { wakeQueue } from '../jobs/queue';
import { queueReconstruction } from '../jobs/queue-reconstruction';
import { newId } from '../new-id';
import { loadFolderPeople } from '../queries/load-folder-people';
import { fromJson, toJson } from '../rows';
import { defineCommand } from './define-command';

const LISTS = {
  clock: 'clockCorrections',
  stretch: 'stretchCorrections',
  phase: 'phaseEdits',
  rule: 'ruleDispositions',
  task: 'handlingTasks',
  rating: 'handlingRatings',
} as const;

const input = z.object({
  sessionId: z.string().min(1),
  kind: z.enum(['clock', 'stretch', 'phase', 'rule', 'task', 'rating']),
  /** The word as its key. */
  words: z.string().min(1).max(50_000),
});

type Word = Readonly<{ body: string; author: string }>;

export const undoFolderCorrection = defineCommand({
  name: 'undo-folder-correction',
  input,
  may: () => true,
  prepare: async (_request, { sessionId, kind, words }): Promise<Word> => {
    const people = await loadFolderPeople(sessionId);
    const word = people[LISTS[kind]]?.find((each) => wordsKey(each) === words);
    if (word !== undefined) return { body: toJson(word), author: word.by ?? '' };
    throw new DomainError('not-in-folder', 'The folder of the session does not say this any more.');
  },
  run: async (
    { tx, actor, now, ...context },
    { sessionId, kind, words },
    word,
  ): Promise<Readonly<{ id: string; jobId: string }>> => {
    if (word === null) throw new DomainError('not-in-folder', 'The folder does not say this.');
    const rows = await tx.correction.findMany({
      where: { sessionId, kind, session: { teamId: actor.teamId } },
      select: { body: true, undoneAt: true },
    });
    const same = rows.find(({ body }) => wordsKey(fromJson(body) as object) === words);
    if (same !== undefined) {
      throw same.undoneAt === null
        ? new DomainError('said-here', 'It was said here as well meanwhile: undo that.')
        : new DomainError('undone-already', 'It is undone already.');
    }
    const id = newId();
    const undone = { undoneAt: now, undoneBy: actor.name };
    await tx.correction.create({
      data: { id, sessionId, kind, ...word, ofFolder: true, createdAt: now, ...undone },
      select: { id: true },
    });
    const jobId = await queueReconstruction({ tx, actor }, sessionId);
    context.afterCommit(wakeQueue);
    return { id, jobId };
  },
});
