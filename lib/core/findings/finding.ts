/** A finding: what was seen on a stretch of a session, with the figures of that stretch. */
import type { Anchor } from '../anchor';
import type { Figure } from '../figure';

/** What a finding is about; common practice, no source. */
export const FINDING_KINDS = [
  'anomaly',
  'observation',
  'handling',
  'procedure',
  'good practice',
] as const;
export type FindingKind = (typeof FINDING_KINDS)[number];

/** Severity in the reviewers' words; common practice, no source. */
export const FINDING_SEVERITIES = ['note', 'minor', 'serious', 'critical'] as const;
export type FindingSeverity = (typeof FINDING_SEVERITIES)[number];

/** A workflow joins later; a finding is in draft until somebody accepts it. */
export const FINDING_STATES = ['draft', 'accepted', 'withdrawn'] as const;
export type FindingState = (typeof FINDING_STATES)[number];

/** A figure captured with a finding: `key` as in the reconstruction, or `stretch.<name>`. */
export type CapturedFigure = Readonly<{ key: string; label: string; figure: Figure }>;

export type Finding = Readonly<{
  id: string;
  /** Counted per session, from 1, never used twice. */
  number: number;
  version: number;
  title: string;
  seen: string;
  change: string;
  /** Who sees to the change; '' where nobody was named. */
  owner: string;
  /** Calendar date by which it is to be done, yyyy-mm-dd; '' where none was set. */
  due: string;
  kind: FindingKind;
  severity: FindingSeverity;
  state: FindingState;
  anchor: Anchor;
  figures: readonly CapturedFigure[];
  author: string;
  createdAtIso: string;
  updatedAtIso: string;
}>;

/** Who sees to a finding's change and by when, in a sentence; '' where neither was set. */
export function actionWords({ owner, due }: Pick<Finding, 'owner' | 'due'>): string {
  const until = due === '' ? '' : `due ${due}`;
  const parts = [owner === '' ? '' : `for ${owner}`, until].filter((part) => part !== '');
  return parts.length === 0 ? '' : `Action ${parts.join(', ')}.`;
}

/** A remark on a stretch, without the weight of a finding. */
export type Annotation = Readonly<{
  id: string;
  version: number;
  text: string;
  anchor: Anchor;
  author: string;
  createdAtIso: string;
  updatedAtIso: string;
}>;
