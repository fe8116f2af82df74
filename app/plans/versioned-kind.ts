import { notFound } from 'next/navigation';
import type { VersionedKind } from '@/lib/core/session/file-identity';

/** The kind in an address; anything else is no page. */
export function requireKind(kind: string): VersionedKind {
  if (kind === 'plan' || kind === 'rules' || kind === 'template') return kind;
  return notFound();
}

/** A version's number in an address; null where there is none. */
export function versionNumber(text: string | string[] | undefined): number | null {
  return typeof text === 'string' && /^[1-9]\d{0,8}$/.test(text) ? Number(text) : null;
}
