/** The list of sessions: what each was and how it came out. */
import type { Verdict } from '../core/reconstruction/reconstruction';
import { dayText } from './format-date';
import { plural } from './format-number';
import { formatSessionTime } from './format-time';

/** What is kept of a session, as the list needs it. */
export type ListedSession = Readonly<{
  id: string;
  version: number;
  title: string;
  kind: 'flight' | 'simulation';
  zeroUtc: string;
  isDemo: boolean;
  findingCount: number;
  publicationCount: number;
  outcome: Readonly<{
    contactS: number | null;
    verdictCounts: Readonly<Record<Verdict, number>>;
  }> | null;
}>;

export type VerdictCount = Readonly<{ verdict: Verdict; count: number }>;

export type SessionRow = Readonly<{
  id: string;
  version: number;
  title: string;
  href: string;
  day: string;
  kind: string;
  isDemo: boolean;
  contact: string;
  /** Verdicts that ask for attention, or `met` alone; empty without rules. */
  verdicts: readonly VerdictCount[];
  rulesNote: string | null;
  findings: number;
  published: number;
  /** What goes when it is removed, in words. */
  removal: string;
}>;

const ATTENTION = ['broken', 'undecided', 'not evaluated'] as const;

export function sessionsView(sessions: readonly ListedSession[]): readonly SessionRow[] {
  return sessions.map((session) => {
    const counts = session.outcome?.verdictCounts;
    const attention = ATTENTION.map((verdict) => ({ verdict, count: counts?.[verdict] ?? 0 }));
    const total = counts === undefined ? 0 : Object.values(counts).reduce((a, b) => a + b, 0);
    const troubled = attention.filter(({ count }) => count > 0);
    const met = { verdict: 'met' as const, count: counts?.met ?? 0 };
    return {
      id: session.id,
      version: session.version,
      title: session.title,
      href: `/sessions/${encodeURIComponent(session.id)}`,
      day: dayText(session.zeroUtc),
      kind: session.kind,
      isDemo: session.isDemo,
      contact: contactText(session),
      verdicts: troubled.length > 0 || met.count === 0 ? troubled : [met],
      rulesNote: counts === undefined ? null : total === 0 ? 'no rules' : null,
      findings: session.findingCount,
      published: session.publicationCount,
      removal: removalText(session),
    };
  });
}

function contactText({ outcome }: ListedSession): string {
  if (outcome === null) return 'not reconstructed yet';
  return outcome.contactS === null ? 'none' : formatSessionTime(outcome.contactS);
}

function removalText({ isDemo, findingCount, publicationCount }: ListedSession): string {
  if (isDemo) {
    return 'The whole invented demo, both of its flights with findings, drafts and published debriefs, is removed and does not come back.';
  }
  const findings = findingCount === 0 ? '' : `, its ${plural(findingCount, 'finding')}`;
  const kept =
    publicationCount === 0
      ? ''
      : ` ${plural(publicationCount, 'published debrief')} of it ${publicationCount === 1 ? 'stays' : 'stay'}.`;
  return `The session’s files${findings} and its draft are removed for good.${kept}`;
}
