/** What a mode commanded beside the motion that was flown, and how long the motion took to follow. */
import type { CommandState } from '../session/session-input';
import type { MotionRun } from './motion-runs';

/** A stretch of one mode. `motion` is what the mode commands; null where it commands none. */
export type Command = Readonly<{
  name: string;
  motion: CommandState['motion'];
  /** Between two rows; null for the first, which may have begun before the data. */
  halfS: number | null;
  fromS: number;
  toS: number;
}>;

/** `run` is the index of the run that follows; `delayS` is its start less the command, with half-width. */
export type Following =
  | Readonly<{ run: number; delayS: number; halfS: number }>
  | Readonly<{ run: number | null; why: string }>;

/** A motion may begin this long before the mode that commands it is seen to change, s. Our own choice. */
const LONGEST_LEAD_S = 10;

/** A hold with a larger speed across is a hold of the range still. */
function carriesOut(command: Command, run: MotionRun): boolean {
  return (run.motion === 'crossing' ? 'hold' : run.motion) === command.motion;
}

function follow(
  command: Command,
  before: Command | undefined,
  runs: readonly MotionRun[],
): Following | null {
  if (command.motion === null) return null;
  const under = runs.findIndex(
    (run) => run.startS <= command.fromS && run.endS > command.fromS && carriesOut(command, run),
  );
  if (command.halfS === null)
    return { run: under < 0 ? null : under, why: 'in force when the data begin' };
  const earliestS = Math.max(command.fromS - LONGEST_LEAD_S, before?.fromS ?? command.fromS);
  let best = -1;
  runs.forEach((run, index) => {
    const isIn = index > 0 && run.startS > earliestS && run.startS < command.toS;
    if (!isIn || !carriesOut(command, run)) return;
    const nearS = Math.abs((runs[best]?.startS ?? Number.POSITIVE_INFINITY) - command.fromS);
    if (best < 0 || Math.abs(run.startS - command.fromS) < nearS) best = index;
  });
  const run = runs[best];
  if (run !== undefined && (under < 0 || best === under)) {
    const delayS = run.startS - command.fromS;
    return { run: best, delayS, halfS: Math.hypot(run.startHalfS, command.halfS) };
  }
  if (under >= 0) return { run: under, why: 'under way when it was commanded' };
  const endS = runs.at(-1)?.endS ?? Number.NEGATIVE_INFINITY;
  const isAfter = command.fromS >= endS;
  return { run: null, why: isAfter ? 'after the motion' : 'no such motion before the next mode' };
}

/**
 * Pairs each commanded stretch with the run that carries it out: the one of that motion whose start lies
 * nearest to the command, at most 10 s before it and before the next mode; else the one under way.
 *
 * @param commands of one channel, in time order
 * @param runs in time order; the first begins with the data, so that it follows no command
 * @returns one each; null for a mode that commands no motion
 */
export function motionFollowing(
  commands: readonly Command[],
  runs: readonly MotionRun[],
): readonly (Following | null)[] {
  return commands.map((command, index) => follow(command, commands[index - 1], runs));
}
