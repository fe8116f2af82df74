/**
 * Where a file's faults stand. A check made afterwards keeps quiet about those places: what is
 * already reported is not reported a second time in other words.
 */
import type { Issue } from '../result';
import type { KeyPath } from './yaml-text';

export type FileFaults = Readonly<{
  /** Marks a key path as reported. */
  mark: (path: KeyPath) => void;
  /** Marks a key that is not known; its siblings may be missing because of it. */
  markUnknown: (path: KeyPath) => void;
  /** True at a marked path, under one, and above one. */
  touches: (path: KeyPath) => boolean;
  /** True where the mapping that should hold this key holds an unknown one. */
  hasUnknownBeside: (path: KeyPath) => boolean;
}>;

function keyOf(path: KeyPath): string {
  return JSON.stringify(path);
}

export function noteFaults(): FileFaults {
  const marked = new Set<string>();
  const above = new Set<string>();
  const withUnknown = new Set<string>();
  const mark = (path: KeyPath): void => {
    marked.add(keyOf(path));
    for (let length = 0; length < path.length; length += 1) above.add(keyOf(path.slice(0, length)));
  };
  return {
    mark,
    markUnknown: (path) => {
      mark(path);
      withUnknown.add(keyOf(path.slice(0, -1)));
    },
    touches: (path) => {
      if (above.has(keyOf(path))) return true;
      for (let length = path.length; length >= 0; length -= 1) {
        if (marked.has(keyOf(path.slice(0, length)))) return true;
      }
      return false;
    },
    hasUnknownBeside: (path) => withUnknown.has(keyOf(path.slice(0, -1))),
  };
}

/**
 * A file read: `value` only where nothing is wrong; `understood` also beside faults, for finding
 * the rest of them. It holds stand-ins where the file is wrong and never becomes a result.
 */
export type PartlyRead<T, U = T> = Readonly<{
  value: T | null;
  understood: U | null;
  issues: readonly Issue[];
}>;
