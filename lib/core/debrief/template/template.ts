/** A debrief template: sections in order, with what is said in each and what must stand in it. */
import type { DraftSection } from '../draft-sections';

/** `words` = text that is not the template's own; else the name of a block, as the registry has it. */
export type Required = string;
export const WORDS: Required = 'words';

export type TemplateSection = Readonly<{
  id: string;
  /** The section that the program writes; null for one of the team's own. */
  section: DraftSection | null;
  /** null: the program's heading, of a section that it writes. */
  heading: string | null;
  /** Paragraphs of standing text. */
  text: readonly string[];
  required: readonly Required[];
}>;

export type DebriefTemplate = Readonly<{ title: string; sections: readonly TemplateSection[] }>;
