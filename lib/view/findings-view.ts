/** Findings as a list that can be filtered, and one finding as it is read. */

import {
  actionWords,
  FINDING_KINDS,
  FINDING_SEVERITIES,
  type Finding,
  type FindingKind,
  type FindingSeverity,
} from '../core/findings/finding';
import { type FigureView, timelineHref } from './figure-view';
import { stampText } from './format-date';
import { formatStretch } from './format-time';
import type { Tone } from './labels';
import { quantityLabel } from './strip-words';
import { capturedViews } from './timeline-stretch';

export type FindingRow = Readonly<{
  number: number;
  title: string;
  kind: string;
  severity: string;
  tone: Tone;
  state: string;
  owner: string;
  due: string;
  when: string;
  href: string;
  timelineHref: string;
}>;

export type FindingFilter = Readonly<{
  kind: FindingKind | null;
  severity: FindingSeverity | null;
}>;

export type FilterLink = Readonly<{ label: string; href: string; isChosen: boolean }>;

export type FindingsView = Readonly<{
  rows: readonly FindingRow[];
  total: number;
  kinds: readonly FilterLink[];
  severities: readonly FilterLink[];
}>;

export type FindingView = FindingRow &
  Readonly<{
    id: string;
    version: number;
    seen: string;
    change: string;
    /** Who sees to the change and by when; '' where neither was set. */
    action: string;
    channels: string;
    figures: readonly Readonly<{ key: string; figure: FigureView }>[];
    author: string;
    created: string;
    updated: string;
  }>;

const TONES: Readonly<Record<FindingSeverity, Tone>> = {
  note: 'quiet',
  minor: 'unsure',
  serious: 'beyond',
  critical: 'beyond',
};

type Asked = Readonly<Record<string, string | readonly string[] | undefined>>;

/** Reads `kind` and `severity` from an address; a word that is none of them filters nothing. */
export function readFindingFilter(asked: Asked): FindingFilter {
  return {
    kind: FINDING_KINDS.find((kind) => kind === asked.kind) ?? null,
    severity: FINDING_SEVERITIES.find((severity) => severity === asked.severity) ?? null,
  };
}

/** Gravest first, then by number. */
export function findingsView(
  findings: readonly Finding[],
  filter: FindingFilter,
  sessionId: string,
): FindingsView {
  const base = findingsHref(sessionId);
  const chosen = findings.filter(
    (finding) =>
      (filter.kind === null || finding.kind === filter.kind) &&
      (filter.severity === null || finding.severity === filter.severity),
  );
  return {
    rows: sortFindings(chosen).map((finding) => findingRow(finding, sessionId)),
    total: findings.length,
    kinds: filterLinks(FINDING_KINDS, filter.kind, (kind) => query(base, { ...filter, kind })),
    severities: filterLinks(FINDING_SEVERITIES, filter.severity, (severity) =>
      query(base, { ...filter, severity }),
    ),
  };
}

/** Gravest first, then by number. */
export function sortFindings(findings: readonly Finding[]): readonly Finding[] {
  const grave = (finding: Finding) => FINDING_SEVERITIES.indexOf(finding.severity);
  return [...findings].sort((a, b) => grave(b) - grave(a) || a.number - b.number);
}

export function findingRow(finding: Finding, sessionId: string): FindingRow {
  const { fromS, toS } = finding.anchor;
  return {
    number: finding.number,
    title: finding.title,
    kind: finding.kind,
    severity: finding.severity,
    tone: TONES[finding.severity],
    state: finding.state,
    owner: finding.owner,
    due: finding.due,
    when: formatStretch(fromS, toS, 0),
    href: `${findingsHref(sessionId)}/${finding.number}`,
    timelineHref: timelineHref(sessionId, fromS, toS),
  };
}

export function findingView(finding: Finding, sessionId: string): FindingView {
  return {
    ...findingRow(finding, sessionId),
    when: formatStretch(finding.anchor.fromS, finding.anchor.toS),
    id: finding.id,
    version: finding.version,
    seen: finding.seen,
    change: finding.change,
    action: actionWords(finding),
    channels: finding.anchor.channels.map(quantityLabel).join(', '),
    figures: capturedViews(sessionId, finding.figures),
    author: finding.author,
    created: stampText(finding.createdAtIso),
    updated: stampText(finding.updatedAtIso),
  };
}

function findingsHref(sessionId: string): string {
  return `/sessions/${encodeURIComponent(sessionId)}/findings`;
}

function filterLinks<Word extends string>(
  words: readonly Word[],
  chosen: Word | null,
  href: (word: Word | null) => string,
): readonly FilterLink[] {
  return [
    { label: 'all', href: href(null), isChosen: chosen === null },
    ...words.map((word) => ({ label: word, href: href(word), isChosen: word === chosen })),
  ];
}

function query(base: string, filter: FindingFilter): string {
  const parts = Object.entries(filter).flatMap(([key, word]) =>
    word === null ? [] : [`${key}=${encodeURIComponent(word)}`],
  );
  return parts.length === 0 ? base : `${base}?${parts.join('&')}`;
}
