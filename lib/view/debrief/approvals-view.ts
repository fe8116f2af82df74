/** Approvals of a draft as the dialog before publishing shows them. */
import { missingRoles, missingRolesText } from '../../core/debrief/approvals';
import { utcMinuteText } from '../../core/time/session-time-text';

/** An approval as it was given, and what became of it. */
export type GivenApproval = Readonly<{
  id: string;
  role: string;
  name: string;
  contentSha256: string;
  draftVersion: number;
  atIso: string;
  withdrawn: Readonly<{ atIso: string; by: string; reason: string }> | null;
}>;

export type ApprovalLine = Readonly<{ id: string; text: string; note: string }>;

export type ApprovalsView = Readonly<{
  /** Version of the draft and hash of its content: what an approval given now is of. */
  version: number;
  contentSha256: string;
  standing: readonly ApprovalLine[];
  /** Given to other content, or withdrawn. */
  past: readonly ApprovalLine[];
  required: readonly Readonly<{ role: string; given: string | null }>[];
  /** Which roles are missing, in a sentence; null where nothing stands in the way. */
  missing: string | null;
  /** Roles to choose from: those that are missing first. */
  roles: readonly string[];
}>;

const lineOf = ({ id, role, name, atIso }: GivenApproval, note: string): ApprovalLine => ({
  id,
  text: `${role}: ${name}, ${utcMinuteText(atIso)}`,
  note,
});

function pastLine(approval: GivenApproval): ApprovalLine {
  const { withdrawn, draftVersion } = approval;
  if (withdrawn === null) {
    const note = `It is of version ${draftVersion} as it stood then: text, figures, findings or versions have changed since, so it holds no longer.`;
    return lineOf(approval, note);
  }
  const { by, atIso, reason } = withdrawn;
  const why = reason === '' ? 'No reason was given.' : reason;
  return lineOf(approval, `Withdrawn by ${by}, ${utcMinuteText(atIso)}. ${why}`);
}

/**
 * @param given all that is not published, newest first
 * @param now the draft as it stands, and the roles that the team requires
 */
export function approvalsView(
  given: readonly GivenApproval[],
  now: Readonly<{ version: number; contentSha256: string; requiredRoles: readonly string[] }>,
): ApprovalsView {
  const { version, contentSha256, requiredRoles } = now;
  const holds = (each: GivenApproval) =>
    each.withdrawn === null && each.contentSha256 === contentSha256;
  const standing = given.filter(holds).reverse();
  const missing = missingRoles(requiredRoles, standing);
  const required = requiredRoles.map((role) => {
    const by = standing.filter((each) => missingRoles([role], [each]).length === 0);
    return { role, given: by.length === 0 ? null : by.map(({ name }) => name).join(', ') };
  });
  const others = given.map(({ role }) => role);
  return {
    version,
    contentSha256,
    standing: standing.map((each) => lineOf(each, '')),
    past: given.filter((each) => !holds(each)).map(pastLine),
    required,
    missing: missing.length === 0 ? null : missingRolesText(missing),
    roles: [...new Set([...missing, ...requiredRoles, ...others])],
  };
}

/**
 * What is said over an approved draft before somebody changes it; null where no approval holds.
 *
 * @param contentSha256 hash of the draft's content as it stands
 */
export function approvedNotice(
  given: readonly GivenApproval[],
  contentSha256: string,
): string | null {
  const standing = given.filter(
    (each) => each.withdrawn === null && each.contentSha256 === contentSha256,
  );
  if (standing.length === 0) return null;
  const who = [...standing]
    .reverse()
    .map(({ role, name }) => `${name} (${role})`)
    .join(', ');
  const they = standing.length === 1 ? 'the approval' : 'these approvals';
  return `Approved by ${who}. Any change of the draft withdraws ${they}.`;
}
