'use server';

import { revalidatePath } from 'next/cache';
import type { DocumentCheck } from '@/lib/core/debrief/check-document';
import type { DocNode } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { type PublishedDebrief, publishDebrief } from '@/lib/server/commands/publish-debrief';
import { type SavedDebrief, saveDebrief } from '@/lib/server/commands/save-debrief';
import { postedId, postedNumber } from '@/lib/server/posted';
import {
  checkDraft,
  type DraftState,
  loadDraftState,
  resolveLiveNodes,
} from '@/lib/server/publish/load-debrief-page';
import {
  loadDraftStamp,
  loadEarlierVersion,
  loadEarlierVersions,
} from '@/lib/server/queries/load-draft-versions';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import type { LiveViews } from '@/lib/view/debrief/live-nodes';
import type { SavedVersion } from '@/lib/view/debrief/saved-version';

export type DraftInput = Readonly<{ version: number; title: string; body: DocNode }>;

/** Writes the first draft. */
export async function writeDraft(
  sessionId: string,
): Promise<CommandResult<Readonly<{ id: string; version: number }>>> {
  const result = await runCommand(draftDebrief, { sessionId });
  if (result.ok) revalidatePath(`/sessions/${sessionId}/debrief`);
  return result;
}

/** Saves the text; the page stays as it is. */
export async function saveDraft(
  sessionId: string,
  draft: DraftInput,
): Promise<CommandResult<SavedDebrief>> {
  return runCommand(saveDebrief, { sessionId, ...draft });
}

/** The draft as somebody else left it. */
export async function readDraft(sessionId: string): Promise<DraftState | null> {
  return loadDraftState(postedId(sessionId));
}

/** Which version is stored now: asked now and then, so that a page left open learns of others' saves. */
export async function readDraftStamp(sessionId: string): Promise<SavedVersion | null> {
  return loadDraftStamp(postedId(sessionId));
}

/** Earlier versions that are still kept. */
export async function readEarlierVersions(sessionId: string): Promise<readonly SavedVersion[]> {
  return loadEarlierVersions(postedId(sessionId));
}

/** The text of one of them. */
export async function readEarlierVersion(
  sessionId: string,
  version: number,
): Promise<DocNode | null> {
  return loadEarlierVersion(postedId(sessionId), postedNumber(version));
}

/** What live blocks and values show. */
export async function resolveNodes(
  sessionId: string,
  nodes: readonly DocNode[],
): Promise<LiveViews> {
  return resolveLiveNodes(postedId(sessionId), nodes);
}

/** The list before publishing. */
export async function readChecks(sessionId: string): Promise<readonly DocumentCheck[]> {
  return checkDraft(postedId(sessionId));
}

/** Freezes the draft at the version that was looked at. */
export async function publishDraft(
  sessionId: string,
  seen: Readonly<{ version: number; title: string; reason: string }>,
): Promise<CommandResult<PublishedDebrief>> {
  const result = await runCommand(publishDebrief, { sessionId, ...seen });
  if (result.ok) revalidatePath('/', 'layout');
  return result;
}
