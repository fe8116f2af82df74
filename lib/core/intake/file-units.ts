/** Units that a file states itself, held against those of the session file. */
import type { Issue } from '../result';
import type { ChannelSpec, TelemetrySpec } from '../session/session-file';
import { CHANNEL_QUANTITIES } from '../units/quantity';
import { findUnit, spellingsOf } from '../units/unit';
import type { Dialect } from './dialect';

type Judged = Readonly<{ channel: ChannelSpec; issue: Omit<Issue, 'file'> | null }>;

function takeUnit(channel: ChannelSpec, found: string | null): Judged {
  const { column, as } = channel;
  const needed = CHANNEL_QUANTITIES.get(as);
  const allowed = needed === undefined ? 'a unit' : `one of ${spellingsOf(needed).join(', ')}`;
  const unit = found === null ? null : findUnit(found);
  if (found === null || (needed !== undefined && unit?.siUnit !== needed)) {
    const message =
      found === null
        ? `the channel "${column}" has no unit, neither in the session file nor in a row of units in the file; state unit: ${allowed}`
        : `the file gives "${found}" for "${column}", which is no unit of ${as}: give it another name in "as" to keep it as it is; expected ${allowed}`;
    return {
      channel,
      issue: {
        code: found === null ? 'unit-missing' : 'unit-wrong',
        severity: 'error',
        message,
        expected: allowed,
        received: found ?? 'nothing',
      },
    };
  }
  const siUnit = unit?.siUnit ?? found;
  return { channel: { ...channel, unit: found, siUnit, toSi: unit?.toSi ?? 1 }, issue: null };
}

function compareUnit(channel: ChannelSpec, stated: string, found: string): Judged {
  const [ours, theirs] = [findUnit(stated), findUnit(found)];
  const differ =
    ours === null || theirs === null
      ? stated.trim() !== found
      : ours.siUnit !== theirs.siUnit || ours.toSi !== theirs.toSi;
  if (!differ) return { channel, issue: null };
  // Another factor may be a correction; another dimension can only be a mistake.
  const isOther = ours === null || theirs === null || ours.siUnit !== theirs.siUnit;
  const message = `"${channel.column}" is in ${stated} by the session file and in ${found} by the file itself`;
  return {
    channel,
    issue: {
      code: 'unit-contradicts',
      severity: isOther ? 'error' : 'warning',
      message: isOther ? `${message}, which is no such unit` : `${message}; ${stated} is used`,
      expected: stated,
      received: found,
    },
  };
}

/**
 * Gives every channel its unit: the session file's, else the one in the file's own row of units.
 *
 * @param spec the source as the session file describes it
 * @param dialect what was found in the file
 * @param named units of a long source's channels, where it has a column of them
 * @returns the source with a unit for every channel; an error for each that has none or a wrong one,
 *   a warning for each where the two contradict each other
 */
export function resolveUnits(
  spec: TelemetrySpec,
  dialect: Dialect,
  named: ReadonlyMap<string, string> = new Map(),
): Readonly<{ spec: TelemetrySpec; issues: readonly Issue[] }> {
  const judged = spec.channels.map((channel): Judged => {
    const index = spec.layout === 'long' ? -1 : dialect.columns.indexOf(channel.column);
    const found = named.get(channel.column) ?? dialect.units?.[index] ?? null;
    // A column that is not there is told by itself.
    if (index < 0 && spec.layout === 'wide') return { channel, issue: null };
    if (channel.unit === null) return takeUnit(channel, found);
    return found === null ? { channel, issue: null } : compareUnit(channel, channel.unit, found);
  });
  return {
    spec: { ...spec, channels: judged.map(({ channel }) => channel) },
    issues: judged.flatMap(({ issue }) => (issue === null ? [] : [{ ...issue, file: spec.file }])),
  };
}
