/** What a schema finds wrong with a YAML file, as issues that a person can act on. */
import type { z } from 'zod';
import type { Issue } from '../result';
import { type FileFaults, noteFaults } from './file-faults';
import { mendData, type PlacedIssue, placeIssues } from './mend-data';
import { findMistyped } from './mistyped-key';
import { knownKeys, likeliestBranch, type SchemaIssue, valueAt } from './schema-walk';
import { formatKeyPath, type KeyPath, type YamlFile } from './yaml-text';

/** Reports one fault of a file: key path and what is wrong there. */
export type Report = (
  path: KeyPath,
  fault: Readonly<{
    code: string;
    message: string;
    severity?: Issue['severity'];
    expected?: string;
    received?: string;
  }>,
) => void;

/**
 * Collects issues of one file, each with its line.
 *
 * @param faults what is reported already; nothing is added there, nor a key that is missing beside
 *   one that is not known
 */
export function makeReport(yaml: YamlFile, issues: Issue[], faults: FileFaults): Report {
  return (path, fault) => {
    if (faults.touches(path)) return;
    if (fault.code === 'key-missing' && faults.hasUnknownBeside(path)) return;
    issues.push({
      severity: 'error',
      ...fault,
      file: yaml.fileName,
      keyPath: formatKeyPath(path),
      line: yaml.lineOf(path),
    });
  };
}

/** A found value in words: `the text "300"`, `the number 5`, `a list`. */
export function describeValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'nothing (null)';
  if (typeof value === 'string') return `the text "${shorten(value)}"`;
  if (typeof value === 'number') return numberWords(value);
  if (typeof value === 'boolean') return value ? 'true' : 'false';
  return Array.isArray(value) ? `a list of ${value.length}` : 'a mapping';
}

function numberWords(value: number): string {
  if (Number.isFinite(value)) return `the number ${value}`;
  return Number.isNaN(value) ? '.nan' : `${value < 0 ? '-' : ''}.inf or a number too large`;
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  array: 'a list',
  tuple: 'a list',
  object: 'a mapping',
  record: 'a mapping',
  boolean: 'true or false',
};

function typeFault(issue: SchemaIssue, received: unknown): { expected: string; message: string } {
  const name = issue.code === 'invalid_type' ? issue.expected : 'value';
  const isNumber = typeof received === 'number' && name === 'number';
  const expected = isNumber ? 'a finite number' : (TYPE_WORDS[name] ?? name);
  return { expected, message: `must be ${expected}, found ${describeValue(received)}` };
}

type Context = Readonly<{
  schema: z.core.$ZodType;
  yaml: YamlFile;
  report: Report;
  faults: FileFaults;
}>;

function reportUnknown(
  { yaml, schema, report, faults }: Context,
  keys: readonly string[],
  path: KeyPath,
): void {
  const known = knownKeys(schema, path, yaml.data);
  const present = new Set(Object.keys(Object(valueAt(yaml.data, path))));
  const free = known.filter((each) => !present.has(each));
  const expected = known.join(', ');
  for (const key of keys) {
    if (faults.touches([...path, key])) continue;
    const meant = findMistyped(key, free);
    const question = meant === null ? '' : `, is "${meant}" meant?`;
    report([...path, key], {
      code: 'key-unknown',
      message: `unknown key "${shorten(key)}"${question}; known here: ${expected}`,
      expected: `one of ${expected}`,
      received: key,
    });
    faults.markUnknown([...path, key]);
    if (meant !== null) faults.mark([...path, meant]);
  }
}

function reportIssue(context: Context, { issue, path }: PlacedIssue): void {
  const { report, yaml } = context;
  if (issue.code !== 'unrecognized_keys' && context.faults.touches(path)) return;
  const value = valueAt(yaml.data, path);
  const received = describeValue(value);
  const key = String(path.at(-1) ?? 'the file');
  const lacking = missingBranches(issue, path, yaml);
  if (lacking !== null) {
    report(path, {
      code: 'key-missing',
      message: `keys are missing: ${lacking}`,
      expected: lacking,
      received: 'none of them',
    });
  } else if (issue.code === 'unrecognized_keys') {
    reportUnknown(context, issue.keys, path);
    return;
  } else if (issue.code === 'invalid_key') {
    report(path, {
      code: 'key-empty',
      message: 'a key is empty',
      expected: 'a name',
      received: 'nothing',
    });
  } else if (value === undefined) {
    const { expected } = typeFault(issue, value);
    report(path, {
      code: 'key-missing',
      message: `the key "${key}" is missing`,
      expected: issue.code === 'invalid_value' ? `one of ${issue.values.join(', ')}` : expected,
      received: 'nothing',
    });
  } else if (issue.code === 'invalid_type') {
    report(path, { code: 'type-wrong', received, ...typeFault(issue, value) });
  } else if (issue.code === 'invalid_value' || issue.code === 'invalid_union') {
    const options = issue.code === 'invalid_value' ? issue.values : unionOptions(issue);
    const expected = `one of ${options.join(', ')}`;
    report(path, {
      code: 'value-unknown',
      message: `must be ${expected}, found ${received}`,
      expected,
      received,
    });
  } else {
    const expected = boundWords(issue);
    report(path, {
      code: 'value-out-of-bounds',
      message: `must be ${expected}, found ${received}`,
      expected,
      received,
    });
  }
  context.faults.mark(path);
}

