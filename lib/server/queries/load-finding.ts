/** One finding by the number people call it. */
import type { Finding } from '@/lib/core/findings/finding';
import { loadFindings } from './load-findings';

/** @returns null where the text is no number or the session has no such finding */
export async function loadFinding(sessionId: string, number: string): Promise<Finding | null> {
  if (!/^[1-9]\d{0,8}$/.test(number)) return null;
  const findings = await loadFindings(sessionId);
  return findings.find((finding) => finding.number === Number(number)) ?? null;
}
