/** Changes proposed for the simulator's model as a table, and what is typed into its forms. */
import { formForKey } from '../core/debrief/value-choices';
import { MODEL_CHANGE_STATES, type ModelChange } from '../core/findings/model-change';
import type { Typed } from './clock/clock-edit';
import { type FigureView, figureView } from './figure-view';
import { stampText } from './format-date';

export type ModelChangeRowView = Readonly<{
  id: string;
  number: number;
  version: number;
  parameter: string;
  now: string;
  proposed: string;
  owner: string;
  state: string;
  evidence: readonly Readonly<{ label: string; figure: FigureView }>[];
  by: string;
  isRemoved: boolean;
  canUndo: boolean;
}>;

/** A number is never written as a word here. */
function numberForm(key: string) {
  const form = formForKey(key);
  return form === 'word' ? 'number' : form;
}

/** The words a form offers. */
export const MODEL_CHANGE_WORDS: readonly string[] = MODEL_CHANGE_STATES;

export function modelChangeRows(
  changes: readonly ModelChange[],
  sessionId: string,
): readonly ModelChangeRowView[] {
  return changes.map((change) => ({
    id: change.id,
    number: change.number,
    version: change.version,
    parameter: change.parameter,
    now: change.now,
    proposed: change.proposed,
    owner: change.owner,
    state: change.state,
    evidence: change.figures.map(({ key, label, figure }) => ({
      label,
      figure: figureView(figure, { sessionId, label, form: numberForm(key) }),
    })),
    by: `${change.author}, ${stampText(change.updatedAtIso)}`,
    isRemoved: change.removed === 'removed',
    canUndo: change.undoable > 0,
  }));
}

/** Words of a change as typed, still unchecked. */
export function modelChangeWords(typed: Typed) {
  const { parameter = '', now = '', proposed = '', owner = '', state = 'proposed' } = typed;
  return { parameter, now, proposed, owner, state };
}

/** Keys chosen as evidence: each choice holds several. */
export function chosenKeys(form: FormData): readonly string[] {
  const chosen = form.getAll('evidence').flatMap((value) => String(value).split(' '));
  return [...new Set(chosen)].filter((key) => key !== '').slice(0, 100);
}

/** What somebody else made of a change meanwhile, for the one whose words were not kept. */
export function changedMeanwhile(newer: unknown): string {
  const said = (name: string): string => {
    const value: unknown =
      typeof newer === 'object' && newer !== null ? Reflect.get(newer, name) : '';
    return typeof value === 'string' ? value : '';
  };
  const now =
    said('removed') === 'removed'
      ? 'took it off the table'
      : `has it as “${said('parameter')}”, from “${said('now')}” to “${said('proposed')}”, ${said('state')}`;
  return `Nothing was kept: somebody changed it meanwhile and ${now}. What you typed stays here; load the page again to see theirs in the table, and keep yours or discard it.`;
}
