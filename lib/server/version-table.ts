/** The tables of plans and of rule sets, asked alike. */
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
  /** The plan or the rules that were read from it, JSON. */
  body: string;
  fileId: string | null;
  author: string;
  reason: string;
}>;

/** The two tables have the same columns; what one is asked the other can be asked. */
export type VersionTable = Transaction['ruleSetVersion'];

/** @param tx a transaction, or the client itself for reading */
export function versionTable(
  tx: Pick<Transaction, 'planVersion' | 'ruleSetVersion'>,
  kind: VersionedKind,
): VersionTable {
  // The generated types differ in names alone: the schema gives both tables the same columns.
  return kind === 'plan' ? (tx.planVersion as unknown as VersionTable) : tx.ruleSetVersion;
}
