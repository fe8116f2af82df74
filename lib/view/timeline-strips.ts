/** Which strips a session offers: derived quantities with plan and limits, groups of axes, channels. */

import { derivedColumnWords } from '../core/debrief/column-label';
import { COLOUR_DASH, type DashName, type SeriesColour } from '../core/debrief/plot';
import { limitsOfRule } from '../core/session/limit-columns';
import type { Rule } from '../core/session/rule';
import { readerUnit } from '../core/units/reader-unit';
import { limitNote, limitSeries } from './strip-limits';
import { GROUP_LABELS, quantityLabel, quantityWords } from './strip-words';
import type { PlanLine, PlanTolerance, PlanTraces } from './timeline-plan';
import type { RunBand } from './timeline-run-bands';

/** A column of the sample store. `source` is null for a derived one; `unit` is SI. */
export type ChannelInfo = Readonly<{
  key: string;
  source: string | null;
  name: string;
  as: string;
  unit: string;
}>;

export type StripSeries = Readonly<{
  key: string;
  label: string;
  role: 'measured' | 'plan' | 'limit';
  colour: SeriesColour;
  dash: DashName;
  /** A line that the page itself holds, in SI; the others are read from the store by `key`. */
  points?: PlanLine;
  /** How far from this line a value may lie, where it applies; drawn as a band about it. */
  tolerances?: readonly PlanTolerance[];
}>;

export type Strip = Readonly<{
  id: string;
  label: string;
  /** Where it comes from, for the list of strips. */
  group: string;
  unit: string;
  /** The unit of the store. */
  siUnit: string;
  fromSi: number;
  decimals: number;
  series: readonly StripSeries[];
  /** Simulator runs behind it, where the session was held against any. */
  runs?: RunBand;
  /** That some of its limits are not drawn, for more lines than a few cannot be told apart. */
  limitNote?: string;
}>;

export type StripCatalogue = Readonly<{
  strips: readonly Strip[];
  defaultIds: readonly string[];
  /** Usual strips that this session cannot show, as a sentence each. */
  absent: readonly string[];
}>;

const USUAL = ['range', 'closing_rate', 'lateral_offset', 'attitude_error'] as const;
const AXIS_COLOURS: readonly SeriesColour[] = [1, 3, 4, 5, 2];
const DERIVED_GROUP = 'derived';

/**
 * Everything that can be put on the timeline, the usual strips first.
 *
 * @param rules those with the least room first: a strip draws the limits of the first few
 */
export function stripCatalogue(
  channels: readonly ChannelInfo[],
  rules: readonly Rule[],
  drawn: Readonly<{ runs?: readonly RunBand[]; plan?: PlanTraces }> = {},
): StripCatalogue {
  const derived = channels.filter((channel) => channel.source === null);
  const limitsOf = (quantity: string): readonly ChannelInfo[] =>
    rules.flatMap((rule) => {
      const limits = limitsOfRule(rule);
      if (limits?.quantity !== quantity) return [];
      return limits.lines.flatMap(({ column }) => derived.filter(({ name }) => name === column));
    });
  const withRuns = (strip: Strip, quantity: string): Strip => {
    const runs = drawn.runs?.find((band) => band.quantity === quantity);
    return runs === undefined ? strip : { ...strip, runs };
  };
  const derivedStrips = derived.map((channel) =>
    withRuns(withPlan(quantityStrip(channel, derived, limitsOf), drawn.plan), channel.name),
  );
  const measured = channels.filter((channel) => channel.source !== null);
  const groups = groupStrips(measured, limitsOf);
  const single = measured.map((channel) =>
    withRuns(channelStrip(channel, limitsOf(channel.as)), channel.as),
  );
  const strips = [...derivedStrips, ...groups, ...single];
  const find = (usual: string): Strip | undefined =>
    strips.find((strip) => strip.id === usual || strip.id.startsWith(`${usual}@`));
  return {
    strips,
    defaultIds: USUAL.flatMap((usual) => find(usual)?.id ?? []),
    absent: USUAL.filter((usual) => find(usual) === undefined).map(
      (usual) =>
        `${derivedColumnWords(usual) ?? GROUP_LABELS.get(usual)}: no source of this session has it.`,
    ),
  };
}

