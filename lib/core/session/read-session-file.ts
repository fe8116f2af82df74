/** Reads session.yaml. */

import { hasErrors, type Issue } from '../result';
import type { Instant } from '../time/instant';
import { leapSecondIssue } from '../time/leap-seconds';
import { parseInstant } from '../time/parse';
import { type FileFaults, noteFaults, type PartlyRead } from './file-faults';
import { readSource, sourceName } from './read-source';
import { simulationsAbout } from './runs-about';
import { capIssues, checkSchema, makeReport, type Report } from './schema-issues';
import type { SessionFile, SourceSpec } from './session-file';
import { type SessionData, type SourceData, sessionFileSchema } from './session-schema';
import { type KeyPath, readYaml } from './yaml-text';

/** Reports a file name that could point outside the session's folder. */
function checkFileName(name: string, path: KeyPath, report: Report): void {
  const parts = name.split('/');
  const isInside =
    !/^[A-Za-z]:|[\\\u0000]/.test(name) &&
    parts.every((part) => part !== '' && part !== '..' && part !== '.');
  if (isInside) return;
  report(path, {
    code: 'file-outside-folder',
    message: `must be a path inside the session's folder, found "${name}"`,
    expected: 'a relative path with / between its parts, without ..',
    received: name,
  });
}

type NamedFile = Readonly<{ name: string; path: KeyPath }>;

/** The files of a source with the key each stands at. */
function filesOf(source: SourceData, path: KeyPath, report: Report): NamedFile[] {
  const { file } = source;
  const files = 'files' in source ? source.files : undefined;
  if (file !== undefined && files !== undefined) {
    report([...path, 'files'], {
      code: 'key-conflict',
      message: 'file and files exclude each other',
      expected: 'one of file, files',
      received: 'both',
    });
  }
  if (file !== undefined) return [{ name: file, path: [...path, 'file'] }];
  if (files === undefined) {
    report([...path, 'file'], {
      code: 'key-missing',
      message: 'the key "file" is missing',
      expected: 'text',
      received: 'nothing',
    });
  }
  return (files ?? []).map((name, index) => ({ name, path: [...path, 'files', index] }));
}

function checkFiles(data: SessionData, faults: FileFaults, report: Report): void {
  const taken = new Set<string>();
  data.sources.forEach((source, index) => {
    for (const { name, path } of filesOf(source, ['sources', index], report)) {
      checkFileName(name, path, report);
      if (taken.has(name)) {
        report(path, {
          code: 'file-twice',
          message: `"${name}" is a source already`,
          expected: 'each file once',
          received: name,
        });
      }
      taken.add(name);
    }
  });
  if (data.plan !== undefined) checkFileName(data.plan, ['plan'], report);
  if (data.rules !== undefined) checkFileName(data.rules, ['rules'], report);
  if (data.simulations === undefined) return;
  checkFileName(data.simulations.files, ['simulations', 'files'], report);
  const telemetry = data.sources.filter((source) => source.type === 'telemetry');
  const names = telemetry.map(sourceName);
  const { like } = data.simulations;
  const areKnown = data.sources.every((_, index) => isNamed(faults, index));
  if (areKnown && !names.includes(like)) {
    report(['simulations', 'like'], {
      code: 'source-unknown',
      message: `must name a telemetry source, found "${like}"`,
      expected: `one of ${names.join(', ')}`,
      received: like,
    });
  }
}

/** True where file and type of a source are understood. */
function isNamed(faults: FileFaults, index: number): boolean {
  return ['file', 'files', 'type'].every((key) => !faults.touches(['sources', index, key]));
}

/** What decides how the lines of a file are taken apart, so a fault in it makes reading idle. */
const LAYOUT_KEYS: readonly KeyPath[] = [
  ['time', 'column'],
  ['time', 'columns'],
  ['layout'],
  ['name_column'],
  ['value_column'],
  ['missing'],
  ['separator'],
  ['decimal'],
  ['encoding'],
];

/** True where so much of a source is understood that looking into its file tells something. */
function canBeOpened(source: SourceSpec, index: number, faults: FileFaults): boolean {
  if (!isNamed(faults, index)) return false;
  const keys = source.type === 'events' ? [...LAYOUT_KEYS, ['time', 'code']] : LAYOUT_KEYS;
  if (keys.some((key) => faults.touches(['sources', index, ...key]))) return false;
  return source.type !== 'telemetry' || source.time.columns.length > 0;
}

