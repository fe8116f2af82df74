/** Near misses and the coverage of the rule set, as tables. */
import type { Figure } from '../core/figure';
import { nearMisses } from '../core/reconstruction/near-misses';
import type { ReasonCode, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { dispositionsOf } from './dispositions-view';
import { type FigureView, figureView } from './figure-view';
import { reasonText } from './labels';

export type NearMissRow = Readonly<{
  key: string;
  name: string;
  href: string;
  margin: FigureView;
  /** Null where the uncertainty is not known. */
  halfWidths: FigureView | null;
  words: string;
  /** What people decided about the rule: `waived by DIRECTOR at 00:39:39.8`; empty where nothing. */
  decisions: readonly string[];
  isNear: boolean;
  /** Farther off than near by its own uncertainty, which is known. */
  isClear: boolean;
}>;

/** Under so many half-widths a margin is called near. Our own choice. */
export const NEAR = 10;

/** Rules that held or are undecided, nearest first. */
export function nearMissRows(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly NearMissRow[] {
  return nearMisses(reconstruction).map((one) => {
    const name = nameFromId(one.rule);
    const ratio = one.halfWidths?.value ?? null;
    const isNear = one.kind === 'brief' || (ratio !== null && Math.abs(ratio) < NEAR);
    return {
      key: one.rule,
      name,
      href: `/sessions/${encodeURIComponent(sessionId)}/rules#rule-${one.rule}`,
      margin: figureView(one.margin, {
        sessionId,
        label: `${name}, margin`,
        form: 'signed',
        unit: one.unit,
      }),
      halfWidths: ratioView(one.halfWidths, sessionId, `${name}, margin in its own half-widths`),
      words: missWords(one.kind, ratio, isNear),
      decisions: dispositionsOf(reconstruction, one.rule).map(({ text }) => text),
      isNear,
      isClear: !isNear && ratio !== null,
    };
  });
}

/** How many half-widths: one place under ten, none beyond; a minus only where the limit was passed. */
function ratioView(ratio: Figure | null, sessionId: string, label: string): FigureView | null {
  if (ratio?.value == null) return null;
  const text = formatNumber(ratio.value, Math.abs(ratio.value) < 10 ? 1 : 0);
  return { ...figureView(ratio, { sessionId, label }), value: text, unit: '', text };
}

function missWords(kind: 'close' | 'brief', ratio: number | null, isNear: boolean): string {
  if (kind === 'brief') return 'passed, for less time than the rule counts';
  if (ratio === null) return 'its uncertainty is not known';
  if (Math.abs(ratio) < 1) return 'within its own uncertainty';
  return isNear ? 'near' : 'clear';
}

export type CoverageLine = Readonly<{
  key: string;
  /** That it has a verdict, or why it has none. */
  state: string;
  /** `8 of 10`. */
  count: string;
  /** What was done, or what would help. */
  words: string;
  rules: readonly string[];
  /** Part of the rule set, 0 to 1. */
  share: number;
  isOpen: boolean;
}>;

/** What would give a rule its verdict next time. */
const REMEDIES: Readonly<Record<ReasonCode, string>> = {
  'no-such-channel': 'record the channel, or map it in session.yaml',
  'no-such-event': 'log the event',
  'step-not-flown': 'nothing: the step was not flown',
  'no-event-log': 'bring an event log',
  'data-missing': 'bring the data that are missing',
};

/** Key of the rules that have a verdict. */
const JUDGED = 'judged';

/** Every rule once, by whether it has a verdict, and why not. */
export function coverageLines({ rules }: Reconstruction): readonly CoverageLine[] {
  const groups = new Map<
    string,
    { state: string; words: string; ids: string[]; isOpen: boolean }
  >();
  for (const { id, verdict, reason } of rules) {
    const isJudged = verdict !== 'not evaluated' && verdict !== 'not applicable';
    const isOpen = verdict === 'not evaluated';
    const words = isJudged
      ? 'held against the flight'
      : reason === null
        ? 'nothing: its conditions did not hold'
        : REMEDIES[reason];
    const without = reason === null ? 'does not apply' : reasonText(reason);
    const key = isJudged ? JUDGED : `${verdict}-${reason ?? ''}`;
    const group = groups.get(key) ?? {
      state: isJudged ? 'has a verdict' : without,
      words,
      ids: [],
      isOpen,
    };
    group.ids.push(nameFromId(id));
    groups.set(key, group);
  }
  const all = rules.length;
  return [...groups]
    .map(([key, { state, words, ids, isOpen }]) => ({
      key,
      state,
      words,
      rules: key === JUDGED ? [] : ids,
      share: ids.length / all,
      count: ids.length,
      isOpen,
    }))
    .sort((a, b) => Number(a.key !== JUDGED) - Number(b.key !== JUDGED) || b.count - a.count)
    .map((line) => ({ ...line, count: `${line.count} of ${all}` }));
}
