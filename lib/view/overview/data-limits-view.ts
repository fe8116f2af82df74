/** What the data cannot say, in sentences: faults, rules without evidence, clocks, notes. */
import { FAULT_WORDS } from '../../core/reconstruction/kind-words';
import type { DataFault, Reconstruction } from '../../core/reconstruction/reconstruction';
import { contactLimitsOf } from '../../core/rules/contact-limits';
import { nameFromId } from '../../core/session/name-from-id';
import { utcCaution } from '../../core/time/utc-caution';
import { countedFaults } from '../fault-list';
import { figureView, timelineHref } from '../figure-view';
import { plural } from '../format-number';
import { formatSessionTime, spokenDuration } from '../format-time';
import { reasonText } from '../labels';
import { listParts, type Sentence } from '../sentence';

/** Faults of one kind in one channel beyond this many are counted, not listed. */
const MOST_OF_A_KIND = 3;

/** Empty when nothing stands in the way of reading the session. */
export function dataLimitsView(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  return [
    ...faultSentences(reconstruction.dataQuality, sessionId),
    ...rejected(reconstruction),
    ...unevaluated(reconstruction),
    ...unmeasured(reconstruction),
    ...clocks(reconstruction, sessionId),
    ...utc(reconstruction),
    ...reconstruction.notes.map((note): Sentence => [asSentence(note.message)]),
  ];
}

/** Notes are written to follow a file name on a terminal; here they stand alone. */
function asSentence(text: string): string {
  const ended = /[.!?]$/.test(text) ? text : `${text}.`;
  return `${ended.charAt(0).toUpperCase()}${ended.slice(1)}`;
}

function faultSentences(faults: readonly DataFault[], sessionId: string): readonly Sentence[] {
  const groups = new Map<string, DataFault[]>();
  for (const fault of faults) {
    const key = `${fault.kind} ${fault.source} ${fault.channel ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), fault]);
  }
  return [...groups.values()].flatMap((group) =>
    group.length > MOST_OF_A_KIND
      ? [manyFaults(group, sessionId)]
      : group.map((fault) => oneFault(fault, sessionId)),
  );
}

function oneFault(fault: DataFault, sessionId: string): Sentence {
  const link = {
    text: formatSessionTime(fault.startS),
    href: timelineHref(sessionId, fault.startS, fault.endS),
  };
  const lengthS = fault.endS - fault.startS;
  const length = lengthS > 0 ? ` for ${spokenDuration(lengthS, 1)}` : '';
  if (fault.kind === 'rate_disagrees') return [`${subjectOf(fault)}: ${fault.note}.`];
  if (fault.kind === 'gap') return [`Nothing in ${fault.source} from `, link, `${length}.`];
  return [`${subjectOf(fault)}: ${FAULT_WORDS[fault.kind]} at `, link, `${length}.`];
}

function manyFaults(group: readonly DataFault[], sessionId: string): Sentence {
  const [first] = group;
  const last = group.at(-1);
  if (first === undefined || last === undefined) return [];
  const link = {
    text: formatSessionTime(first.startS),
    href: timelineHref(sessionId, first.startS, last.endS),
  };
  return [
    `${subjectOf(first)}: ${countedFaults(first.kind, group.length)}, the first at `,
    link,
    '.',
  ];
}

function subjectOf(fault: DataFault): string {
  return fault.channel === null ? fault.source : `${fault.channel} (${fault.source})`;
}

function rejected({ sources }: Reconstruction): readonly Sentence[] {
  return sources
    .filter((source) => source.rowsRejected > 0)
    .map((source) => {
      const rows = plural(source.rowsRead, 'row');
      return [
        `${plural(source.rowsRejected, 'row')} of ${rows} in ${source.file} could not be used.`,
      ];
    });
}

function unevaluated({ rules }: Reconstruction): readonly Sentence[] {
  return rules
    .filter((rule) => rule.verdict === 'not evaluated')
    .map((rule) => {
      const why = rule.reason === null ? rule.explanation : reasonText(rule.reason);
      return [`Rule “${nameFromId(rule.id)}” stays open: ${why}.`];
    });
}

function unmeasured({ contact, plan }: Reconstruction): readonly Sentence[] {
  if (contact === null || contact.notEvaluated !== undefined) return [];
  const names = contactLimitsOf(plan)
    .limits.filter((limit) => (contact.conditions[limit.condition]?.value ?? null) === null)
    .map((limit): Sentence => [limit.label.toLowerCase()]);
  return names.length === 0 ? [] : [['Not measured at contact: ', ...listParts(names), '.']];
}

function clocks({ sources }: Reconstruction, sessionId: string): readonly Sentence[] {
  return sources
    .filter((source) => source.clock.tiePointsUsed + source.clock.tiePointsRejected > 0)
    .map((source) => {
      const { tiePointsUsed, tiePointsRejected, offsetS, reason } = source.clock;
      if (tiePointsUsed === 0) {
        const why = reason === null ? '' : ` (${reason})`;
        return [
          `${source.file} could not be put onto session time by what was said${why}: its times stand as written.`,
        ];
      }
      const of = plural(tiePointsUsed + tiePointsRejected, 'tie point');
      const label = `${source.file}, clock offset`;
      return [
        `${source.file} was put onto session time by ${tiePointsUsed} of ${of}: `,
        figureView(offsetS, { sessionId, label, form: 'signed' }),
        '.',
      ];
    });
}

function utc({ session }: Reconstruction): readonly Sentence[] {
  const caution = utcCaution(session.zeroTaiNs, session.durationS.value);
  return caution === null ? [] : [[caution]];
}
