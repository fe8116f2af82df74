/** A plan, rule set or template in text, read as a file is. */
import { createHash } from 'node:crypto';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { readTemplateFile } from '@/lib/core/debrief/template/read-template-file';
import type { DebriefTemplate } from '@/lib/core/debrief/template/template';
import { DomainError, hasErrors, type Parsed } from '@/lib/core/result';
import { fileIdentity, type VersionedKind } from '@/lib/core/session/file-identity';
import type { Plan } from '@/lib/core/session/plan';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import type { Rule } from '@/lib/core/session/rule';
import type { StoredInput } from './jobs/stored-input';

/** The file's name in a session folder, and in what is said of it. */
export const FILE_NAMES: Readonly<Record<VersionedKind, string>> = {
  plan: 'plan.yaml',
  rules: 'rules.yaml',
  template: 'template.yaml',
};

type Reader = (
  text: string,
  name: string,
) => Pick<Parsed<ReadVersion['value']>, 'value' | 'issues'>;

const READERS: Readonly<Record<VersionedKind, Reader>> = {
  plan: readPlanFile,
  rules: readRulesFile,
  template: (text, name) => readTemplateFile(text, name, BUILT_IN_BLOCKS),
};

export type ReadVersion = Readonly<{
  /** The file's own title; a rule file may have none. */
  title: string | null;
  fileId: string | null;
  sha256: string;
  value: Plan | readonly Rule[] | DebriefTemplate;
  /** What takes the place of a session's plan or rules. */
  inputs: Partial<Pick<StoredInput, 'plan' | 'planSha256' | 'rules' | 'rulesSha256'>>;
}>;

/** Refuses text that is no such file, with its first fault. */
export function readVersion(kind: VersionedKind, text: string): ReadVersion {
  const name = FILE_NAMES[kind];
  const sha256 = createHash('sha256').update(text, 'utf8').digest('hex');
  const { id: fileId, title } = fileIdentity(kind, text);
  const read = READERS[kind](text, name);
  if (read.value === null || hasErrors(read.issues)) {
    const [first] = read.issues.filter(({ severity }) => severity === 'error');
    const place = [first?.line === undefined ? '' : `line ${first.line}`, first?.keyPath ?? '']
      .filter((part) => part !== '')
      .join(', ');
    const message = `This is no ${name} yet: ${place === '' ? '' : `${place}: `}${first?.message ?? 'it cannot be read'}.`;
    throw new DomainError('not-readable', message);
  }
  return { title, fileId, sha256, value: read.value, inputs: inputsOf(read.value, sha256) };
}

function inputsOf(value: ReadVersion['value'], sha256: string): ReadVersion['inputs'] {
  if ('sections' in value) return {};
  return 'steps' in value
    ? { plan: value, planSha256: sha256 }
    : { rules: value, rulesSha256: sha256 };
}
