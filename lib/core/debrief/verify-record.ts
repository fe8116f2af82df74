/** Whether the bytes of a record are what its SHA-256 was taken of. */
import canonicalize from 'canonicalize';
import { approvalFaults } from './approvals';
import { type DebriefRecord, isRecord } from './record';
import { sha256OfText } from './sha256';

/** `differs` = not what it claims; `note` = something a reader should know. */
export type VerifyLine = Readonly<{ gravity: 'differs' | 'note'; text: string }>;

export type VerifiedRecord = Readonly<{
  /** Null where the text is no record at all: `unusable` then says why. */
  record: DebriefRecord | null;
  unusable: string | null;
  sha256: string;
  lines: readonly VerifyLine[];
}>;

function parsed(text: string): Readonly<{ value: unknown; fault: string | null }> {
  try {
    return { value: JSON.parse(text), fault: null };
  } catch (error) {
    return { value: null, fault: error instanceof Error ? error.message : 'it cannot be read' };
  }
}

/**
 * Reads a record and says whether it stands in its one form.
 *
 * @param text the bytes as UTF-8 text
 * @param claims hashes that it is said to have, each with who says so
 *
 * Source: RFC 8785, JSON Canonicalization Scheme (2020).
 */
export function verifyRecord(
  text: string,
  claims: readonly Readonly<{ by: string; sha256: string }>[],
): VerifiedRecord {
  const sha256 = sha256OfText(text);
  const { value, fault } = parsed(text);
  if (fault !== null || !isRecord(value)) {
    const why = fault ?? 'its schema is not one of this program\u2019s records';
    return { record: null, unusable: `no debrief record: ${why}`, sha256, lines: [] };
  }
  const isCanonical = canonicalize(value) === text;
  const form: readonly VerifyLine[] = isCanonical
    ? []
    : [{ gravity: 'differs', text: 'the record is not in canonical form (RFC 8785)' }];
  const hashes = claims
    .filter((claim) => claim.sha256 !== sha256)
    .map(
      (claim): VerifyLine => ({
        gravity: 'differs',
        text: `the record's SHA-256 is ${sha256}, ${claim.by} says ${claim.sha256}`,
      }),
    );
  const approvals = approvalFaults(value).map((text): VerifyLine => ({ gravity: 'differs', text }));
  return { record: value, unusable: null, sha256, lines: [...form, ...hashes, ...approvals] };
}
