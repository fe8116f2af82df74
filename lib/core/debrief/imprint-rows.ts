/** How a record came about, in words: what stands at the head and at the foot of its exports. */
import { utcMinuteText } from '../time/session-time-text';
import { approvalsText, approvedContentText } from './approvals';
import type { InputVersion } from './debrief-material';
import { type DebriefRecord, type SealedRecord, zeroText } from './record';

/** Names of the rows that stand at the head of an export, and of those at its foot. */
export const IMPRINT_HEAD: readonly string[] = [
  'Session',
  'Session time starts',
  'Published',
  'Supersedes',
  'Reason',
  'Approvals',
];
export const IMPRINT_FOOT: readonly string[] = [
  'Plan',
  'Rules',
  'Template',
  'Numerics',
  'Approved content',
  'Signed with',
  'SHA-256',
];

function versionText(version: InputVersion | null): string {
  if (version === null) return 'none';
  const number = version.number === null ? '' : `, version ${version.number}`;
  const hash = version.sha256 === null ? '' : ` (SHA-256 ${version.sha256})`;
  return `${version.title}${number}${hash}`;
}

/** What every number and picture of a document was computed with. */
export type Basis = Pick<DebriefRecord, 'plan' | 'ruleSet' | 'engine' | 'inputsSha256'>;

/** Versions of plan, rules and numerics, name and words. */
export function basisRows(basis: Basis): readonly (readonly [string, string])[] {
  return [
    ['Plan', versionText(basis.plan)],
    ['Rules', versionText(basis.ruleSet)],
    ['Numerics', `${basis.engine}, inputs SHA-256 ${basis.inputsSha256}`],
  ];
}

function publishedText(record: DebriefRecord): string {
  if (record.standing === 'preliminary') {
    return `no; made on ${utcMinuteText(record.publishedAtIso)} for ${record.publishedBy}`;
  }
  return record.number === 0
    ? 'no'
    : `${utcMinuteText(record.publishedAtIso)} by ${record.publishedBy}`;
}

function supersedesText({ previousSha256, revision }: DebriefRecord): string {
  if (previousSha256 !== null) return `revision ${revision - 1}, SHA-256 ${previousSha256}`;
  return revision === 0 ? 'nothing' : 'nothing, this is the first revision';
}

function signerRows({ signer }: DebriefRecord): readonly (readonly [string, string])[] {
  if (signer === undefined) return [];
  return [['Signed with', `${signer.algorithm}, SHA-256 of the public key ${signer.keySha256}`]];
}

function approvedRows(record: DebriefRecord): readonly (readonly [string, string])[] {
  const text = approvedContentText(record);
  return text === null ? [] : [['Approved content', text]];
}

/** What a record says of itself, name and words, in the order in which exports show it. */
export function imprintRows({
  record,
  sha256,
}: SealedRecord): readonly (readonly [string, string])[] {
  const basis = basisRows(record);
  return [
    ['Session', `${record.session.title} (${record.session.kind})`],
    ['Session time starts', zeroText(record.session)],
    ['Published', publishedText(record)],
    ...basis.slice(0, 2),
    ...(record.template === undefined ? [] : [['Template', versionText(record.template)] as const]),
    ...basis.slice(2),
    ['Approvals', approvalsText(record)],
    ...approvedRows(record),
    ['Supersedes', supersedesText(record)],
    ...(record.reason === undefined ? [] : [['Reason', record.reason] as const]),
    ...signerRows(record),
    ['SHA-256', sha256],
  ];
}