function filesNamed(source: SourceSpec): readonly string[] {
  return source.type === 'telemetry' ? source.files : [source.file];
}

/** What was understood of a session file, faults or not. */
type UnderstoodSession = Readonly<{
  /** Sources that can be looked into; no others. */
  session: SessionFile;
  /** Files of the other sources: only that they are there can be checked. */
  onlyNamed: readonly string[];
}>;

function readZero(text: string, key: 'zero' | 'mission_zero', report: Report): Instant {
  const zero = parseInstant(text, 'UTC');
  if (zero === null) {
    report([key], {
      code: 'instant-not-readable',
      message: `must be a UTC instant in ISO 8601, found "${text}"`,
      expected: '2031-04-17T09:12:30Z or 2031-107T09:12:30Z',
      received: text,
    });
    return { taiNs: 0n };
  }
  if (BigInt.asIntN(64, zero.taiNs) !== zero.taiNs) {
    report([key], {
      code: 'instant-out-of-range',
      message: `must lie between the years 1678 and 2261, found "${text}"`,
      expected: 'a year between 1678 and 2261',
      received: text,
    });
    return { taiNs: 0n };
  }
  const beyond = leapSecondIssue(zero);
  if (beyond !== null) report([key], beyond);
  return zero;
}

/** Marks what the checks behind the schema report, too. */
function markingReport(report: Report, faults: FileFaults): Report {
  return (path, fault) => {
    report(path, fault);
    if ((fault.severity ?? 'error') === 'error') faults.mark(path);
  };
}

/**
 * Reads a session file.
 *
 * @param text YAML or JSON
 * @param fileName for the issues
 * @returns the session in SI; `value` is null where one of the issues is an error, `understood`
 *   where nothing of it can be used
 */
export function readSessionFile(
  text: string,
  fileName: string,
): PartlyRead<SessionFile, UnderstoodSession> {
  const yaml = readYaml(text, fileName);
  if (yaml.value === null) return { value: null, understood: null, issues: yaml.issues };
  const checked = checkSchema(sessionFileSchema, yaml.value);
  const issues: Issue[] = [...yaml.issues, ...checked.issues];
  if (checked.understood === null) {
    return { value: null, understood: null, issues: capIssues(issues, fileName) };
  }
  const { understood: data, faults } = checked;
  const found = noteFaults();
  const report = markingReport(makeReport(yaml.value, issues, faults), found);
  const zero = readZero(data.zero, 'zero', report);
  const missionZero = data.mission_zero;
  checkFiles(data, faults, report);
  const sources = data.sources.map((source, index) =>
    readSource(source, zero, ['sources', index], report),
  );
  const isKnown = (path: KeyPath) => !faults.touches(path) && !found.touches(path);
  const canOpen = sources.map(
    (source, index) => canBeOpened(source, index, faults) && canBeOpened(source, index, found),
  );
  const isThere = (index: number) =>
    isKnown(['sources', index, 'file']) && isKnown(['sources', index, 'files']);
  const session: SessionFile = {
    title: data.title,
    kind: data.kind,
    zero,
    zeroUtc: data.zero,
    ...(missionZero === undefined
      ? {}
      : { missionZero: readZero(missionZero, 'mission_zero', report) }),
    sources,
    absences: data.sources.flatMap((source) =>
      source.absent === undefined
        ? []
        : [{ file: sourceName(source), type: source.type, state: source.absent }],
    ),
    planFile: isKnown(['plan']) ? (data.plan ?? null) : null,
    rulesFile: isKnown(['rules']) ? (data.rules ?? null) : null,
    simulations:
      data.simulations === undefined
        ? null
        : {
            files: data.simulations.files,
            like: data.simulations.like,
            runColumn: data.simulations.run_column ?? null,
            about: simulationsAbout(data.simulations),
          },
  };
  return {
    value: hasErrors(issues) ? null : session,
    understood: {
      session: { ...session, sources: sources.filter((_, index) => canOpen[index] === true) },
      onlyNamed: sources.flatMap((source, index) =>
        canOpen[index] !== true && isThere(index) ? filesNamed(source) : [],
      ),
    },
    issues: capIssues(issues, fileName),
  };
}
