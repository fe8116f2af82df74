/** The answer in sentences: contact, time, rules. Each number opens its evidence. */

import type { Reconstruction, RuleResult, Verdict } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { utcCaution } from '../../core/time/utc-caution';
import { countWord, formatNumber } from '../../core/units/number-text';
import type { ContactRow, ContactView } from '../contact-view';
import { utcTimeText } from '../format-date';
import { pointsView } from '../points-view';
import { listParts, type Sentence } from '../sentence';
import { breakOffSentences, noContact, stepsNotFlown, timeSentences } from './course-view';

/** Sentences in the order a reviewer asks: did it dock and how, how long, what was broken. */
export function answerView(
  reconstruction: Reconstruction,
  contact: ContactView | null,
  sessionId: string,
): readonly Sentence[] {
  return [
    ...(contact === null
      ? [noContact(reconstruction, sessionId)]
      : contactSentences(reconstruction, contact)),
    ...breakOffSentences(reconstruction, sessionId),
    elsewhereSentence(reconstruction),
    ...timeSentences(reconstruction, sessionId),
    ...stepsNotFlown(reconstruction),
    ...ruleSentences(reconstruction, sessionId),
  ].filter((sentence) => sentence.length > 0);
}

/** When contact was and how fast, and how it stood against the table of limits. */
export function contactSentences(
  reconstruction: Reconstruction,
  contact: ContactView,
): readonly Sentence[] {
  return [contactSentence(contact, utcOfContact(reconstruction)), ...tableSentences(contact)];
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
    const inside = countWord(measured.length - close.length);
    const all = measured.length === rows.length && close.length === 0 ? 'all ' : '';
    const were = measured.length - close.length === 1 ? 'condition' : 'conditions';
    const verb = were === 'condition' ? 'was inside its limits' : 'were inside their limits';
    const text = `${all}${inside} ${were} of the docking table ${verb}`;
    sentences.push([`${nameFromId(text)}${tightest(measured)}.`]);
  }
  if (close.length > 0) {
    const names = close.map((row): Sentence => [row.label]);
    const verb =
      close.length === 1 ? 'lies too close to its limit' : 'lie too close to their limits';
    sentences.push([...listParts(names), ` ${verb} to call.`]);
  }
  const missing = rows.length - measured.length;
  if (missing > 0)
    sentences.push([
      `${nameFromId(countWord(missing))} of the ${countWord(rows.length)} conditions ${missing === 1 ? 'was' : 'were'} not measured.`,
    ]);
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

function ruleSentences(
  { rules, dispositions }: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  if (rules.length === 0) return [['There are no rules to hold it against.']];
  const base = `/sessions/${encodeURIComponent(sessionId)}/rules`;
  const clause = (verdict: Verdict): Sentence | null => {
    const count = rules.filter((rule) => rule.verdict === verdict).length;
    if (count === 0) return null;
    const verb = count === 1 ? 'was' : 'were';
    return [
      { text: `${countWord(count)} ${verb} ${verdict}`, href: `${base}#${anchorOf(verdict)}` },
      ...(verdict === 'broken' ? brokenNames(rules, dispositions, base) : []),
    ];
  };
  const troubled = (['broken', 'undecided', 'not evaluated'] as const).flatMap((verdict) => {
    const part = clause(verdict);
    return part === null ? [] : [part];
  });
  const total = `Of ${countWord(rules.length)} ${rules.length === 1 ? 'rule' : 'rules'} `;
  if (troubled.length === 0) {
    const met = rules.filter((rule) => rule.verdict === 'met').length;
    const some = met === 0 ? 'none was' : `${countWord(met)} ${met === 1 ? 'was' : 'were'}`;
    return [[`${total}${met === rules.length ? 'all were' : some} met; none was broken.`]];
  }
  return [[total, ...listParts(troubled), '.']];
}

/** So many broken rules are named; of more the first are. */
const MOST_NAMED = 4;

/** ` (Corridor, Cut off, waived, and 2 more)`. */
function brokenNames(
  rules: readonly RuleResult[],
  decided: Reconstruction['dispositions'],
  base: string,
): Sentence {
  const broken = rules.filter(({ verdict }) => verdict === 'broken');
  const shown = broken
    .slice(0, MOST_NAMED)
    .map(
      ({ id }): Sentence => [
        { text: nameFromId(id), href: `${base}#rule-${encodeURIComponent(id)}` },
        ...decided.filter(({ rule }) => rule === id).map((one) => `, ${one.disposition}`),
      ],
    );
  const more = broken.length - shown.length;
  return [' (', ...listParts(more > 0 ? [...shown, [`${more} more`]] : shown), ')'];
}

/** `not evaluated` as an address fragment. */
export function anchorOf(verdict: Verdict): string {
  return verdict.replaceAll(' ', '-');
}
