/** Reads session.yaml. */
import { hasErrors, type Issue, type Parsed } from '../result';
import { leapSecondIssue } from '../time/leap-seconds';
import { parseInstant } from '../time/parse';
import { readSource } from './read-source';
import { checkSchema, makeReport, type Report } from './schema-issues';
import type { SessionFile } from './session-file';
import { type SessionData, sessionFileSchema } from './session-schema';
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

function checkFiles(data: SessionData, report: Report): void {
  const taken = new Map<string, KeyPath>();
  data.sources.forEach((source, index) => {
    const path = ['sources', index, 'file'];
    checkFileName(source.file, path, report);
    if (taken.has(source.file)) {
      report(path, {
        code: 'file-twice',
        message: `"${source.file}" is a source already`,
        expected: 'each file once',
        received: source.file,
      });
    }
    taken.set(source.file, path);
  });
  if (data.plan !== undefined) checkFileName(data.plan, ['plan'], report);
  if (data.rules !== undefined) checkFileName(data.rules, ['rules'], report);
  if (data.simulations === undefined) return;
  checkFileName(data.simulations.files, ['simulations', 'files'], report);
  const telemetry = data.sources.filter((source) => source.type === 'telemetry');
  const names = telemetry.map((source) => source.file);
  const { like } = data.simulations;
  if (!names.includes(like)) {
    report(['simulations', 'like'], {
      code: 'source-unknown',
      message: `must name a telemetry source, found "${like}"`,
      expected: `one of ${names.join(', ')}`,
      received: like,
    });
  }
}

/**
 * Reads a session file.
 *
 * @param text YAML or JSON
 * @param fileName for the issues
 * @returns the session in SI; null where one of the issues is an error
 */
export function readSessionFile(text: string, fileName: string): Parsed<SessionFile> {
  const yaml = readYaml(text, fileName);
  if (yaml.value === null) return { value: null, issues: yaml.issues };
  const checked = checkSchema(sessionFileSchema, yaml.value);
  if (checked.value === null) return { value: null, issues: checked.issues };
  const data = checked.value;
  const issues: Issue[] = [];
  const report = makeReport(yaml.value, issues);
  const parsedZero = parseInstant(data.zero, 'UTC');
  const zero = parsedZero ?? { taiNs: 0n };
  if (parsedZero === null) {
    report(['zero'], {
      code: 'instant-not-readable',
      message: `must be a UTC instant in ISO 8601, found "${data.zero}"`,
      expected: '2031-04-17T09:12:30Z or 2031-107T09:12:30Z',
      received: data.zero,
    });
  } else {
    const beyond = leapSecondIssue(zero);
    if (beyond !== null) report(['zero'], beyond);
  }
  checkFiles(data, report);
  const sources = data.sources.map((source, index) =>
    readSource(source, zero, ['sources', index], report),
  );
  if (hasErrors(issues)) return { value: null, issues };
  return {
    value: {
      title: data.title,
      kind: data.kind,
      zero,
      zeroUtc: data.zero,
      sources,
      planFile: data.plan ?? null,
      rulesFile: data.rules ?? null,
      simulations: data.simulations ?? null,
    },
    issues,
  };
}
