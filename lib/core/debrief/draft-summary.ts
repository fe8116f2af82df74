/**
 * The answer in sentences: what happened, which rules held, how contact went. Every number is an
 * inline value; nothing is claimed that the figures do not carry.
 */

import type { Figure } from '../figure';
import { motionReachesContact } from '../reconstruction/reaches-contact';
import type { Phase, RuleResult, Verdict } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { type Phrase, roughNode, valueNode } from './build-document';
import { conditionStandings } from './contact-standing';
import type { DebriefMaterial } from './debrief-material';
import { conditionKey } from './nodes/contact-table';

/** A sentence, or none where the data do not carry one. */
type Sentence = readonly Phrase[] | null;

/** `a`, `a and b`, `a, b and c`. */
export function listed(parts: readonly (readonly Phrase[])[]): readonly Phrase[] {
  return parts.flatMap((part, index): Phrase[] => {
    if (index === 0) return [...part];
    return [index === parts.length - 1 ? ' and ' : ', ', ...part];
  });
}

function known(figure: Figure | null | undefined): boolean {
  return figure?.value !== null && figure?.value !== undefined;
}

const VERDICT_CLAUSES: readonly (readonly [
  key: string,
  verdict: Verdict,
  one: string,
  many: string,
])[] = [
  ['met', 'met', 'was met', 'were met'],
  ['broken', 'broken', 'was broken', 'were broken'],
  ['undecided', 'undecided', 'is undecided', 'are undecided'],
  ['not_applicable', 'not applicable', 'did not apply', 'did not apply'],
  ['not_evaluated', 'not evaluated', 'could not be evaluated', 'could not be evaluated'],
];

/** Of six rules, two were met, one was broken ... */
export function ruleCounts({ reconstruction }: DebriefMaterial): Sentence {
  const { rules } = reconstruction;
  if (rules.length === 0) return ['The session has no rules, so none was evaluated.'];
  const clauses = VERDICT_CLAUSES.flatMap(([key, verdict, one, many]) => {
    const size = rules.filter((rule) => rule.verdict === verdict).length;
    if (size === 0) return [];
    return [[valueNode(`counts.rules_${key}`, 'word'), ` ${size === 1 ? one : many}`]];
  });
  const noun = rules.length === 1 ? ' rule, ' : ' rules, ';
  return ['Of ', valueNode('counts.rules', 'word'), noun, ...listed(clauses), '.'];
}

/** Rules that are met because an event was logged nowhere, though no log was there to name it. */
export function absenceSentences({ reconstruction }: DebriefMaterial): readonly Sentence[] {
  return reconstruction.notes
    .filter(({ code }) => code === 'absence-not-shown')
    .map(({ message }) => [message]);
}

/** Where on the approach an instant lies: the run that it fell into. */
function runAround({ reconstruction }: DebriefMaterial, timeS: number): readonly Phrase[] {
  const index = reconstruction.phases.findIndex(
    ({ startS, endS }) => (startS.value ?? Infinity) <= timeS && timeS < (endS.value ?? -Infinity),
  );
  const phase = reconstruction.phases[index];
  if (phase === undefined) return [];
  const at = `phases[${index}]`;
  const start = roughNode(`${at}.range_start_m`, 'number', 1);
  const isHold = phase.motion === 'hold' || phase.motion === 'crossing';
  return isHold
    ? [', in the hold at ', start]
    : [', in the run from ', start, ' to ', roughNode(`${at}.range_end_m`, 'number', 1)];
}

/** How one broken rule was broken: its stretches beyond the limit, or when and where. */
export function brokenRule(material: DebriefMaterial, rule: RuleResult): readonly Phrase[] {
  const { figures } = material;
  const times = figures.get(`rules[${rule.id}].exceedances`)?.value ?? 0;
  const margin: Phrase[] = known(rule.margin)
    ? [' with a margin of ', valueNode(`rules[${rule.id}].margin`)]
    : [];
  const beyond: Phrase[] =
    times === 0
      ? []
      : [
          ', ',
          ...(times === 1
            ? ['once']
            : [valueNode(`rules[${rule.id}].exceedances`, 'word'), ' times']),
          ' for ',
          valueNode(`rules[${rule.id}].beyond_s`),
          times === 1 ? '' : ' in all',
        ];
  // A margin of time is not taken at one place of the approach: only an event is.
  const when: Phrase[] =
    times > 0 || rule.atS === null || known(rule.margin)
      ? []
      : [
          ' at ',
          roughNode(`rules[${rule.id}].time_s`, 'time', 1),
          ...runAround(material, rule.atS),
        ];
  return [`Rule “${nameFromId(rule.id)}” was broken`, ...margin, ...when, ...beyond, '.'];
}

