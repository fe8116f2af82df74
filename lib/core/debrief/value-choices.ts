/** Which figures can be put into a sentence, under names that people can search. */
import { FAULT_WORDS, MOTION_WORDS } from '../reconstruction/kind-words';
import type { Phase } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { type DebriefMaterial, unitForKey } from './debrief-material';
import { type FigureForm, figureText } from './figure-text';
import { keyParts, ownerWords } from './key-words';
import { plainText } from './markup';

/** One number that an author may put into a sentence. */
export type ValueChoice = Readonly<{
  key: string;
  /** `Phase 3 (approach): duration` */
  label: string;
  /** As it would read now. */
  text: string;
  form: FigureForm;
}>;

/** How a figure is usually written, from what its key ends in. */
export function formForKey(key: string): FigureForm {
  if (/\.(start|end|time|worst|peak|set|computed)_s$/.test(key)) return 'time';
  if (key.endsWith('.duration_deviation_s')) return 'signed-duration';
  if (key.endsWith('margin')) return 'signed';
  if (/\.(deviation|after_contact|offset|delay)_s$/.test(key)) return 'signed';
  if (/\.(duration|flown|planned)_s$/.test(key)) return 'spoken';
  if (key.startsWith('counts.') || key.endsWith('.exceedances')) return 'word';
  return 'number';
}

/** As much of what was said as names it in a list. */
function shortened(words: string): string {
  const letters = [...words];
  return letters.length <= 40 ? words : `${letters.slice(0, 39).join('')}\u2026`;
}

function runName({ step, motion }: Phase): string {
  return step === null ? MOTION_WORDS[motion] : nameFromId(step);
}

function ownerName(
  owner: string,
  { reconstruction }: Pick<DebriefMaterial, 'reconstruction'>,
): string {
  const [, kind = owner, name = ''] = /^(\w+)(?:\[(.+)\])?$/.exec(owner) ?? [];
  if (kind === 'phases') {
    const phase = reconstruction.phases[Number(name)];
    return `Phase ${Number(name) + 1}${phase === undefined ? '' : ` (${runName(phase)})`}`;
  }
  if (kind === 'exceedances') {
    return `Exceedance ${Number(name) + 1} (${nameFromId(reconstruction.exceedances[Number(name)]?.rule ?? '')})`;
  }
  if (kind === 'data_quality') {
    const fault = reconstruction.dataQuality[Number(name)];
    return `Data fault ${Number(name) + 1}${fault === undefined ? '' : ` (${FAULT_WORDS[fault.kind]})`}`;
  }
  if (kind === 'events') {
    return `Event (${reconstruction.events[Number(name)]?.event ?? ''})`;
  }
  if (kind === 'callouts') {
    const words = reconstruction.callouts[Number(name)]?.text;
    return `Callout ${Number(name) + 1}${words === undefined ? '' : ` (\u201c${shortened(words)}\u201d)`}`;
  }
  return ownerWords(kind, name);
}

/** A figure's name for people: `Rule Corridor: margin`. */
export function figureLabel(
  key: string,
  material: Pick<DebriefMaterial, 'reconstruction'>,
): string {
  const parts = keyParts(key);
  return parts === null ? key : `${ownerName(parts.owner, material)}: ${parts.quantity}`;
}

/** Every figure that has a value, in the order of the reconstruction. */
export function valueChoices(material: DebriefMaterial): readonly ValueChoice[] {
  return [...material.figures].flatMap(([key, figure]): ValueChoice[] => {
    if (figure.value === null) return [];
    const form = formForKey(key);
    const unit = unitForKey(material.reconstruction, key);
    const label = plainText(figureLabel(key, material));
    return [{ key, label, text: figureText(figure, { form, unit }), form }];
  });
}
