/**
 * Approvals: who agreed, under which role, to which content. The content has a hash of its own, so
 * that it can be approved before it is published and checked ever after.
 */
import canonicalize from 'canonicalize';
import { utcMinuteText } from '../time/session-time-text';
import { plainText } from './markup';
import { sha256OfText } from './sha256';

/** How it is known who approved. Until there are accounts: not at all, and every export says so. */
export const STATED_ONLY = 'stated at that moment; no account proved it';

/** An approval as it is frozen. `contentSha256` is of what was approved: `contentSha256Of`. */
export type Approval = Readonly<{
  role: string;
  name: string;
  atIso: string;
  contentSha256: string;
  identity: typeof STATED_ONLY;
}>;

/** A record, or as much of one as is asked here. */
type Approved = Readonly<{ approvals: readonly Approval[] }>;

/** What publishing adds to a record: no part of what people approve. */
const NOT_APPROVED = [
  'number',
  'revision',
  'designation',
  'reason',
  'publishedAtIso',
  'publishedBy',
  'previousSha256',
  'approvals',
  'signer',
] as const;

/** In words, for those who want to take the hash themselves. */
const CONTENT_HASH_WORDS = `SHA-256 of the record as canonical JSON (RFC 8785) without ${NOT_APPROVED.slice(0, -1).join(', ')} and ${NOT_APPROVED.at(-1)}`;

/**
 * The hash that an approval is bound to: of title, text, numbers, figures, evidence, sources and
 * versions, and of nothing that is known only once it is published.
 *
 * @param record published or not
 * @returns SHA-256 of the canonical JSON of what is left, 64 hexadecimal digits
 *
 * Source: RFC 8785, JSON Canonicalization Scheme (2020).
 */
export function contentSha256Of(record: Approved): string {
  const left: readonly string[] = NOT_APPROVED;
  const content = Object.entries(record).filter(([key]) => !left.includes(key));
  const json = canonicalize(Object.fromEntries(content));
  if (json === undefined) throw new Error('invariant: a record has a canonical form');
  return sha256OfText(json);
}

/** An approval with its words made fit to be shown anywhere. */
export function plainApproval(approval: Approval): Approval {
  const { role, name } = approval;
  return {
    ...approval,
    role: plainText(role.normalize('NFC')),
    name: plainText(name.normalize('NFC')),
  };
}

/** `Flight director: A. Name, 2026-11-28 10:02 UTC`, of all of them; `none recorded`. */
export function approvalsText({ approvals }: Approved): string {
  if (approvals.length === 0) return 'none recorded';
  const each = approvals.map(
    ({ role, name, atIso }) => `${role}: ${name}, ${utcMinuteText(atIso)}`,
  );
  const stated = approvals.length === 1 ? 'Role and name were' : 'Roles and names were';
  return `${each.join('; ')}. ${stated} ${STATED_ONLY}.`;
}

/** The hash that was approved, and what it is of; null where nothing was. */
export function approvedContentText({ approvals }: Approved): string | null {
  const hashes = [...new Set(approvals.map(({ contentSha256 }) => contentSha256))];
  return hashes.length === 0 ? null : `${hashes.join(', ')}: ${CONTENT_HASH_WORDS}`;
}

/** Approvals that are not of this record's content, one sentence each. */
export function approvalFaults(record: Approved): readonly string[] {
  if (record.approvals.length === 0) return [];
  const sha256 = contentSha256Of(record);
  return record.approvals
    .filter(({ contentSha256 }) => contentSha256 !== sha256)
    .map(
      ({ role, name, contentSha256 }) =>
        `${role}: ${name} approved content with the SHA-256 ${contentSha256}, that of this record is ${sha256}`,
    );
}

/** A role or a name as it is compared: letters alike in all writings of case, one space between words. */
export function sameWords(words: string): string {
  return words.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();
}

/** Required roles under which nobody has approved, as the team writes them. */
export function missingRoles(
  required: readonly string[],
  approvals: readonly Readonly<{ role: string }>[],
): readonly string[] {
  const given = new Set(approvals.map(({ role }) => sameWords(role)));
  return required.filter((role) => !given.has(sameWords(role)));
}

/** Why nothing is published while roles are missing. */
export function missingRolesText(missing: readonly string[]): string {
  const roles = missing.map((role) => `\u201c${role}\u201d`).join(', ');
  return missing.length === 1
    ? `The approval of the role ${roles} is missing.`
    : `The approvals of the roles ${roles} are missing.`;
}

/** Most roles that a team can require, and the length of one; our own choice. */
const MOST_ROLES = 12;
export const LONGEST_ROLE = 80;

/**
 * The roles that a team requires, one a line.
 *
 * @returns the roles as written, each once; or what is wrong with them
 */
export function readRoles(
  text: string,
): Readonly<{ roles: readonly string[]; fault: null }> | Readonly<{ roles: null; fault: string }> {
  const lines = text.split(/\r\n?|\n/).map((line) => plainText(line).trim().replace(/\s+/g, ' '));
  const roles: string[] = [];
  for (const role of lines.filter((line) => line !== '')) {
    if (role.length > LONGEST_ROLE) {
      const fault = `A role has at most ${LONGEST_ROLE} characters; \u201c${role.slice(0, 30)}\u2026\u201d has ${role.length}.`;
      return { roles: null, fault };
    }
    if (!roles.some((each) => sameWords(each) === sameWords(role))) roles.push(role);
  }
  if (roles.length > MOST_ROLES) {
    return {
      roles: null,
      fault: `At most ${MOST_ROLES} roles are required; these are ${roles.length}.`,
    };
  }
  return { roles, fault: null };
}
