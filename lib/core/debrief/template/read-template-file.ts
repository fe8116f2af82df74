/** Reads the file of a debrief template. */
import { hasErrors, type Issue } from '../../result';
import type { PartlyRead } from '../../session/file-faults';
import { nameFromId } from '../../session/name-from-id';
import { reportRepeatedIds } from '../../session/read-plan-file';
import { capIssues, checkSchema, makeReport, type Report } from '../../session/schema-issues';
import { readYaml } from '../../session/yaml-text';
import { DRAFT_SECTIONS } from '../draft-sections';
import { plainText, textParagraphs } from '../markup';
import type { BlockRegistry } from '../nodes/block';
import { headingWords } from '../section-span';
import { sectionHeading } from './check-template';
import { type DebriefTemplate, type TemplateSection, WORDS } from './template';
import { type TemplateFileData, templateFileSchema } from './template-schema';

/** `contact_table` for the block `contactTable`: the files write names in small letters. */
const fileName = (block: string): string =>
  block.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** Names by which a template may require something, with what the registry calls it. */
export function requirable(registry: BlockRegistry): ReadonlyMap<string, string> {
  const blocks = [...registry.keys()].map((name) => [fileName(name), name] as const);
  return new Map([[WORDS, WORDS], ...blocks]);
}

function readSection(
  data: TemplateFileData['sections'][number],
  names: ReadonlyMap<string, string>,
): TemplateSection {
  const { id, heading, text = '', must_hold: must = [] } = data;
  const section = DRAFT_SECTIONS.find((each) => each === id) ?? null;
  return {
    id,
    section,
    heading:
      heading === undefined
        ? section === null
          ? nameFromId(id)
          : null
        : headingWords(plainText(heading)),
    text: textParagraphs(text),
    required: must.flatMap((name) => names.get(name) ?? []),
  };
}

/** Headings without a word, and two alike: people could not tell one section from the other. */
function reportHeadings(sections: readonly TemplateSection[], report: Report): void {
  const first = new Map<string, string>();
  sections.forEach((section, index) => {
    const words = headingWords(sectionHeading(section));
    const place = ['sections', index, section.heading === null ? 'id' : 'heading'] as const;
    const taken = first.get(words);
    if (!/[\p{L}\p{N}]/u.test(words)) {
      report(place, {
        code: 'heading-without-words',
        message: `the heading of the section "${section.id}" has no words`,
        expected: 'letters or digits',
        received: words,
      });
    } else if (taken !== undefined) {
      report(place, {
        code: 'heading-twice',
        message: `the heading "${words}" is that of the section "${taken}" already`,
        expected: 'a heading of its own',
        received: words,
      });
    } else first.set(words, section.id);
  });
}

/**
 * Reads a template.
 *
 * @param text YAML or JSON
 * @param name of the file, for what is said of it
 * @param registry blocks that it may require
 */
export function readTemplateFile(
  text: string,
  name: string,
  registry: BlockRegistry,
): PartlyRead<DebriefTemplate> {
  const yaml = readYaml(text, name);
  if (yaml.value === null) return { value: null, understood: null, issues: yaml.issues };
  const checked = checkSchema(templateFileSchema, yaml.value);
  const issues: Issue[] = [...yaml.issues, ...checked.issues];
  if (checked.understood === null) {
    return { value: null, understood: null, issues: capIssues(issues, name) };
  }
  const { title, sections } = checked.understood;
  const report = makeReport(yaml.value, issues, checked.faults);
  const names = requirable(registry);
  reportRepeatedIds(
    sections.map(({ id }) => id),
    (index) => ['sections', index, 'id'],
    report,
  );
  sections.forEach(({ must_hold: must = [] }, index) => {
    must.forEach((each, at) => {
      if (names.has(each)) return;
      report(['sections', index, 'must_hold', at], {
        code: 'block-unknown',
        message: `no block is called "${each}"`,
        expected: `one of ${[...names.keys()].join(', ')}`,
        received: each,
      });
    });
  });
  const read = { title, sections: sections.map((section) => readSection(section, names)) };
  reportHeadings(read.sections, report);
  return {
    value: hasErrors(issues) ? null : read,
    understood: read,
    issues: capIssues(issues, name),
  };
}
