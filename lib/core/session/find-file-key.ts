/** Where a session file names another file. */
import { formatKeyPath, type KeyPath, readYaml } from './yaml-text';

export type FileKey = Readonly<{ keyPath: string; line: number; isSource: boolean }>;

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Every file name in the data of a session file, with its key. */
function* namedFiles(data: unknown): Generator<readonly [name: unknown, path: KeyPath]> {
  if (!isRecord(data)) return;
  const sources: readonly unknown[] = Array.isArray(data.sources) ? data.sources : [];
  for (const [index, source] of sources.entries()) {
    if (!isRecord(source)) continue;
    yield [source.file, ['sources', index, 'file']];
    const files: readonly unknown[] = Array.isArray(source.files) ? source.files : [];
    for (const [at, name] of files.entries()) yield [name, ['sources', index, 'files', at]];
  }
  yield [data.plan, ['plan']];
  yield [data.rules, ['rules']];
  if (isRecord(data.simulations)) yield [data.simulations.files, ['simulations', 'files']];
}

/**
 * The key under which a session file names a file.
 *
 * @param text the session file, YAML or JSON
 * @param name as written there
 * @returns key path and 1-based line of the first place; null where nothing names it
 */
export function findFileKey(text: string, name: string): FileKey | null {
  const yaml = readYaml(text, 'session.yaml').value;
  if (yaml === null) return null;
  for (const [named, path] of namedFiles(yaml.data)) {
    if (named !== name) continue;
    const [first] = path;
    return { keyPath: formatKeyPath(path), line: yaml.lineOf(path), isSource: first === 'sources' };
  }
  return null;
}
