/** Plan and rules in use, as files of a session's folder, where they are not the folder's own. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { editYaml } from '@/lib/core/session/edit-yaml';
import type { InputKind } from '@/lib/core/session/file-identity';
import { valueAt } from '@/lib/core/session/schema-walk';
import { readYaml } from '@/lib/core/session/yaml-text';
import { db } from '../db';
import { originalFolder, readStoredInput, type SessionEdition } from '../jobs/session-files';
import { FILE_NAMES } from '../read-version';
import { pathExists } from '../samples/durable-files';
import { SESSION_FILES } from '../session-folder';
import type { OtherTexts } from '../uploads/zip-folder';

/** The folder's session file by name, with its text. */
async function sessionFile(edition: SessionEdition): Promise<readonly [string, string] | null> {
  for (const name of SESSION_FILES) {
    const file = path.join(originalFolder(edition), name);
    if (await pathExists(file)) return [name, await readFile(file, 'utf8')];
  }
  return null;
}

/**
 * A version that a person put in use takes the place of the folder's own file in an export; where the
 * folder has none, its session file then names it.
 */
export async function loadUsedTexts(edition: SessionEdition): Promise<OtherTexts> {
  const stored = await readStoredInput(edition);
  const version = { select: { sha256: true, text: true } } as const;
  const used = await db().session.findUnique({
    where: { id: edition.id },
    select: { planVersion: version, ruleSetVersion: version },
  });
  const found = await sessionFile(edition);
  const texts = new Map<string, string>();
  if (found === null || used === null) return texts;
  const [name] = found;
  let [, text] = found;
  const put = (kind: InputKind, own: string | null, file: typeof used.planVersion): void => {
    if (file === null || file.sha256 === own) return;
    const named = valueAt(readYaml(text, name).value?.data, [kind]);
    if (typeof named === 'string') {
      texts.set(named, file.text);
      return;
    }
    texts.set(FILE_NAMES[kind], file.text);
    text = editYaml(text, { op: 'set', path: [kind], value: FILE_NAMES[kind] }) ?? text;
    texts.set(name, text);
  };
  put('plan', stored.planSha256, used.planVersion);
  put('rules', stored.rulesSha256, used.ruleSetVersion);
  return texts;
}