function quantityStrip(
  channel: ChannelInfo,
  derived: readonly ChannelInfo[],
  limitsOf: (quantity: string) => readonly ChannelInfo[],
): Strip {
  const plan = derived.filter((each) => each.name === `planned_${channel.name}`);
  return {
    id: channel.key,
    label: quantityLabel(channel.name),
    group: DERIVED_GROUP,
    ...unitOf(channel),
    series: [
      { key: channel.key, label: 'estimated', role: 'measured', colour: 1, dash: 'solid' },
      ...plan.map(
        (each): StripSeries => ({
          key: each.key,
          label: 'plan',
          role: 'plan',
          colour: 3,
          dash: 'dash-dot',
        }),
      ),
      ...limitSeries(limitsOf(channel.name)),
    ],
    ...limitNote(limitsOf(channel.name)),
  };
}

/** The range as planned and the planned holds with their tolerance; the tolerance of a planned rate. */
function withPlan(strip: Strip, plan: PlanTraces | undefined): Strip {
  if (plan === undefined) return strip;
  if (strip.id === 'range') {
    return { ...strip, series: [...strip.series, ...rangePlan(plan)] };
  }
  const tolerances = plan.rateTolerances;
  if (tolerances.length === 0) return strip;
  const series = strip.series.map((each) =>
    each.key === 'planned_closing_rate' ? { ...each, tolerances } : each,
  );
  return { ...strip, series };
}

function rangePlan({ range, holds, holdTolerances }: PlanTraces): readonly StripSeries[] {
  const line = { role: 'plan', colour: 3 } as const;
  return [
    ...(range === null
      ? []
      : [{ key: 'plan.range', label: 'plan', ...line, dash: 'dash-dot' as const, points: range }]),
    ...(holds === null
      ? []
      : [
          {
            key: 'plan.holds',
            label: 'hold',
            ...line,
            dash: 'long-dash' as const,
            points: holds,
            tolerances: holdTolerances,
          },
        ]),
  ];
}

function channelStrip(channel: ChannelInfo, limits: readonly ChannelInfo[]): Strip {
  return {
    id: channel.key,
    label:
      channel.as === channel.name ? channel.name : `${channel.name}: ${quantityWords(channel.as)}`,
    group: channel.source ?? DERIVED_GROUP,
    ...unitOf(channel),
    series: [
      { key: channel.key, label: channel.name, role: 'measured', colour: 1, dash: 'solid' },
      ...limitSeries(limits),
    ],
    ...limitNote(limits),
  };
}

/** The axes of one vector of one source in one strip: `attitude_error@telemetry.csv`. */
function groupStrips(
  channels: readonly ChannelInfo[],
  limitsOf: (quantity: string) => readonly ChannelInfo[],
): readonly Strip[] {
  const groups = new Map<string, ChannelInfo[]>();
  for (const channel of channels) {
    const dot = channel.as.lastIndexOf('.');
    if (dot <= 0) continue;
    const id = `${channel.as.slice(0, dot)}@${channel.source}`;
    const group = groups.get(id) ?? [];
    if (group.length < AXIS_COLOURS.length && group.every((each) => each.unit === channel.unit))
      groups.set(id, [...group, channel]);
  }
  return [...groups].flatMap(([id, group]) => {
    const first = group[0];
    if (first === undefined || group.length < 2) return [];
    const quantity = first.as.slice(0, first.as.lastIndexOf('.'));
    const limits = group.flatMap((channel) => limitsOf(channel.as));
    return {
      id,
      label: GROUP_LABELS.get(quantity) ?? quantityLabel(quantity),
      group: first.source ?? DERIVED_GROUP,
      ...unitOf(first),
      series: [
        ...group.map((channel, index): StripSeries => {
          const colour = AXIS_COLOURS[index] ?? 1;
          return {
            key: channel.key,
            label: channel.as.slice(channel.as.lastIndexOf('.') + 1),
            role: 'measured',
            colour,
            dash: COLOUR_DASH[colour],
          };
        }),
        ...limitSeries(limits),
      ],
      ...limitNote(limits),
    };
  });
}

function unitOf(
  channel: ChannelInfo,
): Readonly<{ unit: string; siUnit: string; fromSi: number; decimals: number }> {
  return { ...readerUnit(channel.unit), siUnit: channel.unit };
}

/** The strip of a derived quantity; null where the session has none. */
export function quantityStripOf(catalogue: StripCatalogue, quantity: string): Strip | null {
  return catalogue.strips.find((strip) => strip.id === quantity) ?? null;
}
