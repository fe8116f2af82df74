/** The README of a data package: what lies in it, in what unit, and how it is checked. */
import { plainText } from '../markup';
import { type DebriefRecord, recordLabel, zeroText } from '../record';
import { strangerCommands } from './stranger-commands';

/** A table of samples in the package. */
export type PackagedColumns = Readonly<{
  file: string;
  /** Of which source; null for what the program derived. */
  source: string | null;
  fromS: number;
  toS: number;
  columns: readonly Readonly<{ name: string; unit: string }>[];
  /** Null where the table is too long for one. */
  csv: string | null;
}>;

export type PackageContents = Readonly<{
  tables: readonly PackagedColumns[];
  logs: readonly string[];
  /** Files of the session folder that are too large to travel along. */
  session: 'there' | 'not there';
  leftOut: readonly Readonly<{ name: string; bytes: number; sha256: string }>[];
}>;

function tableLines(table: PackagedColumns): readonly string[] {
  const whose =
    table.source === null ? 'derived by the program' : `from ${plainText(table.source)}`;
  const csv = table.csv === null ? '; too long for a CSV' : `, ${table.csv}`;
  return [
    `${table.file}${csv}`,
    `    ${whose}, session time ${table.fromS.toFixed(3)} s to ${table.toS.toFixed(3)} s`,
    '    session_s (s)',
    ...table.columns.map(
      ({ name, unit }) => `    ${plainText(name)} (${unit === '' ? 'unit not stated' : unit})`,
    ),
  ];
}

/**
 * The text of README.txt.
 *
 * @param record what was published
 * @param contents what the package holds beside it
 */
export function packageReadme(record: DebriefRecord, contents: PackageContents): string {
  const whole =
    contents.session === 'there'
      ? '    whole'
      : '    it was no longer there when this was published';
  const left =
    contents.leftOut.length === 0
      ? [whole]
      : [
          '    without these, which are too large; put them in their place, or give the folder as --session:',
          ...contents.leftOut.map(
            ({ name, bytes, sha256 }) =>
              `    ${plainText(name)}, ${bytes} bytes, SHA-256 ${sha256}`,
          ),
        ];
  return [
    `${recordLabel(record)}: ${record.title}`,
    ...(record.banner === null ? [] : [record.banner]),
    record.caution,
    '',
    `Session time starts at ${zeroText(record.session)} and counts SI seconds. Units are SI and radians.`,
    'An empty cell or NULL is no valid sample.',
    '',
    'record.json',
    '    what was published: text, each number with value, uncertainty and evidence, figures as points',
    'session/',
    '    the session folder that the figures were computed from, with what people said of it (people.yaml)',
    ...left,
    ...contents.tables.flatMap(tableLines),
    ...contents.logs.map((name) => `${name}\n    a log as WebVTT on session time`),
    'SHA256SUMS',
    '    of every file here: sha256sum -c SHA256SUMS',
    '',
    `Numbers were computed by version ${record.engine}, from inputs with the SHA-256`,
    record.inputsSha256,
    '',
    'To check the publication:',
    ...strangerCommands(record).map(({ what, command }) => `  ${what}:\n    ${command}`),
    '',
  ].join('\n');
}