/** The words that tell the branches of a union apart, as far as the schema names them. */
function unionOptions(issue: z.core.$ZodIssueInvalidUnion): readonly unknown[] {
  return 'options' in issue ? (issue.options ?? []) : [];
}

function boundWords(issue: SchemaIssue): string {
  if (issue.code === 'too_small')
    return bound(
      issue.origin,
      Number(issue.minimum),
      issue.inclusive === true ? 'at least' : 'more than',
    );
  if (issue.code === 'too_big')
    return bound(
      issue.origin,
      Number(issue.maximum),
      issue.inclusive === true ? 'at most' : 'less than',
    );
  return issue.message;
}

function bound(origin: string, value: number, words: string): string {
  if (origin === 'number' || origin === 'int') return `${words} ${value}`;
  if (origin === 'string')
    return value === 1 ? 'text that is not empty' : `${words} ${value} characters`;
  return `a list of ${words} ${value}`;
}

/** The keys each branch of a union lacks, where keys are all that is wrong; else nothing. */
function lackingKeys(issue: SchemaIssue): readonly (readonly string[])[] {
  if (issue.code !== 'invalid_union') return [];
  const branches: readonly (readonly SchemaIssue[])[] = issue.errors;
  const onlyKeys = branches.every((branch) =>
    branch.every((inner) => inner.code === 'invalid_type' && inner.path.length === 1),
  );
  return onlyKeys ? branches.map((branch) => branch.map((inner) => String(inner.path[0]))) : [];
}

/** The keys that would make one of the branches, where none of them is there; else null. */
function missingBranches(issue: SchemaIssue, path: KeyPath, yaml: YamlFile): string | null {
  const branches = lackingKeys(issue).filter((keys) =>
    keys.every((key) => valueAt(yaml.data, [...path, key]) === undefined),
  );
  return branches.length > 1 ? branches.map((keys) => keys.join(' with ')).join(', or ') : null;
}

/** Every single fault of a union by the branch that was meant. */
function flatten(yaml: YamlFile, placed: PlacedIssue): PlacedIssue[] {
  const { issue, path } = placed;
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return [placed];
  if (missingBranches(issue, path, yaml) !== null) return [placed];
  return placeIssues(likeliestBranch(issue.errors), path).flatMap((each) => flatten(yaml, each));
}

/** Beyond this many issues a file is another kind of file; the rest is counted, not listed. */
const MAX_ISSUES = 50;

/** The issues of a file from its top down: the first of them, and how many more there are. */
export function capIssues(found: readonly Issue[], fileName: string): readonly Issue[] {
  const issues = [...found].sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  if (issues.length <= MAX_ISSUES) return issues;
  const more: Issue = {
    code: 'more-issues',
    severity: 'error',
    file: fileName,
    message: `and ${issues.length - MAX_ISSUES} more of this kind`,
  };
  return [...issues.slice(0, MAX_ISSUES), more];
}

/** Taking out what is wrong can bring up what stood behind it, so often at most. */
const MAX_ROUNDS = 6;

/** A file held against its schema. */
export type Checked<T> = Readonly<{
  /** In the schema's type, with stand-ins at the faults; null where too little is right. */
  understood: T | null;
  issues: readonly Issue[];
  faults: FileFaults;
}>;

/**
 * Holds a file against its schema.
 *
 * @param schema the schema, strict objects throughout
 * @param yaml the file read
 * @returns what was understood, one issue per fault (unknown keys, wrong types, missing keys, each
 *   with key path, line, what was expected and what was found), and where the faults stand
 */
export function checkSchema<T>(schema: z.ZodType<T>, yaml: YamlFile): Checked<T> {
  const issues: Issue[] = [];
  const faults = noteFaults();
  const report = makeReport(yaml, issues, noteFaults());
  let data = yaml.data;
  for (let round = 0; round < MAX_ROUNDS && issues.length <= MAX_ISSUES; round += 1) {
    const result = schema.safeParse(data);
    if (result.success) return { understood: result.data, issues, faults };
    const placed = placeIssues(result.error.issues).flatMap((each) => flatten(yaml, each));
    // Unknown keys first: a key that is missing may be there in another spelling.
    const rank = ({ issue }: PlacedIssue) => (issue.code === 'unrecognized_keys' ? 0 : 1);
    placed.sort((a, b) => rank(a) - rank(b));
    for (const each of placed) reportIssue({ schema, yaml, report, faults }, each);
    if (placed.some(({ path, issue }) => path.length === 0 && rank({ path, issue }) === 1)) break;
    data = mendData(schema, data, placed);
  }
  return { understood: null, issues, faults };
}
