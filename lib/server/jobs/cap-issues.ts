/** Issues as a job keeps them: so many and so long that a person can read them. */
import type { Issue } from '@/lib/core/result';

const MOST_ISSUES = 300;
const MOST_CHARACTERS = 1_000;

const RANK: Readonly<Record<Issue['severity'], number>> = { error: 0, warning: 1, note: 2 };

function shorten(text: string): string {
  return text.length > MOST_CHARACTERS ? `${text.slice(0, MOST_CHARACTERS)}…` : text;
}

function readable(issue: Issue): Issue {
  const { message, expected, received, keyPath } = issue;
  return {
    ...issue,
    message: shorten(message),
    ...(expected === undefined ? {} : { expected: shorten(expected) }),
    ...(received === undefined ? {} : { received: shorten(received) }),
    ...(keyPath === undefined ? {} : { keyPath: shorten(keyPath) }),
  };
}

/**
 * Keeps the gravest issues of a file that is wrong everywhere, in the order they were found.
 *
 * @returns at most 300 issues and one that counts the others
 */
export function capIssues(issues: readonly Issue[]): readonly Issue[] {
  if (issues.length <= MOST_ISSUES) return issues.map(readable);
  const byRank = [...issues.keys()].sort((a, b) => rankAt(issues, a) - rankAt(issues, b) || a - b);
  const kept = byRank.slice(0, MOST_ISSUES).sort((a, b) => a - b);
  const gravest = byRank[MOST_ISSUES];
  const more: Issue = {
    code: 'more-issues',
    severity: (gravest === undefined ? undefined : issues[gravest]?.severity) ?? 'note',
    message: `and ${issues.length - MOST_ISSUES} more; the gravest are listed`,
  };
  return [...kept.flatMap((at) => issues[at] ?? []).map(readable), more];
}

function rankAt(issues: readonly Issue[], index: number): number {
  const issue = issues[index];
  return issue === undefined ? RANK.note : RANK[issue.severity];
}
