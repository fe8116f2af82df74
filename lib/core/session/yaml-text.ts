/** Text of a YAML (or JSON) file to plain values, with the line of every key, and limits on both. */
import {
  isAlias,
  isMap,
  isPair,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  type YAMLError,
} from 'yaml';
import type { Issue, Parsed } from '../result';
import { findHiddenSign } from './hidden-signs';
import { findExcess, MAX_ALIASES, MAX_DEPTH } from './yaml-limits';

export type KeyPath = readonly (string | number)[];

/** A file read: its plain value, and the 1-based line on which a key path stands. */
export type YamlFile = Readonly<{
  fileName: string;
  data: unknown;
  /** Line of the deepest part of the path that exists in the file. */
  lineOf: (path: KeyPath) => number;
}>;

/** `plan.steps[2].hold_m`, for a person. */
export function formatKeyPath(path: KeyPath): string {
  return path.reduce<string>((text, part) => {
    if (typeof part === 'number') return `${text}[${part}]`;
    return text === '' ? part : `${text}.${part}`;
  }, '');
}

type Found = Readonly<{ issues: Issue[]; lines: Map<string, number> }>;
type Walk = Readonly<{ fileName: string; counter: LineCounter; found: Found }>;

function keyOf(path: KeyPath): string {
  return JSON.stringify(path);
}

/** Refuses signs that would show something else than what is there. */
function noteHidden(
  { found, fileName }: Walk,
  what: 'text' | 'key',
  text: string,
  path: KeyPath,
  line: number,
): void {
  const sign = findHiddenSign(text);
  if (sign === null) return;
  found.issues.push({
    code: 'sign-not-allowed',
    severity: 'error',
    file: fileName,
    keyPath: formatKeyPath(path),
    line,
    message: `the ${what} holds ${sign}, a sign of control or direction that nobody sees; write it without`,
    expected: 'text without control characters and signs of direction',
    received: sign,
  });
}

/** Notes the line of every key, and refuses a key given twice and nesting beyond the limit. */
function walkNode(walk: Walk, node: unknown, path: KeyPath, keyLine: number): void {
  const { counter, found, fileName } = walk;
  const line = isNode(node) && node.range ? counter.linePos(node.range[0]).line : keyLine;
  // A key's own line reads better than the line on which its nested value starts.
  found.lines.set(keyOf(path), keyLine > 0 ? keyLine : line);
  if (path.length > MAX_DEPTH) {
    if (found.issues.every((issue) => issue.code !== 'yaml-too-deep')) {
      found.issues.push({
        code: 'yaml-too-deep',
        severity: 'error',
        file: fileName,
        line,
        message: `nested deeper than ${MAX_DEPTH} levels`,
        expected: `at most ${MAX_DEPTH} levels`,
      });
    }
    return;
  }
  if (isScalar(node) && typeof node.value === 'string') {
    noteHidden(walk, 'text', node.value, path, line);
  }
  if (isSeq(node)) {
    node.items.forEach((item, index) => {
      walkNode(walk, item, [...path, index], 0);
    });
  } else if (isMap(node)) {
    const seen = new Set<string>();
    for (const pair of node.items) {
      if (!isPair(pair) || !isNode(pair.key)) continue;
      const key = isScalar(pair.key) ? String(pair.key.value) : String(pair.key);
      const pairLine = pair.key.range ? counter.linePos(pair.key.range[0]).line : line;
      const pairPath = [...path, key];
      if (seen.has(key)) {
        found.issues.push({
          code: 'key-twice',
          severity: 'error',
          file: fileName,
          keyPath: formatKeyPath(pairPath),
          line: pairLine,
          message: `the key "${key}" stands twice in the same mapping`,
          expected: 'each key once',
          received: key,
        });
      }
      seen.add(key);
      noteHidden(walk, 'key', key, pairPath, pairLine);
      walkNode(walk, pair.value, pairPath, pairLine);
    }
  }
}

function isNode(value: unknown): value is Node {
  return isScalar(value) || isMap(value) || isSeq(value) || isAlias(value);
}

