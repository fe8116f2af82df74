/** What people decided about rules, beside the verdicts: a decision changes none of them. */
import type { DispositionResult, RuleResult } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { sessionTimeText } from '../time/session-time-text';
import type { DebriefMaterial } from './debrief-material';
import type { Sentence } from './draft-sentences';

type Decided = Pick<DebriefMaterial, 'reconstruction'>;

function decisionsOn({ reconstruction }: Decided, rule: string): readonly DispositionResult[] {
  return reconstruction.dispositions.filter((one) => one.rule === rule);
}

/** A verdict with what was decided about its rule: `broken; waived`. */
export function decidedVerdict(material: Decided, { id, verdict }: RuleResult): string {
  const decided = decisionsOn(material, id).map(({ disposition }) => disposition);
  return [verdict, ...new Set(decided)].join('; ');
}

/** `Waived by DIRECTOR at 00:39:39.8 (events.csv, line 22): the reason.` */
function decisionWords(one: DispositionResult): string {
  const { disposition, amendedTo, givenBy, atS, entry, reason, fault } = one;
  const who = givenBy === null ? '' : ` by ${givenBy}`;
  const when = atS === null ? '' : ` at ${sessionTimeText(atS, 1)}`;
  const place = entry === null ? '' : ` (${entry.source}, line ${entry.line})`;
  const words = amendedTo === null ? '' : ` to \u201c${amendedTo}\u201d`;
  const why = reason === null ? '' : `: ${reason}`;
  const but = fault === null ? '' : ` (but ${fault})`;
  const act = disposition === 'waived' ? 'Waived' : 'Amended';
  return `${act}${who}${when}${words}${place}${why.replace(/\.$/, '')}${but}.`;
}

/** Why a rule has its verdict, and who decided what about it, when and where that is logged. */
export function explainedWithDecisions(material: Decided, rule: RuleResult): string {
  return [rule.explanation, ...decisionsOn(material, rule.id).map(decisionWords)]
    .filter((part) => part !== '')
    .join(' ');
}

/** How the claim of a decision begins, word for word as the draft writes it. */
export function decisionClaim(rule: string, disposition: DispositionResult['disposition']): string {
  return `Rule \u201c${nameFromId(rule)}\u201d was ${disposition}`;
}

/** Decisions about the rules that the summary tells of, in the order of those rules. */
export function decisionSentences(
  material: Decided,
  rules: readonly RuleResult[],
): readonly Sentence[] {
  return rules.flatMap(({ id }) =>
    decisionsOn(material, id).map(({ disposition, givenBy }): Sentence => {
      const who = givenBy === null ? '' : ` by ${givenBy}`;
      return [`${decisionClaim(id, disposition)}${who}; the verdict stays.`];
    }),
  );
}
