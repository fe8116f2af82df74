/** Freezes a draft: record, number, revision, hash, page. What is published never changes. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { missingRoles, missingRolesText } from '@/lib/core/debrief/approvals';
import type { DocNode } from '@/lib/core/debrief/document';
import { designationOf } from '@/lib/core/debrief/number-scheme';
import { type Imprint, readRecord, type Signer } from '@/lib/core/debrief/record';
import { DomainError, invariant } from '@/lib/core/result';
import type { Actor } from '../actor';
import { requiredRolesOf, type StandingApproval, standingApprovals } from '../approval-rows';
import { crashPoint } from '../crash-point';
import { publishedRoot } from '../data-folders';
import { db, type Transaction } from '../db';
import { logLine } from '../log-line';
import { newId } from '../new-id';
import { loadMaterialOutline } from '../publish/load-material';
import { loadPackageInputs } from '../publish/package/package-inputs';
import { pollsFor } from '../publish/polls-to-publish';
import type { PublishRequest, RenderedDebrief } from '../publish/publish-messages';
import {
  nameFolder,
  removeUnnamed,
  signFolder,
  type UnnamedFolder,
  unnamedPath,
} from '../publish/published-folder';
import { renderInChild } from '../publish/render-in-child';
import { loadSigner, UnusableKey } from '../publish/signing-key';
import { checkedDocument } from '../publish/stored-document';
import { type CommandContext, defineCommand } from './define-command';

const input = z.object({
  sessionId: z.string().min(1),
  /** The version of the draft that was looked at. */
  version: z.int().positive(),
  title: z.string().trim().min(1, 'A debrief needs a title.').max(200),
  /** Why a revision supersedes the one before: needed from the second on. */
  reason: z.string().trim().max(500, 'A reason has at most 500 characters.').default(''),
});

type Input = z.infer<typeof input>;
export type PublishedDebrief = Readonly<{
  id: string;
  number: number;
  revision: number;
  sha256: string;
}>;
type Prepared = Readonly<{
  imprint: Imprint;
  sha256: string;
  contentSha256: string;
  /** Those that the record takes up. */
  approvals: readonly StandingApproval[];
  written: UnnamedFolder;
}>;

type Place = Pick<Imprint, 'number' | 'revision' | 'previousSha256'> &
  Readonly<{ previousFolder: string | null }>;

/** The next revision of the session's debrief, or the team's next number. */
async function nextPlace(tx: Transaction, teamId: string, sessionId: string): Promise<Place> {
  const last = await tx.publication.findFirst({
    where: { teamId, sessionId },
    orderBy: [{ number: 'desc' }, { revision: 'desc' }],
    select: { number: true, revision: true, sha256: true, folder: true },
  });
  if (last !== null) {
    return {
      number: last.number,
      revision: last.revision + 1,
      previousSha256: last.sha256,
      previousFolder: last.folder,
    };
  }
  const highest = await tx.publication.aggregate({ where: { teamId }, _max: { number: true } });
  const number = (highest._max.number ?? 0) + 1;
  return { number, revision: 1, previousSha256: null, previousFolder: null };
}

async function loadDraft(actor: Actor, { sessionId, version }: Input): Promise<DocNode> {
  const row = await db().document.findFirst({
    where: { sessionId, session: { teamId: actor.teamId } },
    select: { version: true, schema: true, body: true },
  });
  if (row === null) throw new DomainError('not-found', 'The draft is no longer there.');
  if (row.version !== version) {
    throw new DomainError('changed-meanwhile', 'The draft has changed since you looked at it.');
  }
  return checkedDocument(JSON.parse(row.body), row.schema);
}

async function render(request: PublishRequest): Promise<RenderedDebrief> {
  const answer = await renderInChild(request);
  if (answer.kind === 'open-blocks') {
    throw new DomainError('open-blocks', `Not published: ${answer.messages.join(' ')}`);
  }
  if (answer.kind === 'not-approved') {
    throw new DomainError('approval-missing', `Not published: ${answer.message}`);
  }
  return answer.rendered;
}

/** Refuses a revision that says the same as the one before, word for word and number for number. */
async function requireChange(rendered: RenderedDebrief, place: Place): Promise<void> {
  if (place.previousFolder === null || place.previousSha256 === null) return;
  const file = path.join(publishedRoot(), place.previousFolder, 'record.json');
  const before = readRecord(await readFile(file, 'utf8'), place.previousSha256);
  const after = readRecord(rendered.recordJson, rendered.sha256);
  const content = (record: typeof before) =>
    JSON.stringify(record === null ? null : [record.title, record.blocks, record.evidence]);
  if (content(before) === content(after)) {
    throw new DomainError('nothing-changed', 'Nothing has changed since the last revision.');
  }
}

async function signerOrRefusal(): Promise<Signer> {
  try {
    return await loadSigner();
  } catch (error) {
    if (!(error instanceof UnusableKey)) throw error;
    logLine('signing-key-unusable', { fault: error.message });
    const message =
      'Not published: signing-key.pem in the data folder cannot be used as a key. Restore it from a backup.';
    throw new DomainError('signing-key-unusable', message);
  }
}

function requireApprovals(
  requiredRoles: readonly string[],
  approvals: readonly Readonly<{ role: string }>[],
): void {
  const missing = missingRoles(requiredRoles, approvals);
  if (missing.length === 0) return;
  throw new DomainError('approval-missing', `Not published: ${missingRolesText(missing)}`);
}

