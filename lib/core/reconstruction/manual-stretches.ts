/** Stretches that look flown by hand, to be offered where a task is named: logged, by a mode, by the controller. */
import { lowerBound } from '../math/search';
import { median } from '../math/statistics';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { ManualStretch } from './handling';
import type { SessionEvent } from './reconstruction';
import { CONTROLLER_AXES, LEAST_DEFLECTION } from './task-rows';

/** A controller at rest for longer ends a stretch, s. Our own choice. */
const REST_S = 15;
/** Of one kind at most so many are offered, the longest. Our own choice. */
const MOST = 8;
/**
 * A mode has at most so many values; the one flown by hand holds this share of the movements, and is filled by
 * them to this share (a value that only happens to last meanwhile is not). Our own choice.
 */
const MOST_MODES = 12;
const LEAST_SHARE = 0.9;
const LEAST_FILLED = 0.25;
/** Rows that the rest of a controller is taken from, evenly spread. */
const REST_ROWS = 5001;

type Span = Readonly<{ fromS: number; toS: number }>;

function restOf(values: Float64Array): number {
  const every = Math.max(1, Math.floor(values.length / REST_ROWS));
  const some = values.filter((value, row) => row % every === 0 && !Number.isNaN(value));
  return median(some);
}

/** Times at which a controller is away from its rest, brought together over short rests. */
function movements(tS: Float64Array, values: Float64Array): readonly Span[] {
  const rest = restOf(values);
  const found: { fromS: number; toS: number }[] = [];
  for (let row = 0; row < values.length; row++) {
    const atS = tS[row] ?? Number.NaN;
    if (!(Math.abs((values[row] ?? Number.NaN) - rest) > LEAST_DEFLECTION)) continue;
    const last = found[found.length - 1];
    if (last !== undefined && atS - last.toS <= REST_S) last.toS = atS;
    else found.push({ fromS: atS, toS: atS });
  }
  return found.filter(({ fromS, toS }) => toS > fromS);
}

/** The longest few, in order of time. */
function longest(spans: readonly Span[]): readonly Span[] {
  const length = ({ fromS, toS }: Span): number => toS - fromS;
  return [...spans]
    .sort((a, b) => length(b) - length(a))
    .slice(0, MOST)
    .sort((a, b) => a.fromS - b.fromS);
}

/** Stretches of the value that a channel has while the controller moves; none where it is no mode. */
function modeStretches(
  { channel: { values } }: CheckedChannel,
  tS: Float64Array,
  moved: readonly Span[],
): Readonly<{ value: number; spans: readonly Span[] }> | null {
  const runs: { value: number; fromS: number; toS: number }[] = [];
  const modes = new Set<number>();
  for (let row = 0; row < values.length; row++) {
    const value = values[row] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const atS = tS[row] ?? Number.NaN;
    const last = runs[runs.length - 1];
    if (last?.value === value) last.toS = atS;
    else runs.push({ value, fromS: atS, toS: atS });
    modes.add(value);
    if (modes.size > MOST_MODES) return null;
  }
  const shared = (a: Span, b: Span): number =>
    Math.max(0, Math.min(a.toS, b.toS) - Math.max(a.fromS, b.fromS));
  const whole = moved.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
  for (const value of modes) {
    const spans = runs.filter((run) => run.value === value);
    const inside = spans.reduce(
      (sum, run) => sum + moved.reduce((part, span) => part + shared(run, span), 0),
      0,
    );
    const lasts = spans.reduce((sum, run) => sum + run.toS - run.fromS, 0);
    if (modes.size > 1 && inside >= Math.max(LEAST_SHARE * whole, LEAST_FILLED * lasts))
      return { value, spans };
  }
  return null;
}

function isController({ channel }: CheckedChannel): boolean {
  return CONTROLLER_AXES.some((axis) => channel.as === `hand_controller.${axis}`);
}

function ofSource({ tS, channels }: CheckedSource): readonly ManualStretch[] {
  const byAxis = channels.filter(isController).map(({ channel }) => ({
    axis: channel.as.slice('hand_controller.'.length),
    spans: movements(tS, channel.values),
  }));
  const moved = byAxis.flatMap(({ spans }) => spans);
  if (moved.length === 0) return [];
  const ofModes = channels
    .filter((each) => each.rhythm.kind === 'now-and-then' && !isController(each))
    .flatMap((each): ManualStretch[] => {
      // An accumulated on-time that rests is no mode.
      if (each.channel.as.startsWith('jet_on_time.')) return [];
      const found = modeStretches(each, tS, moved);
      const about = `${each.channel.name} is ${found?.value}, as while the hand controller moves`;
      return longest(found?.spans ?? []).map(({ fromS, toS }) => ({
        fromS,
        toS: nextRowS(tS, toS),
        basis: 'mode',
        about,
      }));
    });
  const ofAxes = byAxis.flatMap(({ axis, spans }) =>
    longest(spans).map(
      ({ fromS, toS }): ManualStretch => ({
        fromS,
        toS,
        basis: 'controller',
        about: `hand controller moved along ${axis}`,
      }),
    ),
  );
  return [...ofModes, ...ofAxes];
}

/** A mode holds until the next row says otherwise. */
function nextRowS(tS: Float64Array, atS: number): number {
  return tS[lowerBound(tS, atS) + 1] ?? atS;
}

const START = /^(.*manual.*?)[-_ ](?:start|begin|on)$/i;
const END = /^(.*manual.*?)[-_ ](?:end|stop|off)$/i;

/** Logged starts of manual flight, each with the next end of the same name. */
function ofLog(events: readonly SessionEvent[]): readonly ManualStretch[] {
  const stem = (pattern: RegExp, event: string | null) => pattern.exec(event ?? '')?.[1];
  return events.flatMap((start): ManualStretch[] => {
    const name = stem(START, start.event);
    if (name === undefined) return [];
    const end = events.find(({ event, timeS }) => timeS > start.timeS && stem(END, event) === name);
    if (end === undefined) return [];
    const about = `logged ${start.event} to ${end.event}`;
    return [{ fromS: start.timeS, toS: end.timeS, basis: 'log', about }];
  });
}

/** What to offer, in the order of belief: log, modes, movements of the controller axis by axis. */
export function manualStretches(
  sources: readonly CheckedSource[],
  events: readonly SessionEvent[],
): readonly ManualStretch[] {
  const seen = sources.flatMap(ofSource);
  const of = (basis: ManualStretch['basis']) => seen.filter((each) => each.basis === basis);
  return [...ofLog(events).slice(0, MOST), ...of('mode'), ...of('controller')];
}
