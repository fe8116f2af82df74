/** What a schema finds wrong with a YAML file, as issues that a person can act on. */
import { z } from 'zod';
import type { Issue, Parsed } from '../result';
import { formatKeyPath, type KeyPath, type YamlFile } from './yaml-text';

type SchemaIssue = z.core.$ZodIssue;

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

/** Collects issues of one file, each with its line. */
export function makeReport(yaml: YamlFile, issues: Issue[]): Report {
  return (path, fault) => {
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
  if (typeof value === 'number') return `the number ${value}`;
  if (typeof value === 'boolean') return value ? 'true' : 'false';
  return Array.isArray(value) ? `a list of ${value.length}` : 'a mapping';
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

function valueAt(data: unknown, path: KeyPath): unknown {
  return path.reduce<unknown>((value, part) => {
    if (value === null || typeof value !== 'object') return undefined;
    return Object.getOwnPropertyDescriptor(value, part)?.value;
  }, data);
}

/** Keys that the schema knows at a path, over all branches of its unions. */
function knownKeys(schema: z.core.$ZodType, path: KeyPath): readonly string[] {
  if (schema instanceof z.ZodOptional) return knownKeys(schema.unwrap(), path);
  if (schema instanceof z.ZodUnion) {
    const all = schema.options.flatMap((option) => knownKeys(option, path));
    return [...new Set(all)];
  }
  const [head, ...rest] = path;
  if (schema instanceof z.ZodObject) {
    if (head === undefined) return Object.keys(schema.shape);
    const inner: unknown = schema.shape[String(head)];
    return inner instanceof z.ZodType ? knownKeys(inner, rest) : [];
  }
  if (head === undefined) return [];
  if (schema instanceof z.ZodArray) return knownKeys(schema.element, rest);
  return schema instanceof z.ZodRecord ? knownKeys(schema.valueType, rest) : [];
}

/** The branch of a union that the value was meant for: fewest foreign keys, then fewest faults. */
function likeliestBranch(branches: readonly (readonly SchemaIssue[])[]): readonly SchemaIssue[] {
  const cost = (branch: readonly SchemaIssue[]) =>
    branch.reduce(
      (sum, issue) =>
        sum +
        (issue.code === 'unrecognized_keys'
          ? 10 * issue.keys.length
          : issue.path.length === 0
            ? 20
            : 1),
      0,
    );
  const costs = branches.map(cost);
  const least = Math.min(...costs);
  return branches[costs.indexOf(least)] ?? [];
}

function typeFault(issue: SchemaIssue, received: unknown): { expected: string; message: string } {
  const name = issue.code === 'invalid_type' ? issue.expected : 'value';
  const expected = TYPE_WORDS[name] ?? name;
  return { expected, message: `must be ${expected}, found ${describeValue(received)}` };
}

type Context = Readonly<{ schema: z.core.$ZodType; yaml: YamlFile; report: Report }>;

function reportIssue(context: Context, issue: SchemaIssue, base: KeyPath): void {
  const { report, yaml, schema } = context;
  const path = [
    ...base,
    ...issue.path.map((part) => (typeof part === 'number' ? part : String(part))),
  ];
  const value = valueAt(yaml.data, path);
  const received = describeValue(value);
  const key = String(path.at(-1) ?? 'the file');
  if (issue.code === 'unrecognized_keys') {
    const expected = knownKeys(schema, path).join(', ');
    for (const unknown of issue.keys) {
      report([...path, unknown], {
        code: 'key-unknown',
        message: `unknown key "${shorten(unknown)}"; known here: ${expected}`,
        expected: `one of ${expected}`,
        received: unknown,
      });
    }
  } else if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    for (const inner of likeliestBranch(issue.errors)) reportIssue(context, inner, path);
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

/** Beyond this many issues a file is another kind of file; the rest is counted, not listed. */
const MAX_ISSUES = 50;

function capIssues(issues: readonly Issue[], fileName: string): readonly Issue[] {
  if (issues.length <= MAX_ISSUES) return issues;
  const more: Issue = {
    code: 'more-issues',
    severity: 'error',
    file: fileName,
    message: `and ${issues.length - MAX_ISSUES} more of this kind`,
  };
  return [...issues.slice(0, MAX_ISSUES), more];
}

/**
 * Holds a file against its schema.
 *
 * @param schema the schema, strict objects throughout
 * @param yaml the file read
 * @returns the value in the schema's type, or null with one issue per fault: unknown keys, wrong
 *   types and missing keys, each with key path, line, what was expected and what was found
 */
export function checkSchema<T>(schema: z.ZodType<T>, yaml: YamlFile): Parsed<T> {
  const result = schema.safeParse(yaml.data);
  if (result.success) return { value: result.data, issues: [] };
  const issues: Issue[] = [];
  const report = makeReport(yaml, issues);
  for (const issue of result.error.issues) {
    const path = issue.path.map((part) => (typeof part === 'number' ? part : String(part)));
    const branches = lackingKeys(issue).filter((keys) =>
      keys.every((key) => valueAt(yaml.data, [...path, key]) === undefined),
    );
    if (branches.length > 1) {
      const expected = branches.map((keys) => keys.join(' with ')).join(', or ');
      report(path, {
        code: 'key-missing',
        message: `keys are missing: ${expected}`,
        expected,
        received: 'none of them',
      });
    } else reportIssue({ schema, yaml, report }, issue, []);
  }
  return { value: null, issues: capIssues(issues, yaml.fileName) };
}
