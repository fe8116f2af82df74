/** `channels` of a telemetry source: columns to quantities in SI. */
import { CHANNEL_QUANTITIES } from '../units/quantity';
import { findUnit, spellingsOf } from '../units/unit';
import { nameOnOneLine } from './column-name';
import type { Report } from './schema-issues';
import type { ChannelSpec } from './session-file';
import type { TelemetryData } from './session-schema';
import type { KeyPath } from './yaml-text';

type ChannelData = TelemetryData['channels'][string];

function readChannel(
  column: string,
  data: ChannelData,
  path: KeyPath,
  report: Report,
): ChannelSpec {
  const spelling = data.unit === undefined ? null : String(data.unit);
  const unit = spelling === null ? null : findUnit(spelling);
  const needed = CHANNEL_QUANTITIES.get(data.as);
  if (spelling === null) {
    // The file's own row of units has to tell it.
  } else if (needed !== undefined && unit?.siUnit !== needed) {
    const allowed = spellingsOf(needed).join(', ');
    report([...path, 'unit'], {
      code: 'unit-wrong',
      message: `the unit of ${data.as} is one of ${allowed}, found "${spelling}"`,
      expected: `one of ${allowed}`,
      received: spelling,
    });
  } else if (unit === null) {
    report([...path, 'unit'], {
      code: 'unit-not-known',
      severity: 'warning',
      message: `the unit "${spelling}" is not known; the column is kept as written`,
      received: spelling,
    });
  }
  if (data.scale === 0) {
    report([...path, 'scale'], {
      code: 'value-out-of-bounds',
      message: 'a scale of 0 would make every sample 0',
      expected: 'a number other than 0',
      received: '0',
    });
  }
  return {
    column: nameOnOneLine(column),
    as: data.as,
    unit: spelling,
    siUnit: unit?.siUnit ?? spelling ?? '',
    toSi: unit?.toSi ?? 1,
    scale: data.scale ?? 1,
    sign: data.sign === -1 || data.sign === '-' ? -1 : 1,
  };
}

/** Reads every column named; the same quantity twice in one source is reported. */
export function readChannels(data: TelemetryData, path: KeyPath, report: Report): ChannelSpec[] {
  const channels = Object.entries(data.channels).map(([column, channel]) =>
    readChannel(column, channel, [...path, column], report),
  );
  if (channels.length === 0) {
    report(path, {
      code: 'channels-empty',
      message: 'names no channel',
      expected: 'at least one column with as and unit',
      received: 'none',
    });
  }
  const taken = new Map<string, string>();
  for (const { column, as } of channels) {
    const other = taken.get(as);
    if (other !== undefined) {
      report([...path, column, 'as'], {
        code: 'quantity-twice',
        message: `${as} is column "${other}" already; one source has one column of it`,
        expected: 'another name',
        received: as,
      });
    }
    taken.set(as, column);
  }
  return channels;
}
