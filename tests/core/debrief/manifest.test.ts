import { expect, test } from 'vitest';
import { manifestText, readManifest } from '@/lib/core/debrief/package/manifest';

const sha256 = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';

/**
 * Source: GNU coreutils 9.1, printed by its sha256sum for empty files of these names (run by hand); the
 * rule is in its manual, "md5sum invocation".
 */
test('names with line ends and backslashes are written and read as sha256sum does', () => {
  const names = [
    'a b.csv',
    'back\\slash',
    'both\\\n',
    'cr\rend',
    'feed\nline',
    'n\\n',
    'Ä\u2028.csv',
  ];
  const lines = [
    `${sha256}  a b.csv`,
    `\\${sha256}  back\\\\slash`,
    `\\${sha256}  both\\\\\\n`,
    `\\${sha256}  cr\\rend`,
    `\\${sha256}  feed\\nline`,
    `\\${sha256}  n\\\\n`,
    `${sha256}  Ä\u2028.csv`,
  ];
  const text = manifestText([...names].reverse().map((name) => ({ name, sha256 })));
  expect(text.trimEnd().split('\n')).toEqual(lines);
  expect(readManifest(text)).toEqual(names.map((name) => ({ name, sha256 })));
  expect(readManifest(`\\${sha256}  a\\b`)).toBeNull();
  expect(readManifest('no manifest')).toBeNull();
});
