/** The schema of a debrief template: which sections a team's debrief has, in which order. */
import { z } from 'zod';
import { idSchema, registerIdSchema } from '../../session/profile-schema';
import { DRAFT_SECTIONS } from '../draft-sections';

const shared = {
  text: z
    .string()
    .max(20_000)
    .optional()
    .describe('Standing text at its start; an empty line parts paragraphs.'),
  must_hold: z
    .array(z.string().min(1).max(60))
    .max(30)
    .optional()
    .describe(
      'What the debrief must hold there: "words" of its own, or names of blocks such as contact_table.',
    ),
};

const filledSchema = z
  .strictObject({
    id: z
      .enum(DRAFT_SECTIONS)
      .describe(
        'Which of the sections that the program writes; a draft knows its section by it, whatever its heading is called.',
      ),
    heading: z.string().min(1).max(200).optional().describe('Default: the program\u2019s own.'),
    ...shared,
  })
  .describe('A section that the program writes.');

const ownSchema = z
  .strictObject({
    id: idSchema.describe(
      'Name of the section; a draft knows it by this, whatever its heading is called.',
    ),
    heading: z.string().min(1).max(200).optional().describe('Default: made from the id.'),
    ...shared,
  })
  .describe('A section of the team\u2019s own.');

export const templateFileSchema = z
  .strictObject({
    id: registerIdSchema,
    title: z.string().min(1).max(200).describe('Free text.'),
    sections: z
      .array(z.union([filledSchema, ownSchema]))
      .min(1)
      .max(100)
      .describe('In their order; a section that is not listed is left out.'),
  })
  .describe('The form of a debrief.');

export type TemplateFileData = z.infer<typeof templateFileSchema>;
