/** What a new version of a template asks for otherwise than the one before, in sentences. */
import { sectionHeading } from './check-template';
import type { DebriefTemplate, TemplateSection } from './template';

function asksAnything({ required }: TemplateSection): boolean {
  return required.length > 0;
}

/**
 * Required sections that the new version calls otherwise or does without.
 *
 * Sections are the same where their ids are. Drafts keep the version that they were begun by, so none of
 * this stops one; it is what a person should know who saves the version.
 *
 * @returns a sentence each, in the order of the version before; empty where nothing of the kind changed
 */
export function templateChanges(
  before: DebriefTemplate,
  after: DebriefTemplate,
): readonly string[] {
  return before.sections.filter(asksAnything).flatMap((old): readonly string[] => {
    const title = `\u201c${sectionHeading(old)}\u201d (${old.id})`;
    const now = after.sections.find(({ id }) => id === old.id);
    if (now === undefined) {
      return [`The section ${title} is gone, with what it had to hold.`];
    }
    const named = sectionHeading(now);
    return [
      ...(named === sectionHeading(old)
        ? []
        : [`The section ${title} is called \u201c${named}\u201d.`]),
      ...(asksAnything(now) ? [] : [`The section ${title} need hold nothing any more.`]),
    ];
  });
}
