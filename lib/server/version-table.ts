/** The tables of plans, of rule sets and of templates, asked alike. */
import type { VersionedKind } from '@/lib/core/session/file-identity';
import type { Transaction } from './db';

export type NewVersion = Readonly<{
  id: string;
  teamId: string;
  entryId: string;
  title: string;
  number: number;
  sha256: string;
  text: string;
  /** What was read from it, JSON. */
  body: string;
  fileId: string | null;
  author: string;
  reason: string;
}>;

/** The tables have the same columns; what one is asked the others can be asked. */
export type VersionTable = Transaction['ruleSetVersion'];

/** @param tx a transaction, or the client itself for reading */
export function versionTable(
  tx: Pick<Transaction, 'planVersion' | 'ruleSetVersion' | 'debriefTemplateVersion'>,
  kind: VersionedKind,
): VersionTable {
  // The generated types differ in names alone: the schema gives all of them the same columns.
  if (kind === 'rules') return tx.ruleSetVersion;
  return (kind === 'plan' ? tx.planVersion : tx.debriefTemplateVersion) as unknown as VersionTable;
}
