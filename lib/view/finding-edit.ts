/** Editing a finding: the words in the form, and what became of the last try. */
import {
  FINDING_KINDS,
  FINDING_SEVERITIES,
  FINDING_STATES,
  type Finding,
} from '../core/findings/finding';
import { stampText } from './format-date';

/** The words a form offers. */
export const FINDING_CHOICES = {
  kind: FINDING_KINDS,
  severity: FINDING_SEVERITIES,
  state: FINDING_STATES,
} as const;

type FindingField = 'title' | 'seen' | 'change' | 'owner' | 'due' | 'kind' | 'severity' | 'state';

/** The form's own text, unchecked, with the version it started from. */
export type FindingWords = Readonly<Record<FindingField | 'version', string>>;

/** What somebody else saved meanwhile, shown beside one's own text. */
export type NewerFinding = Readonly<{ words: FindingWords; savedAt: string; version: number }>;

export type EditState = Readonly<{
  /** Raised by each try, so that the form shows the words of the last one. */
  attempt: number;
  words: FindingWords;
  message: string | null;
  fields: Readonly<Record<string, string>>;
  newer: NewerFinding | null;
}>;

type Refused = Readonly<{
  ok: false;
  code: string;
  message: string;
  fields?: Readonly<Record<string, string>>;
  newer?: unknown;
}>;

export function wordsOfFinding(finding: Finding): FindingWords {
  const { title, seen, change, owner, due, kind, severity, state, version } = finding;
  return { title, seen, change, owner, due, kind, severity, state, version: String(version) };
}

export function wordsOfForm(form: FormData): FindingWords {
  const text = (name: string): string => {
    const value = form.get(name);
    // A form is sent with CR LF at each end of line; what is kept has a line feed, as anywhere else.
    return typeof value === 'string' ? value.replace(/\r\n?/g, '\n') : '';
  };
  return {
    title: text('title'),
    seen: text('seen'),
    change: text('change'),
    owner: text('owner'),
    due: text('due'),
    kind: text('kind'),
    severity: text('severity'),
    state: text('state'),
    version: text('version'),
  };
}

export function startEditing(finding: Finding): EditState {
  return { attempt: 0, words: wordsOfFinding(finding), message: null, fields: {}, newer: null };
}

/**
 * The form after a refusal: one's own words are kept whatever happened.
 *
 * Where somebody saved meanwhile, the form takes up the newer version's number, so that saving
 * again is a decision made with both texts in view.
 */
export function editStateAfter(
  before: EditState | null,
  words: FindingWords,
  refused: Refused,
): EditState {
  const newer = refused.code === 'changed-meanwhile' ? newerOf(refused.newer) : null;
  return {
    attempt: (before?.attempt ?? 0) + 1,
    words: newer === null ? words : { ...words, version: String(newer.version) },
    message: refused.message,
    fields: refused.fields ?? {},
    newer,
  };
}

function newerOf(value: unknown): NewerFinding | null {
  if (typeof value !== 'object' || value === null) return null;
  const text = (name: string): string => String(Reflect.get(value, name) ?? '');
  const version = Number(text('version'));
  if (!Number.isInteger(version)) return null;
  const words = {
    title: text('title'),
    seen: text('seen'),
    change: text('change'),
    owner: text('owner'),
    due: text('due'),
    kind: text('kind'),
    severity: text('severity'),
    state: text('state'),
    version: String(version),
  };
  return { words, savedAt: stampText(text('updatedAtIso')), version };
}
