/** The attitudes that a session records, from whichever source carries them. */
import {
  type AttitudeTrack,
  attitudeTrack,
  quaternionOfAngles,
} from '../navigation/attitude-track';
import type { CheckedChannel, CheckedSource } from './data-quality';

export type AttitudeOf = 'attitude' | 'target_attitude' | 'relative_attitude';

/** A track, with the source and the columns it comes from. */
export type FoundAttitude = Readonly<{
  track: AttitudeTrack;
  source: CheckedSource;
  channels: readonly string[];
}>;

/** Rows at which every one of the columns has a value that may be used. */
function knownRows(columns: readonly CheckedChannel[]): readonly number[] {
  const rows: number[] = [];
  const count = columns[0]?.channel.values.length ?? 0;
  for (let row = 0; row < count; row++) {
    const isKnown = columns.every(
      ({ channel, rejected }) =>
        !Number.isNaN(channel.values[row]) && (rejected === null || rejected[row] === 0),
    );
    if (isKnown) rows.push(row);
  }
  return rows;
}

function columnsOf(
  { channels }: CheckedSource,
  names: readonly string[],
): readonly CheckedChannel[] | null {
  const found = names.flatMap((as) => channels.find(({ channel }) => channel.as === as) ?? []);
  return found.length === names.length ? found : null;
}

function trackOf(source: CheckedSource, stem: AttitudeOf): FoundAttitude | null {
  const forms = [
    ['q_w', 'q_x', 'q_y', 'q_z'],
    ['roll', 'pitch', 'yaw'],
  ];
  for (const form of forms) {
    const columns = columnsOf(
      source,
      form.map((part) => `${stem}.${part}`),
    );
    if (columns === null) continue;
    const rows = knownRows(columns);
    if (rows.length < 2) continue;
    const tS = Float64Array.from(rows, (row) => source.tS[row] ?? Number.NaN);
    const track = attitudeTrack(tS, (index) => {
      const at = (part: number) => columns[part]?.channel.values[rows[index] ?? 0] ?? Number.NaN;
      return form.length === 4
        ? [at(0), at(1), at(2), at(3)]
        : quaternionOfAngles(at(0), at(1), at(2));
    });
    return { track, source, channels: columns.map(({ channel }) => channel.name) };
  }
  return null;
}

/** The attitude by that name: of the source itself before that of another; null where none has it. */
export function attitudeOf(
  stem: AttitudeOf,
  own: CheckedSource,
  sources: readonly CheckedSource[],
): FoundAttitude | null {
  const inOrder = [own, ...sources.filter((source) => source !== own)];
  for (const source of inOrder) {
    const found = trackOf(source, stem);
    if (found !== null) return found;
  }
  return null;
}
