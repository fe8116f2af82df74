/** What is asked of an upload before work on it is queued. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { DomainError } from '@/lib/core/result';
import type { Transaction } from '../db';
import { listFiles } from '../durable-files';
import { OPEN_STATES } from '../jobs/cancel-work';
import { uploadFolder } from '../uploads/receive-file';

/** The refusal of an upload that was removed, by its sender or after a day. */
export function uploadGone(): DomainError {
  return new DomainError('no-such-upload', 'This upload is no longer there: send it again.');
}

/** The open job that is to read an upload, if there is one. */
export async function openJobOf(
  tx: Transaction,
  uploadId: string,
): Promise<Readonly<{ id: string; input: string }> | null> {
  const where = { state: { in: OPEN_STATES }, input: { contains: `"${uploadId}"` } };
  return tx.job.findFirst({ where, select: { id: true, input: true } });
}

/** @returns bytes of its files; refuses an upload that is gone, empty, or another job's to read */
export async function requireUpload(tx: Transaction, uploadId: string): Promise<bigint> {
  if ((await openJobOf(tx, uploadId)) !== null) throw uploadInUse();
  const folder = path.join(uploadFolder(uploadId), 'files');
  const names = await listFiles(folder).catch(() => []); // gone: the same as empty
  if (names.length === 0) throw uploadGone();
  const sizes = await Promise.all(names.map((name) => stat(path.join(folder, name))));
  return BigInt(sizes.reduce((sum, file) => sum + file.size, 0));
}

/** The refusal of an upload that other work is to read. */
export function uploadInUse(): DomainError {
  return new DomainError('upload-in-use', 'This upload is being read by other work already.');
}
