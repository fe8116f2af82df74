/** The first screen of a session, put together. */
import type { Finding } from '../../core/findings/finding';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { type ContactView, contactView, noContactText } from '../contact-view';
import { type FindingRow, findingRow, sortFindings } from '../findings-view';
import { type PhasesView, phasesView } from '../phases-view';
import { type RuleRow, rulesView } from '../rules-view';
import type { Sentence } from '../sentence';
import { answerView } from './answer-view';
import { dataLimitsView } from './data-limits-view';
import { type SideTrack, type SideView, sideView } from './side-view';

export type OverviewInput = Readonly<{
  reconstruction: Reconstruction;
  findings: readonly Finding[];
  track: SideTrack | null;
  sessionId: string;
}>;

export type OverviewView = Readonly<{
  sessionPath: string;
  answer: readonly Sentence[];
  side: SideView | null;
  rules: readonly RuleRow[];
  steps: PhasesView['rows'];
  contact: ContactView | null;
  /** What stands in place of contact where there is none. */
  noContact: string;
  findings: readonly FindingRow[];
  limits: readonly Sentence[];
}>;

export function overviewView(input: OverviewInput): OverviewView {
  const { reconstruction, track, sessionId } = input;
  const contact = contactView(reconstruction, sessionId);
  return {
    sessionPath: `/sessions/${encodeURIComponent(sessionId)}`,
    answer: answerView(reconstruction, contact, sessionId),
    side: track === null ? null : sideView(reconstruction, track),
    rules: rulesView(reconstruction, sessionId).rules,
    steps: phasesView(reconstruction, sessionId).rows,
    contact,
    noContact: noContactText(reconstruction),
    findings: sortFindings(input.findings.filter(({ state }) => state !== 'withdrawn')).map(
      (finding) => findingRow(finding, sessionId),
    ),
    limits: dataLimitsView(reconstruction, sessionId),
  };
}