async function prepare(
  { actor, now }: Readonly<{ actor: Actor; now: Date }>,
  request: Input,
): Promise<Prepared> {
  const { teamId } = actor;
  const doc = await loadDraft(actor, request);
  const outline = await loadMaterialOutline(request.sessionId);
  const inputs = await loadPackageInputs(request.sessionId);
  if (outline === null || inputs === null) {
    throw new DomainError('not-reconstructed', 'The session has no reconstruction yet.');
  }
  const place = await nextPlace(db(), teamId, request.sessionId);
  const { number, revision, previousSha256 } = place;
  if (revision > 1 && request.reason === '') {
    throw new DomainError('reason-needed', 'A revision needs a reason: what changes, and why.');
  }
  const team = await db().team.findUniqueOrThrow({
    where: { id: teamId },
    select: { numberScheme: true },
  });
  const standing = await standingApprovals(db(), { teamId, sessionId: request.sessionId });
  const requiredRoles = await requiredRolesOf(db(), teamId);
  requireApprovals(requiredRoles, standing);
  const publishedAtIso = now.toISOString();
  const signer = await signerOrRefusal();
  const imprint: Imprint = {
    number,
    revision,
    previousSha256,
    designation: designationOf(team.numberScheme, { number, publishedAtIso }),
    ...(revision > 1 ? { reason: request.reason } : {}),
    title: request.title,
    publishedAtIso,
    publishedBy: actor.name,
    signer,
  };
  const folder = unnamedPath();
  const approvals = standing.map(({ id: _, ...approval }) => approval);
  try {
    const polls = await pollsFor(request.sessionId, doc, outline);
    const asked = { doc, outline, imprint, approvals, requiredRoles, inputs, polls, folder };
    const rendered = await render(asked);
    await requireChange(rendered, place);
    const written = await signFolder(folder, rendered.files, { place, signer });
    const { sha256, contentSha256 } = rendered;
    const taken = standing.filter((each) => each.contentSha256 === contentSha256);
    return { imprint, sha256, contentSha256, approvals: taken, written };
  } catch (error) {
    await removeUnnamed(folder);
    throw error;
  }
}

/**
 * Takes up the approvals that the record holds, where they are still those that stand: one that was
 * given or withdrawn while the record was made is not passed over. Those of other content are withdrawn.
 */
async function takeApprovals(
  { tx, actor, now }: CommandContext,
  { sessionId }: Input,
  { approvals, contentSha256, imprint }: Prepared,
): Promise<void> {
  const { teamId } = actor;
  const standing = await standingApprovals(tx, { teamId, sessionId });
  const standingNow = standing.filter((each) => each.contentSha256 === contentSha256);
  const ids = approvals.map(({ id }) => id);
  if (JSON.stringify(standingNow.map(({ id }) => id)) !== JSON.stringify(ids)) {
    const message =
      'An approval was given or withdrawn while this was being published: look at the approvals, then publish once more.';
    throw new DomainError('changed-meanwhile', message);
  }
  requireApprovals(await requiredRolesOf(tx, teamId), approvals);
  await tx.approval.updateMany({ where: { id: { in: ids } }, data: { publishedAt: now } });
  const stale = standing.filter((each) => each.contentSha256 !== contentSha256);
  const withdrawnReason = `What it approved is not what was published as revision ${imprint.revision}.`;
  await tx.approval.updateMany({
    where: { id: { in: stale.map(({ id }) => id) } },
    data: { withdrawnAt: now, withdrawnBy: actor.name, withdrawnReason },
  });
}

async function publish(
  context: CommandContext,
  request: Input,
  prepared: Prepared,
): Promise<PublishedDebrief> {
  const { tx } = context;
  const { teamId } = context.actor;
  const { imprint, sha256, contentSha256, approvals, written } = prepared;
  const { number, revision, previousSha256, title, publishedBy, publishedAtIso } = imprint;
  const place = await nextPlace(tx, teamId, request.sessionId);
  if (place.number !== number || place.revision !== revision) {
    const message = 'Another debrief was published at the same moment: publish once more.';
    throw new DomainError('changed-meanwhile', message);
  }
  await takeApprovals(context, request, prepared);
  const folder = `${number}-r${revision}`;
  await nameFolder(written, folder);
  const id = newId();
  await tx.publication.create({
    data: {
      id,
      teamId,
      sessionId: request.sessionId,
      number,
      revision,
      title,
      sha256,
      folder,
      previousSha256,
      designation: imprint.designation ?? '',
      reason: imprint.reason ?? '',
      approvals: JSON.stringify(approvals.map(({ role, name }) => ({ role, name }))),
      contentSha256,
      publishedBy,
      publishedAt: new Date(publishedAtIso),
      files: {
        create: written.files.map((file) => ({ ...file, id: newId(), bytes: BigInt(file.bytes) })),
      },
    },
    select: { id: true },
  });
  return { id, number, revision, sha256 };
}

export const publishDebrief = defineCommand({
  name: 'publish-debrief',
  input,
  may: () => true,
  version: {
    expected: ({ version }) => version,
    load: async ({ tx, actor }, { sessionId }) => {
      const row = await tx.document.findFirst({
        where: { sessionId, session: { teamId: actor.teamId } },
        select: { version: true },
      });
      return row === null ? null : { version: row.version, value: null };
    },
  },
  prepare,
  discard: ({ written }) => removeUnnamed(written.folder),
  run: async (context, request, prepared): Promise<PublishedDebrief> => {
    invariant(prepared !== null, 'a publication is prepared');
    context.afterCommit(() => crashPoint('publish:committed'));
    return publish(context, request, prepared);
  },
});
