/** The limits that a strip draws, and what it says of the others. */
import type { DashName, SeriesColour } from '../core/debrief/plot';
import { ruleOfLimit } from '../core/session/limit-columns';

/** A column of the sample store that holds a limit. */
type LimitColumn = Readonly<{ key: string; name: string }>;

type LimitSeries = Readonly<{
  key: string;
  label: string;
  role: 'limit';
  colour: SeriesColour;
  dash: DashName;
}>;

/** Lines of limits that can be told apart on one strip; our own choice. */
const MOST_LINES = 6;

/** Both lines of a rule or none; a rule set of hundreds would cover the trace and its readings. */
function drawnLimits(limits: readonly LimitColumn[]): readonly LimitColumn[] {
  if (limits.length <= MOST_LINES) return limits;
  const first = limits.slice(0, MOST_LINES);
  const next = limits[MOST_LINES];
  const cut = first.at(-1);
  if (next === undefined || cut === undefined) return first;
  const isSplit = ruleOfLimit(next.name) === ruleOfLimit(cut.name);
  return isSplit ? first.slice(0, -1) : first;
}

/** `limit` where it is the only one, `lower limit` of one rule's two, else with the rule's own id. */
function limitLabel(name: string, limits: readonly LimitColumn[]): string {
  if (limits.length === 1) return 'limit';
  const rule = ruleOfLimit(name) ?? name;
  const ofRule = limits.filter((each) => ruleOfLimit(each.name) === rule).length;
  const side = name === `limit.${rule}` ? 'upper' : 'lower';
  if (ofRule === limits.length) return `${side} limit`;
  // Short words before the id: beside the strip there is room for some fifteen letters.
  return ofRule === 1 ? rule : `${side === 'upper' ? 'max' : 'min'} ${rule}`;
}

/** @param limits columns of limits in the order of their rules, those with the least room first */
export function limitSeries(limits: readonly LimitColumn[]): readonly LimitSeries[] {
  return drawnLimits(limits).map((each) => ({
    key: each.key,
    label: limitLabel(each.name, limits),
    role: 'limit',
    colour: 2,
    dash: 'dash',
  }));
}

/** How many limits a strip leaves out; nothing where it draws them all. */
export function limitNote(limits: readonly LimitColumn[]): Readonly<{ limitNote?: string }> {
  const drawn = drawnLimits(limits).length;
  if (drawn === limits.length) return {};
  return { limitNote: `${drawn} of ${limits.length} limits, those with the least room` };
}
