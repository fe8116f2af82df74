/** The answer in sentences: contact, time, rules. Each number opens its evidence. */

import { type Figure, halfWidth95 } from '../../core/figure';
import { motionReachesContact } from '../../core/reconstruction/reaches-contact';
import type { Phase, Reconstruction, Verdict } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { utcCaution } from '../../core/time/utc-caution';
import { countWord, formatNumber } from '../../core/units/number-text';
import type { ContactRow, ContactView } from '../contact-view';
import { figureView } from '../figure-view';
import { utcTimeText } from '../format-date';
import { spokenDuration } from '../format-time';
import { pointsView } from '../points-view';
import { listParts, type Sentence } from '../sentence';
import { unplannedParts, whereTheTimeWent } from './time-spent-view';

/** Sentences in the order a reviewer asks: did it dock and how, how long, what was broken. */
export function answerView(
  reconstruction: Reconstruction,
  contact: ContactView | null,
  sessionId: string,
): readonly Sentence[] {
  return [
    contact === null
      ? noContact(reconstruction, sessionId)
      : contactSentence(contact, utcOfContact(reconstruction)),
    ...(contact === null ? [] : tableSentences(contact)),
    elsewhereSentence(reconstruction),
    ...timeSentences(reconstruction, sessionId),
    stepsNotFlown(reconstruction),
    ...ruleSentences(reconstruction, sessionId),
  ].filter((sentence) => sentence.length > 0);
}

function contactSentence(contact: ContactView, utc: string): Sentence {
  const rate = contact.rows.find((row) => row.condition === 'closing_rate')?.measured ?? null;
  if (contact.notEvaluated !== null) return ['Contact at ', contact.time, `${utc}.`];
  return rate === null
    ? ['Contact at ', contact.time, `${utc}; the closing rate was not measured.`]
    : ['Contact at ', contact.time, `${utc}, closing at `, rate, '.'];
}

/** Ranges and rates that are not of the ports say so once, where the answer is read. */
function elsewhereSentence(reconstruction: Reconstruction): Sentence {
  const points = pointsView(reconstruction);
  return points === null
    ? []
    : [`Every range, rate and offset here is of ${points.label}, not of the ports.`];
}

function utcOfContact({ contact, session }: Reconstruction): string {
  const timeS = contact?.timeS.value ?? null;
  if (timeS === null) return '';
  const isSure = utcCaution(session.zeroTaiNs, session.durationS.value) === null;
  return ` (${utcTimeText(session.zeroTaiNs, timeS)}${isSure ? '' : ', not certain'})`;
}

function noContact(reconstruction: Reconstruction, sessionId: string): Sentence {
  const { phases, evaluated } = reconstruction;
  const last = phases.at(-1);
  if (last === undefined) {
    return evaluated === null
      ? ['No range was measured, so the approach could not be reconstructed.']
      : ['No contact was found, and without a plan no phase is told apart.'];
  }
  if (pointsView(reconstruction) !== null)
    return ['Contact is not known: the motion is not of the ports, and no log names it.'];
  return ['No contact was found: ', ...endOfData(last, sessionId)];
}

/** Where the motion breaks off. */
function endOfData(last: Phase, sessionId: string): Sentence {
  return [
    'the motion ends at ',
    figureView(last.endS, { sessionId, label: 'End of the last run', form: 'time' }),
    ', ',
    figureView(last.rangeEndM, { sessionId, label: 'Range at the end of the last run' }),
    ' from the port.',
  ];
}

function tableSentences({ rows, notEvaluated }: ContactView): readonly Sentence[] {
  if (notEvaluated !== null)
    return [[`The conditions at contact are not evaluated: ${notEvaluated}.`]];
  const measured = rows.filter((row) => row.measured !== null);
  const by = (standing: ContactRow['standing']) => rows.filter((row) => row.standing === standing);
  const beyond = [...by('above'), ...by('below')];
  const close = by('too close to call');
  if (measured.length === 0) return [['None of the conditions at contact was measured.']];
  const sentences: Sentence[] = [];
  if (beyond.length > 0) {
    const items = beyond.map(
      (row): Sentence => [
        `${row.label.toLowerCase()} ${row.standing === 'below' ? 'under' : 'over'} its limit`,
      ],
    );
    sentences.push(['Outside the docking table: ', ...listParts(items), '.']);
  } else {
    const all = measured.length === rows.length ? 'All' : 'The measured';
    const count = measured.length - close.length;
    const subject = close.length === 0 ? `${all} ${countWord(measured.length)}` : countWord(count);
    const text = `${subject} conditions of the docking table were inside their limits`;
    sentences.push([`${text.charAt(0).toUpperCase()}${text.slice(1)}${tightest(measured)}.`]);
  }
  if (close.length > 0) {
    const names = close.map((row): Sentence => [row.label]);
    const verb =
      close.length === 1 ? 'lies too close to its limit' : 'lie too close to their limits';
    sentences.push([...listParts(names), ` ${verb} to call.`]);
  }
  return sentences;
}

