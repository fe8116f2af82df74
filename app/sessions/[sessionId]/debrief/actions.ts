'use server';

import { revalidatePath } from 'next/cache';
import type { DocNode } from '@/lib/core/debrief/document';
import { approveDebrief } from '@/lib/server/commands/approve-debrief';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { type PublishedDebrief, publishDebrief } from '@/lib/server/commands/publish-debrief';
import { type SavedDebrief, saveDebrief } from '@/lib/server/commands/save-debrief';
import { withdrawApproval } from '@/lib/server/commands/withdraw-approval';
import { postedId, postedNumber } from '@/lib/server/posted';
import { type LookedThrough, lookThrough } from '@/lib/server/publish/draft-content';
import {
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

/** Writes the first draft, by a template of the team or in the program's own form. */
export async function writeDraft(
  sessionId: string,
  templateId: string | null,
): Promise<CommandResult<Readonly<{ id: string; version: number }>>> {
  const result = await runCommand(draftDebrief, { sessionId, templateId });
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

/** The list before publishing, and the approvals of the draft as it is stored. */
export async function readLookThrough(sessionId: string): Promise<LookedThrough | null> {
  return lookThrough(postedId(sessionId));
}

/** Approves the draft at the version and with the content that was looked at. */
export async function approveDraft(
  sessionId: string,
  approval: Readonly<{ version: number; contentSha256: string; role: string; name: string }>,
): Promise<CommandResult<Readonly<{ id: string }>>> {
  return runCommand(approveDebrief, { sessionId, ...approval });
}

/** Takes back an approval that is not published. */
export async function takeBackApproval(
  by: Readonly<{ id: string; name: string; reason: string }>,
): Promise<CommandResult<Readonly<{ id: string }>>> {
  return runCommand(withdrawApproval, by);
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
