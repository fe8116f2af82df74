/** What stands over every screen of a session, and the way to its other screens. */
import { dayOfZero } from './format-date';

/** What the head is made of: the kept session's own fields. */
export type SessionHeadInput = Readonly<{
  id: string;
  title: string;
  kind: 'flight' | 'simulation';
  zeroTaiNs: string;
  isDemo: boolean;
  planTitle: string | null;
  planNumber: number | null;
}>;

export type SessionHeadView = Readonly<{
  title: string;
  meta: string;
  demoNote: string | null;
  tabs: readonly Readonly<{ href: string; label: string }>[];
}>;

const TABS = [
  ['', 'Overview'],
  ['/sources', 'Sources'],
  ['/timeline', 'Timeline'],
  ['/phases', 'Phases'],
  ['/approach', 'Approach'],
  ['/navigation', 'Navigation'],
  ['/contact', 'Contact'],
  ['/rules', 'Rules'],
  ['/comparison', 'Comparison'],
  ['/handling', 'Handling'],
  ['/findings', 'Findings'],
  ['/debrief', 'Debrief'],
] as const;

export function sessionHeadView(session: SessionHeadInput): SessionHeadView {
  const base = `/sessions/${encodeURIComponent(session.id)}`;
  const version =
    session.planNumber === null || session.planNumber === 1
      ? ''
      : `, version ${session.planNumber}`;
  const plan = session.planTitle === null ? 'no plan' : `plan ${session.planTitle}${version}`;
  return {
    title: session.title,
    meta: [dayOfZero(session.zeroTaiNs), session.kind, plan].join(' · '),
    demoNote: session.isDemo ? 'invented demo' : null,
    tabs: TABS.map(([path, label]) => ({ href: `${base}${path}`, label })),
  };
}