/** The condition that used most of its limit, where it used more than half. */
function tightest(rows: readonly ContactRow[]): string {
  const most = rows
    .filter((row) => row.standing === 'inside' && row.condition !== 'closing_rate')
    .sort((a, b) => (b.usedPercent ?? 0) - (a.usedPercent ?? 0))[0];
  if (most === undefined || (most.usedPercent ?? 0) < 50) return '';
  const percent = formatNumber(most.usedPercent ?? 0, 0);
  return `; the ${most.label.toLowerCase()} used ${percent}\u00a0% of its limit`;
}

function timeSentences(reconstruction: Reconstruction, sessionId: string): readonly Sentence[] {
  const { phases, steps, plan } = reconstruction;
  const first = phases[0];
  const last = phases.at(-1);
  if (first === undefined || last === undefined) return [];
  const took = between(first.startS, last.endS, 'End of the last run less start of the first.');
  const length = figureView(took, { sessionId, label: 'Whole approach', form: 'spoken' });
  const unplanned = phases.filter((phase) => phase.step === null);
  if (plan === null || took.value === null) return [['The motion lasts ', length, '; no plan.']];
  const plannedS = steps.reduce((sum, step) => sum + step.plannedS, 0);
  if (!motionReachesContact(reconstruction)) {
    return [
      reconstruction.contact === null ? [] : ['Before it ', ...endOfData(last, sessionId)],
      [
        'The data cover ',
        length,
        ` of the approach; the plan gives its steps ${spokenDuration(plannedS)}`,
        ...(unplanned.length === 0
          ? []
          : ['. Not planned: ', ...unplannedParts(unplanned, sessionId)]),
        '.',
      ],
    ];
  }
  const overS = took.value - plannedS;
  const why = whereTheTimeWent(reconstruction, took, sessionId);
  const also = why.length === 0 ? [] : [': ', ...why];
  if (Math.abs(overS) < 1) {
    return [['The approach took ', length, ', within a second of the plan', ...also, '.']];
  }
  const over: Figure = {
    ...took,
    value: Math.abs(overS),
    method: `Whole approach (${spokenDuration(took.value, 1)}) against the ${countWord(steps.length)} planned lengths of the plan, added (${spokenDuration(plannedS)}).`,
  };
  const word = overS < 0 ? 'shorter' : 'longer';
  return [
    [
      'The approach took ',
      length,
      ', ',
      figureView(over, { sessionId, label: `${nameFromId(word)} than planned`, form: 'spoken' }),
      ` ${word} than planned`,
      ...also,
      '.',
    ],
  ];
}

/** Steps that were left out; where the data break off they may only not have been recorded. */
function stepsNotFlown(reconstruction: Reconstruction): Sentence {
  const skipped = reconstruction.steps.filter((step) => step.pieces === 0);
  if (skipped.length === 0) return [];
  const verb = skipped.length === 1 ? 'was' : 'were';
  const what = motionReachesContact(reconstruction) ? 'flown' : 'seen in the data';
  return [
    ...listParts(skipped.map((step): Sentence => [nameFromId(step.id)])),
    ` ${verb} not ${what}.`,
  ];
}

/** Length from one edge to another with both half-widths in quadrature. */
function between(start: Figure, end: Figure, method: string): Figure {
  const parts = [halfWidth95(start), halfWidth95(end)].filter((part) => part !== null);
  return {
    value: start.value === null || end.value === null ? null : end.value - start.value,
    unit: 's',
    uncertainty: parts.length === 0 ? null : { random: Math.hypot(...parts), systematic: null },
    method,
    evidence: { ...end.evidence, fromS: start.value, toS: end.value },
  };
}

function ruleSentences({ rules }: Reconstruction, sessionId: string): readonly Sentence[] {
  if (rules.length === 0) return [['There are no rules to hold it against.']];
  const base = `/sessions/${encodeURIComponent(sessionId)}/rules`;
  const clause = (verdict: Verdict): Sentence | null => {
    const count = rules.filter((rule) => rule.verdict === verdict).length;
    if (count === 0) return null;
    const verb = count === 1 ? 'was' : 'were';
    return [
      { text: `${countWord(count)} ${verb} ${verdict}`, href: `${base}#${anchorOf(verdict)}` },
    ];
  };
  const troubled = (['broken', 'undecided', 'not evaluated'] as const).flatMap((verdict) => {
    const part = clause(verdict);
    return part === null ? [] : [part];
  });
  const total = `Of ${countWord(rules.length)} ${rules.length === 1 ? 'rule' : 'rules'} `;
  if (troubled.length === 0) {
    const met = rules.filter((rule) => rule.verdict === 'met').length;
    return [
      [`${total}${met === rules.length ? 'all' : countWord(met)} were met; none was broken.`],
    ];
  }
  return [[total, ...listParts(troubled), '.']];
}

/** `not evaluated` as an address fragment. */
export function anchorOf(verdict: Verdict): string {
  return verdict.replaceAll(' ', '-');
}
