/**
 * The answer in sentences: what happened, which rules held, how contact went. Every number is an
 * inline value; nothing is claimed that the figures do not carry.
 */

import { leadsAway } from '../phases/match-steps';
import type { RuleResult, Verdict } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { type Phrase, roughNode, valueNode } from './build-document';
import { conditionStandings } from './contact-standing';
import type { DebriefMaterial } from './debrief-material';
import {
  breakOffSentences,
  durationSentence,
  passedSentences,
  unplannedSentence,
} from './draft-course';
import { joinSentences, known, listed, type Sentence } from './draft-sentences';
import { conditionKey } from './nodes/contact-table';
import { decisionSentences } from './rule-decisions';

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

/** Where on the approach an instant lies: the run that it fell into, with its ranges and its step. */
function runAround({ reconstruction }: DebriefMaterial, timeS: number): readonly Phrase[] {
  const index = reconstruction.phases.findIndex(
    ({ startS, endS }) => (startS.value ?? Infinity) <= timeS && timeS < (endS.value ?? -Infinity),
  );
  const phase = reconstruction.phases[index];
  const contactS = reconstruction.contact?.timeS.value ?? Infinity;
  if (phase === undefined) return timeS >= contactS ? [', after contact'] : [];
  const step = phase.step === null ? '' : ` of the step ${nameFromId(phase.step)}`;
  const at = `phases[${index}]`;
  const start = roughNode(`${at}.range_start_m`, 'number', 1);
  const isHold = phase.motion === 'hold' || phase.motion === 'crossing';
  return isHold
    ? [', in the hold at ', start, step]
    : [', in the run from ', start, ' to ', roughNode(`${at}.range_end_m`, 'number', 1), step];
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
  const when = times > 0 ? [] : brokenWhen(material, rule);
  return [`Rule “${nameFromId(rule.id)}” was broken`, ...margin, ...when, ...beyond, '.'];
}

/** When events broke a rule, and where on the approach that was. */
function brokenWhen(material: DebriefMaterial, rule: RuleResult): readonly Phrase[] {
  const over = rule.brokenOver?.[0];
  const at = `rules[${rule.id}]`;
  if (over !== undefined && over.toS > over.fromS)
    return [
      known(rule.margin) ? ', from ' : ' from ',
      roughNode(`${at}.broken.start_s`, 'time', 1),
      ' to ',
      roughNode(`${at}.broken.end_s`, 'time', 1),
      ...runAround(material, over.fromS),
    ];
  // A margin of time is not taken at one place of the approach: only an event is.
  if (rule.atS === null || (known(rule.margin) && over === undefined)) return [];
  return [' at ', roughNode(`${at}.time_s`, 'time', 1), ...runAround(material, rule.atS)];
}

/** How contact was found, in words that follow a comma. */
const BASIS_WORDS = {
  crossing: 'the instant at which the contact plane was crossed',
  extrapolated: 'extrapolated from the last row of data',
  event: 'taken from the event log',
  declared: 'declared by a person in place of what was computed',
} as const;

/** Without contact: where the motion ends, and that a plan that leads away looks for none. */
function noContactSentence(reconstruction: DebriefMaterial['reconstruction']): Sentence {
  const { phases, plan } = reconstruction;
  const last = phases.length - 1;
  const beginning = leadsAway(plan)
    ? 'The plan leads away from the port, so no contact was looked for'
    : 'No contact was found in the data';
  if (last < 0 || elsewhereLabel(reconstruction) !== null) return [`${beginning}.`];
  return [
    `${beginning}: the motion ends at `,
    roughNode(`phases[${last}].end_s`, 'time', 1),
    ', ',
    valueNode(`phases[${last}].range_end_m`),
    ' from the port.',
  ];
}

/** Contact: when, how it was found, how fast. */
export function contactSentence({ reconstruction }: DebriefMaterial): Sentence {
  const { contact } = reconstruction;
  if (contact === null) return noContactSentence(reconstruction);
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

/** Which points the figures are of; null where they are of the ports. */
function elsewhereLabel({ navigation }: DebriefMaterial['reconstruction']): string | null {
  const reference = navigation?.sources.find(({ isSolution }) => isSolution)?.reference;
  return reference?.points === 'elsewhere' ? (reference.label ?? 'other points') : null;
}

/** Ranges and rates that are not of the ports. */
function elsewhereSentence({ reconstruction }: DebriefMaterial): Sentence {
  const label = elsewhereLabel(reconstruction);
  return label === null
    ? null
    : [`Every range, rate and offset here is of ${label}, not of the ports.`];
}

/** All of it as one paragraph's phrases. */
export function summaryPhrases(material: DebriefMaterial): readonly Phrase[] {
  const broken = material.reconstruction.rules.filter((rule) => rule.verdict === 'broken');
  const sentences: readonly Sentence[] = [
    contactSentence(material),
    ...contactStandingSentences(material),
    elsewhereSentence(material),
    durationSentence(material),
    ...breakOffSentences(material),
    unplannedSentence(material),
    ...passedSentences(material),
    ruleCounts(material),
    ...broken.map((rule) => brokenRule(material, rule)),
    ...decisionSentences(material, broken),
  ];
  return joinSentences(sentences);
}