/** A syntax error upsets the lines after it, so only so many lines are named. */
const MAX_SYNTAX_ISSUES = 5;

/** A bracket that stays open, in words; null for any other error. */
function openBracket({ message }: YAMLError): string | null {
  if (message.startsWith('Flow sequence'))
    return 'a list opened with [ is not closed with ] by here';
  if (message.startsWith('Flow map')) return 'a mapping opened with { is not closed with } by here';
  return null;
}

/** One issue a line, the first; where tabs or an open bracket are the trouble, they alone. */
function syntaxIssues(
  errors: readonly YAMLError[],
  fileName: string,
  counter: LineCounter,
): readonly Issue[] {
  const tabs = errors.filter((error) => error.code === 'TAB_AS_INDENT');
  const open = errors.filter((error) => openBracket(error) !== null);
  const cause = [tabs, open, errors].find((some) => some.length > 0) ?? errors;
  const byLine = new Map<number, Issue>();
  for (const error of cause) {
    const { line } = counter.linePos(error.pos[0]);
    if (byLine.has(line) || byLine.size === MAX_SYNTAX_ISSUES) continue;
    byLine.set(line, {
      code: 'yaml-not-readable',
      severity: 'error',
      file: fileName,
      line,
      message: `not readable as YAML: ${openBracket(error) ?? error.message.split(/[\n;]/)[0]}`,
    });
  }
  return [...byLine.values()];
}

function refusal(fileName: string, code: string, message: string): Parsed<YamlFile> {
  return { value: null, issues: [{ code, severity: 'error', file: fileName, message }] };
}

/**
 * Reads a YAML 1.2 file; JSON is read the same way.
 *
 * @param text the file's text, with or without byte order mark
 * @param fileName its name, for the issues
 * @returns the plain value and the lines of its keys, of a key given twice the last value and an
 *   error; null with one issue per fault where the text is no YAML, is empty, holds more than one
 *   document, more than 32 levels or 100 uses of an alias, or breaks another of the limits
 */
export function readYaml(text: string, fileName: string): Parsed<YamlFile> {
  const excess = findExcess(text);
  if (excess !== null) {
    return { value: null, issues: [{ severity: 'error', file: fileName, ...excess }] };
  }
  const counter = new LineCounter();
  try {
    const document = parseDocument(text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n'), {
      lineCounter: counter,
      prettyErrors: false,
      uniqueKeys: false,
      logLevel: 'error',
    });
    if (document.errors.some((error) => error.message.includes('call stack'))) {
      return refusal(fileName, 'yaml-too-deep', `nested deeper than ${MAX_DEPTH} levels`);
    }
    if (document.errors.length > 0) {
      return { value: null, issues: syntaxIssues(document.errors, fileName, counter) };
    }
    const found: Found = { issues: [], lines: new Map() };
    walkNode({ fileName, counter, found }, document.contents, [], 0);
    const { issues } = found;
    if (issues.some((issue) => issue.code === 'yaml-too-deep')) return { value: null, issues };
    const data: unknown = document.toJS({ maxAliasCount: MAX_ALIASES });
    if (data === null || data === undefined) {
      return refusal(fileName, 'file-empty', 'the file holds nothing');
    }
    return { value: { fileName, data, lineOf: (path) => lineOf(found.lines, path) }, issues };
  } catch (error) {
    // The library throws on aliases that multiply and on nesting beyond the stack.
    const reason = error instanceof Error ? error.message : 'unknown';
    if (reason.startsWith('Unresolved alias')) {
      return refusal(fileName, 'yaml-not-readable', `not readable as YAML: ${reason}`);
    }
    return reason.includes('alias')
      ? refusal(fileName, 'yaml-aliases', `its aliases multiply beyond ${MAX_ALIASES} uses`)
      : refusal(fileName, 'yaml-too-deep', `nested deeper than ${MAX_DEPTH} levels`);
  }
}

function lineOf(lines: ReadonlyMap<string, number>, path: KeyPath): number {
  for (let length = path.length; length >= 0; length -= 1) {
    const line = lines.get(keyOf(path.slice(0, length)));
    if (line !== undefined) return line;
  }
  return 1;
}
