/** Sentences that the program drafted and would not write any more. */
import { nameFromId } from '../session/name-from-id';
import type { DebriefMaterial } from './debrief-material';
import { decisionClaim } from './rule-decisions';

/** What a draft says where something is absent, word for word as `draftDebrief` writes it. */
export const ABSENCE_CLAIMS = [
  'No finding has been written for this session.',
  'No fault was found in the data.',
  'No contact was found in the data.',
  'No contact was found, so there are no conditions at contact.',
  'No condition at contact was measured.',
  'No event of the capture was logged.',
  'Nothing was left open by the data.',
  'Nothing was seen that no step asked for.',
  'The session has no rules, so none was evaluated.',
  'There is no plan: nothing could be held against one.',
  'There are no rules: none was evaluated.',
  'There is no telemetry.',
  'There is no event or voice log.',
] as const;

/**
 * Claims of the draft that the session no longer bears out.
 *
 * @param text all prose of the draft as it stands
 * @param fresh all prose of a draft written now
 * @returns each claim that is in the one and not in the other
 *
 * Valid: for sentences left as they were drafted; what people reworded is theirs.
 */
export function staleClaims(
  text: string,
  fresh: string,
  { reconstruction }: Pick<DebriefMaterial, 'reconstruction'>,
): readonly string[] {
  const verdicts = reconstruction.rules.flatMap(({ id }) =>
    ['was broken', 'was not evaluated', 'is undecided'].map(
      (verdict) => `Rule \u201c${nameFromId(id)}\u201d ${verdict}`,
    ),
  );
  const decisions = reconstruction.rules.flatMap(({ id }) => [
    decisionClaim(id, 'waived'),
    decisionClaim(id, 'amended'),
  ]);
  return [...ABSENCE_CLAIMS, ...verdicts, ...decisions].filter(
    (claim) => text.includes(claim) && !fresh.includes(claim),
  );
}
