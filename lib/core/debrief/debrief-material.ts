/** What a debrief is written from: everything that a live block or an inline value may ask for. */
import type { Figure } from '../figure';
import type { CrewQuestion } from '../findings/crew-question';
import type { Finding } from '../findings/finding';
import type { ModelChange } from '../findings/model-change';
import { listFigures } from '../reconstruction/list-figures';
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import { countedFigures } from './counted-figures';
import { pollFigures, type StatedPoll } from './poll-place';
import type { DebriefTemplate } from './template/template';

/** An immutable version that the numbers depend on; parts that are not known are null. */
export type InputVersion = Readonly<{
  title: string;
  number: number | null;
  sha256: string | null;
}>;

/** All that a debrief may quote: the reconstruction, its figures by key, samples and findings. */
export type DebriefMaterial = Readonly<{
  reconstruction: Reconstruction;
  derived: DerivedColumns;
  findings: readonly Finding[];
  /** Changes proposed for the simulator's model; absent where nobody could make one. */
  modelChanges?: readonly ModelChange[];
  /** Questions to the crew; absent where nobody could ask one. */
  crewQuestions?: readonly CrewQuestion[];
  /** What was known at the instants that the document asks for; absent where none was computed. */
  polls?: readonly StatedPoll[];
  figures: ReadonlyMap<string, Figure>;
  plan: InputVersion | null;
  ruleSet: InputVersion | null;
  /** The team's form of a debrief that it was drafted by; absent for the program's own. */
  template?: InputVersion & Readonly<{ form: DebriefTemplate }>;
  /** True for the invented demo: every document made from it says so. */
  invented: boolean;
}>;

export type MaterialParts = Omit<DebriefMaterial, 'figures'>;

/**
 * Adds the figures by key to the parts.
 *
 * Keys are those of `listFigures`, those that only a document counts (`countedFigures`) and those of
 * what was known at an instant (`pollFigures`).
 */
export function makeMaterial(parts: MaterialParts): DebriefMaterial {
  const figures = new Map([
    ...listFigures(parts.reconstruction),
    ...countedFigures(parts.reconstruction),
    ...(parts.polls ?? []).flatMap((poll) => pollFigures(poll, parts.reconstruction)),
  ]);
  return { ...parts, figures };
}

/** Shares of places or of time. */
const SHARE_KEY =
  /\.(?:share_outside|chance_median|chance_p95|(?:sim_)?inside_desired|(?:sim_)?inside_adequate)$/;

/**
 * The unit a figure is read in: a rule's margins and exceedances in the unit the rule was written in,
 * shares as percentages.
 *
 * @returns null where the reader's usual unit fits
 */
export function unitForKey(reconstruction: Reconstruction, key: string): string | null {
  if (SHARE_KEY.test(key)) return '%';
  const rule = /^rules\[(.+)\]\.(?:instant_)?margin$/.exec(key)?.[1];
  if (rule !== undefined)
    return reconstruction.rules.find((each) => each.id === rule)?.unit ?? null;
  const exceedance = /^exceedances\[(\d+)\]\.(?:worst|limit)$/.exec(key)?.[1];
  if (exceedance !== undefined) return reconstruction.exceedances[Number(exceedance)]?.unit ?? null;
  return null;
}