/** How contact was found, in words that follow a comma. */
const BASIS_WORDS = {
  crossing: 'the instant at which the contact plane was crossed',
  extrapolated: 'extrapolated from the last row of data',
  event: 'taken from the event log',
  declared: 'declared by a person in place of what was computed',
} as const;

/** Contact: when, how it was found, how fast. */
export function contactSentence({ reconstruction }: DebriefMaterial): Sentence {
  const { contact } = reconstruction;
  if (contact === null) return ['No contact was found in the data.'];
  const when = known(contact.timeS)
    ? ['Contact was at ', valueNode('contact.time_s', 'time'), `, ${BASIS_WORDS[contact.basis]}`]
    : ['Contact took place at a time that is not known'];
  if (contact.notEvaluated !== undefined) return [...when, '.'];
  const rate = known(contact.conditions.closing_rate)
    ? [', closing at ', valueNode(conditionKey('closing_rate'))]
    : [', at a closing rate that was not measured'];
  return [...when, ...rate, '.'];
}

/** Conditions against the limits of the docking standard. */
export function contactStandingSentences({ reconstruction }: DebriefMaterial): readonly Sentence[] {
  if (reconstruction.contact === null) return [];
  const { notEvaluated } = reconstruction.contact;
  if (notEvaluated !== undefined)
    return [[`The conditions at contact are not evaluated: ${notEvaluated}.`]];
  const all = conditionStandings(reconstruction.contact, reconstruction.plan);
  const of = (...wanted: readonly string[]) =>
    all.filter(({ standing }) => wanted.includes(standing));
  const named = (rows: typeof all) =>
    listed(
      rows.map(({ limit }): Phrase[] => [
        limit.label.toLowerCase(),
        ' (',
        valueNode(conditionKey(limit.condition)),
        ')',
      ]),
    );
  const inside = of('inside');
  const beyond = of('above', 'below');
  const near = of('near');
  const absent = of('not measured');
  const measured = all.length - absent.length;
  const limits = 'the docking standard\u2019s limits';
  const sentences: Sentence[] = [];
  if (measured === 0) return [['No condition at contact was measured.']];
  if (inside.length === measured) {
    sentences.push([
      measured === 1
        ? `The one condition measured lies inside ${limits}.`
        : `All conditions measured lie inside ${limits}.`,
    ]);
  }
  if (beyond.length > 0) sentences.push([`Outside ${limits}: `, ...named(beyond), '.']);
  if (near.length > 0) {
    sentences.push([
      'Nearer to its limit than its uncertainty, so neither inside nor outside can be said: ',
      ...named(near),
      '.',
    ]);
  }
  if (inside.length > 0 && inside.length < measured) {
    sentences.push([
      inside.length === 1
        ? `The other condition measured lies inside ${limits}.`
        : `The other conditions measured lie inside ${limits}.`,
    ]);
  }
  if (absent.length > 0) {
    const names = absent.map(({ limit }) => [limit.label.toLowerCase()]);
    sentences.push(['Not measured: ', ...listed(names), '.']);
  }
  return sentences;
}

/** Ranges and rates that are not of the ports. */
function elsewhereSentence({ reconstruction }: DebriefMaterial): Sentence {
  const sources = reconstruction.navigation?.sources ?? [];
  const reference = sources.find(({ isSolution }) => isSolution)?.reference;
  if (reference?.points !== 'elsewhere') return null;
  return [`Every range, rate and offset here is of ${reference.label}, not of the ports.`];
}

