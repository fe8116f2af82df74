/** Commanded phases beside the motion, as figures. */
import { type Command, type Following, motionFollowing } from '../phases/commanded-motion';
import type { MotionRun } from '../phases/motion-runs';
import { type DiscreteColumn, stateChanges } from '../sequence/discretes';
import type { CommandState } from '../session/session-input';
import type { CheckedSource } from './data-quality';
import { figureOf, type Origin } from './figure-of';
import type { CommandedPhase } from './reconstruction';

/** So many changes of a mode are paired; a channel that changes oftener commands no phases. */
const MOST_CHANGES = 200;

/** Rows around a change lie this far apart at most of its 95 % half-width: evenly likely between them. */
const EVEN_95 = 0.475;

function commandsOf(column: DiscreteColumn, states: readonly CommandState[]): readonly Command[] {
  const { tS, values } = column;
  const first = values.findIndex((value) => !Number.isNaN(value));
  if (first < 0) return [];
  const changes = stateChanges(column, MOST_CHANGES);
  const lastS = tS[tS.length - 1] ?? 0;
  const begins = [
    { fromS: tS[first] ?? 0, halfS: null, value: values[first] ?? 0 },
    ...changes.map((change) => ({
      fromS: (change.fromS + change.atS) / 2,
      halfS: EVEN_95 * (change.atS - change.fromS),
      value: change.to,
    })),
  ];
  return begins.map(({ fromS, halfS, value }, index): Command => {
    const state = states.find((each) => each.value === value);
    return {
      name: state?.name ?? `value ${value}, not explained`,
      motion: state?.motion ?? null,
      halfS,
      fromS,
      toS: begins[index + 1]?.fromS ?? lastS,
    };
  });
}

function phaseOf(
  command: Command,
  following: Following | null,
  origins: Readonly<{ mode: Origin; both: Origin }>,
): CommandedPhase {
  const { name, motion, fromS, toS, halfS } = command;
  const at = { fromS, toS: fromS };
  return {
    name,
    motion,
    startS: figureOf(origins.mode, {
      value: fromS,
      unit: 's',
      random: halfS,
      method:
        halfS === null
          ? 'First row with a mode; it may have begun before the data.'
          : 'Middle between the last row with the old mode and the first with the new.',
      ...at,
    }),
    endS: toS,
    run: following?.run ?? null,
    delayS:
      following === null || !('delayS' in following)
        ? null
        : figureOf(origins.both, {
            value: following.delayS,
            unit: 's',
            random: following.halfS,
            method:
              'Start of the run of that motion less the command; below 0 where the motion began first.',
            fromS: Math.min(fromS, fromS + following.delayS),
            toS: Math.max(fromS, fromS + following.delayS),
          }),
    why: following !== null && 'why' in following ? following.why : null,
  };
}

/**
 * Commanded phases of every source that declares its modes.
 *
 * @param runs the phases' runs, in time order
 * @param motion what the runs rest on
 * @returns in time order within each source; empty where no source declares modes
 */
export function commandedPhases(
  sources: readonly CheckedSource[],
  runs: readonly MotionRun[],
  motion: Origin,
): readonly CommandedPhase[] {
  return sources.flatMap(({ source, tS, channels }) => {
    const { modes } = source.declared;
    const found = channels.find(({ channel }) =>
      [channel.name, channel.as].includes(modes?.channel ?? ''),
    );
    if (modes === undefined || found === undefined) return [];
    const { name: channel, values } = found.channel;
    const commands = commandsOf({ source: source.file, channel, tS, values }, modes.states);
    const file = { file: source.file, sha256: source.sha256 };
    const mode: Origin = { sources: [file], channels: [channel] };
    const isApart = motion.sources.every((each) => each.file !== source.file);
    const both: Origin = {
      ...motion,
      sources: isApart ? [...motion.sources, file] : motion.sources,
      channels: [...motion.channels, channel],
    };
    const following = motionFollowing(commands, runs);
    return commands.map((command, index) =>
      phaseOf(command, following[index] ?? null, { mode, both }),
    );
  });
}
