/** What a telemetry source states about its dialect and about its numbers. */
import { NORMAL_95 } from '../math/statistics';
import { findUnit } from '../units/unit';
import { readPoints } from './read-points';
import type { Report } from './schema-issues';
import type { DialectSpec } from './session-file';
import type { TelemetryDeclaration } from './session-input';
import type { TelemetryData } from './session-schema';
import { readStamping } from './stamping';
import type { KeyPath } from './yaml-text';

const SEPARATOR_WORDS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    comma: ',',
    semicolon: ';',
    tab: '\t',
    pipe: '|',
    space: ' ',
    '\\t': '\t',
  }),
);

const ENCODINGS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    ascii: 'utf-8',
    utf8: 'utf-8',
    utf8bom: 'utf-8',
    utf16: 'utf-16',
    utf16le: 'utf-16le',
    utf16be: 'utf-16be',
    latin1: 'iso-8859-1',
    iso88591: 'iso-8859-1',
    windows1252: 'windows-1252',
    cp1252: 'windows-1252',
  }),
);

type DialectData = Readonly<{
  separator?: string | undefined;
  decimal?: TelemetryData['decimal'];
  encoding?: string | undefined;
}>;

/** Reads separator, decimal and encoding; null where not stated. */
export function readDialect(data: DialectData, path: KeyPath, report: Report): DialectSpec {
  const separator =
    data.separator === undefined ? null : (SEPARATOR_WORDS.get(data.separator) ?? data.separator);
  if (separator !== null && (separator.length !== 1 || /[\w".\r\n]/.test(separator))) {
    report([...path, 'separator'], {
      code: 'separator-unknown',
      message: `must be one character or comma, semicolon, tab, pipe, space, found "${data.separator}"`,
      expected: 'one of , ; tab | space',
      received: data.separator ?? '',
    });
  }
  const decimal = data.decimal ?? null;
  if (separator === ',' && decimal === ',') {
    report([...path, 'decimal'], {
      code: 'key-conflict',
      message: 'a decimal comma needs another separator than the comma',
      expected: 'another separator, or decimal: "."',
      received: ',',
    });
  }
  return { separator, decimal, encoding: readEncoding(data.encoding, path, report) };
}

function readEncoding(stated: string | undefined, path: KeyPath, report: Report): string | null {
  if (stated === undefined) return null;
  const encoding = ENCODINGS.get(stated.toLowerCase().replace(/[^a-z0-9]/g, ''));
  if (encoding === undefined) {
    report([...path, 'encoding'], {
      code: 'encoding-unknown',
      message: `must be one of utf-8, utf-16, utf-16le, utf-16be, latin-1, windows-1252, found "${stated}"`,
      expected: 'utf-8, utf-16, utf-16le, utf-16be, latin-1, windows-1252',
      received: stated,
    });
  }
  return encoding ?? null;
}

/** Units that stand at the end of a key, as in `position_m`. */
const KEY_UNITS: readonly (readonly [ending: string, spelling: string])[] = [
  ['_mps', 'm/s'],
  ['_dps', 'deg/s'],
  ['_deg', 'deg'],
  ['_kg', 'kg'],
  ['_m', 'm'],
  ['_s', 's'],
];

/**
 * A stated accuracy in SI, by quantity, as the half-width of the 95 % interval: the unit stands in the key
 * or beside the number. One standard deviation is taken as that of a normal distribution.
 */
function readAccuracy(data: TelemetryData['accuracy']): TelemetryDeclaration['accuracy'] {
  if (data === undefined || typeof data === 'string') return null;
  const stated = Object.entries(data).map(([key, value]): [string, number] => {
    if (typeof value !== 'number') {
      const times = value.is === '1 sd' ? NORMAL_95 : 1;
      return [key, times * value.value * (findUnit(value.unit)?.toSi ?? 1)];
    }
    const [ending, spelling] = KEY_UNITS.find(([suffix]) => key.endsWith(suffix)) ?? ['', '1'];
    return [key.slice(0, key.length - ending.length), value * (findUnit(spelling)?.toSi ?? 1)];
  });
  return Object.fromEntries(stated);
}

/** Settling after a change of sensor where nobody states it, s. Our own choice. */
const USUAL_SETTLING_S = 10;

function readNavigation({ selector, states }: NonNullable<TelemetryData['navigation']>) {
  return {
    selector,
    states: states.map(({ value, name, kind, settles_s }) => ({
      value,
      name,
      kind: kind ?? ('measured' as const),
      settlesS: settles_s ?? USUAL_SETTLING_S,
    })),
  };
}

/** A column that names states, under its key in the session file, with what its values mean. */
type StateColumn = Readonly<{
  key: readonly [block: 'navigation' | 'modes', column: 'selector' | 'channel'];
  column: string;
  states: readonly Readonly<{ value: number }>[];
}>;

function stateColumns({ navigation, modes }: TelemetryData): readonly StateColumn[] {
  return [
    ...(navigation === undefined
      ? []
      : [{ key: ['navigation', 'selector'] as const, column: navigation.selector, ...navigation }]),
    ...(modes === undefined
      ? []
      : [{ key: ['modes', 'channel'] as const, column: modes.channel, ...modes }]),
  ];
}

/**
 * A column of states that is no channel of its source, or states that share a value, said once each.
 *
 * @param path key path of the source
 */
export function checkStateColumns(data: TelemetryData, path: KeyPath, report: Report): void {
  for (const { key, column, states } of stateColumns(data)) {
    const known = Object.entries(data.channels).some(([name, { as }]) =>
      [name, as].includes(column),
    );
    if (!known) {
      report([...path, ...key], {
        code: 'column-unknown',
        message: `must be a column of channels, found "${column}"`,
        expected: Object.keys(data.channels).join(', '),
        received: column,
      });
    }
    states.forEach(({ value }, index) => {
      if (states.findIndex((each) => each.value === value) === index) return;
      report([...path, key[0], 'states', index, 'value'], {
        code: 'value-repeated',
        message: `stands for a state already, found ${value} again`,
        expected: 'each value once',
        received: String(value),
      });
    });
  }
}

function readModes({ channel, states }: NonNullable<TelemetryData['modes']>) {
  return {
    channel,
    states: states.map(({ value, name, motion }) => ({ value, name, motion: motion ?? null })),
  };
}

/** Reads points, frame, lever arm, stamp, latency, availability and accuracy. */
export function readDeclaration(data: TelemetryData): TelemetryDeclaration {
  const arm = typeof data.lever_arm_m === 'number' ? [data.lever_arm_m, 0, 0] : data.lever_arm_m;
  return {
    ...readPoints(data),
    velocityFrame: data.velocity_frame ?? null,
    leverArmM: arm ?? null,
    ...readStamping(data),
    accuracy: readAccuracy(data.accuracy),
    ...(data.sensor === undefined ? {} : { sensor: data.sensor }),
    ...(data.navigation === undefined ? {} : { navigation: readNavigation(data.navigation) }),
    ...(data.modes === undefined ? {} : { modes: readModes(data.modes) }),
  };
}
