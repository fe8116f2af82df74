/** The sections of a debrief that the program can write. */

/** The parts of a drafted debrief, in order. */
export const DRAFT_SECTIONS = [
  'purpose',
  'summary',
  'flown',
  'steps',
  'rules',
  'contact',
  'comparison',
  'handling',
  'findings',
  'data',
  'unknown',
  'caution',
] as const;
export type DraftSection = (typeof DRAFT_SECTIONS)[number];
