/** Which rule set judges a session, and which decisions were about rules that changed since. */
import { nameFromId } from '../../core/session/name-from-id';
import { entryHref } from './register-view';

type InUse = Readonly<{
  entryId: string;
  title: string;
  number: number;
  newest: number;
}> | null;

type Changed = Readonly<{
  rule: string;
  disposition: 'waived' | 'amended';
  change: 'dropped' | 'altered';
  entryId: string;
  from: number;
  to: number;
}>;

export type RulesInUseView = Readonly<{
  text: string;
  href: string;
  newer: Readonly<{ text: string; href: string }> | null;
  changed: readonly Readonly<{ key: string; text: string; href: string }>[];
}>;

/** @returns null for a session without a rule set */
export function rulesInUseView(used: InUse, changed: readonly Changed[]): RulesInUseView | null {
  if (used === null) return null;
  const href = entryHref('rules', used.entryId);
  const isOlder = used.newest > used.number;
  return {
    text: `Judged by ${used.title}, version ${used.number}.`,
    href,
    newer: isOlder
      ? {
          text: `Version ${used.newest} is there, not in use here.`,
          href: `${href}/compare?from=${used.number}&to=${used.newest}`,
        }
      : null,
    changed: changed.map(({ rule, disposition, change, entryId, from, to }) => ({
      key: `${rule} ${disposition}`,
      text:
        change === 'dropped'
          ? `${nameFromId(rule)} was ${disposition} under version ${from}; version ${to} has no such rule.`
          : `${nameFromId(rule)} was ${disposition} under version ${from}; version ${to} alters the rule. Look at the decision again.`,
      href: `${entryHref('rules', entryId)}/compare?from=${from}&to=${to}`,
    })),
  };
}
