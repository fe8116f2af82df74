/** What a plan file or a rule file says it is: the id under which the register keeps its versions. */
import { valueAt } from './schema-walk';
import { readYaml } from './yaml-text';

/** Files of which versions are kept and with which a session is read. */
export type InputKind = 'plan' | 'rules';

/** The kinds of file of which versions are kept: those, and the form of a debrief. */
export type VersionedKind = InputKind | 'template';

/** `null` where the file does not say. */
export type FileIdentity = Readonly<{ id: string | null; title: string | null }>;

/**
 * Reads id and title of a plan file (`plan.id`, `plan.title`) or a rule file or template (`id`, `title`).
 *
 * @param text YAML or JSON; what cannot be read says nothing
 */
export function fileIdentity(kind: VersionedKind, text: string): FileIdentity {
  const data = readYaml(text, kind).value?.data;
  const head = kind === 'plan' ? ['plan'] : [];
  const word = (key: string): string | null => {
    const value = valueAt(data, [...head, key]);
    return typeof value === 'string' && value !== '' ? value : null;
  };
  return { id: word('id'), title: word('title') };
}