/** Time from the first step to contact beside the plan's time for its steps. */
export function durationSentence({ figures, reconstruction }: DebriefMaterial): Sentence {
  if (!known(figures.get('approach.flown_s')) || !motionReachesContact(reconstruction)) return null;
  const flown: Phrase[] = [
    'From the start of the first step to contact it took ',
    valueNode('approach.flown_s', 'spoken'),
  ];
  if (!known(figures.get('approach.planned_s'))) return [...flown, '.'];
  const skipped = reconstruction.steps.filter((step) => step.pieces === 0).length;
  const skippedWords =
    skipped === 0 ? '' : `, ${skipped === 1 ? 'the one' : 'those'} not flown included`;
  return [
    ...flown,
    '; the plan gives ',
    valueNode('approach.planned_s', 'spoken'),
    ` for its steps${skippedWords}.`,
  ];
}

function unplannedPhrase(phase: Phase, index: number): readonly Phrase[] {
  const noun: Readonly<Record<Phase['motion'], string>> = {
    hold: 'a hold at ',
    crossing: 'a crossing at ',
    opening: 'a back-off from ',
    closing: 'a closing from ',
  };
  const at = `phases[${index}]`;
  const moves = phase.motion === 'opening' || phase.motion === 'closing';
  return [
    noun[phase.motion],
    roughNode(`${at}.range_start_m`, 'number', 0),
    ...(moves ? [' to ', roughNode(`${at}.range_end_m`, 'number', 0)] : []),
    ' for ',
    roughNode(`${at}.duration_s`, 'spoken', 0),
  ];
}

/** Runs of motion that no step asked for, before contact. */
export function unplannedSentence({ reconstruction }: DebriefMaterial): Sentence {
  if (reconstruction.plan === null) return null;
  const unplanned = reconstruction.phases
    .map((phase, index) => ({ phase, index }))
    .filter(({ phase }) => phase.step === null)
    .map(({ phase, index }) => unplannedPhrase(phase, index));
  if (unplanned.length === 0) {
    return reconstruction.phases.length === 0 ? null : ['Nothing was seen that no step asked for.'];
  }
  return ['Not in the plan: ', ...listed(unplanned), '.'];
}

/** Steps of the plan that were not flown, or not to their end. */
export function stepSentence({ reconstruction }: DebriefMaterial): Sentence {
  const { steps } = reconstruction;
  if (steps.length === 0) return null;
  const notFlown = steps.filter((step) => step.pieces === 0).map((step) => [nameFromId(step.id)]);
  const open = steps
    .filter((step) => step.pieces > 0 && !step.completed)
    .map((step) => [nameFromId(step.id)]);
  if (notFlown.length === 0 && open.length === 0) {
    return steps.length === 1
      ? ['The one step of the plan was completed.']
      : ['All ', valueNode('counts.steps', 'word'), ' steps of the plan were completed.'];
  }
  const parts: Phrase[] = [];
  if (notFlown.length > 0)
    parts.push(
      motionReachesContact(reconstruction) ? 'Not flown: ' : 'Not seen in the data: ',
      ...listed(notFlown),
      '.',
    );
  if (open.length > 0) {
    parts.push(parts.length === 0 ? '' : ' ', 'Not completed: ', ...listed(open), '.');
  }
  return parts;
}

/** All of it as one paragraph's phrases. */
export function summaryPhrases(material: DebriefMaterial): readonly Phrase[] {
  const broken = material.reconstruction.rules.filter((rule) => rule.verdict === 'broken');
  const sentences: readonly Sentence[] = [
    contactSentence(material),
    ...contactStandingSentences(material),
    elsewhereSentence(material),
    durationSentence(material),
    unplannedSentence(material),
    ruleCounts(material),
    ...broken.map((rule) => brokenRule(material, rule)),
  ];
  return joinSentences(sentences);
}

/** Sentences with a space between, the absent ones left out. */
export function joinSentences(sentences: readonly Sentence[]): readonly Phrase[] {
  return sentences
    .filter((sentence) => sentence !== null)
    .flatMap((sentence, index): readonly Phrase[] => (index === 0 ? sentence : [' ', ...sentence]));
}
