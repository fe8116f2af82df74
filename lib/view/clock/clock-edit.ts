/** What is typed into the clock's forms, read into a correction, and what became of the last try. */
import { METRES_PER_FOOT } from '../../core/units/unit';
import { parseSessionTime } from '../timeline-readout';

/** A form's own text by field, unchecked. */
export type Typed = Readonly<Record<string, string>>;

export type ClockFormState = Readonly<{
  /** Raised by each try, so that a refused form shows the words of the last one. */
  attempt: number;
  typed: Typed;
  message: string | null;
  fields: Readonly<Record<string, string>>;
  /** What was done, in words; null where nothing was. */
  done: string | null;
}>;

export const CLOCK_FORM_START: ClockFormState = {
  attempt: 0,
  typed: {},
  message: null,
  fields: {},
  done: null,
};

/** What a spoken value may be corrected to: its unit says whether it is a range or a rate. */
export const SPOKEN_UNITS = {
  m: { quantity: 'range', toSi: 1 },
  ft: { quantity: 'range', toSi: METRES_PER_FOOT },
  'm/s': { quantity: 'rate', toSi: 1 },
  'ft/s': { quantity: 'rate', toSi: METRES_PER_FOOT },
} as const;

/** The input of a command, still unchecked by it, or what of the form cannot be read. */
export type ReadForm =
  | Readonly<{ word: Readonly<Record<string, unknown>>; fields: null }>
  | Readonly<{ word: null; fields: Readonly<Record<string, string>> }>;

const TIME_EXPECTED = 'Expected hh:mm:ss, hh:mm:ss.s or seconds.';

export function typedOf(form: FormData): Typed {
  return Object.fromEntries(
    [...form].flatMap(([name, value]) => (typeof value === 'string' ? [[name, value]] : [])),
  );
}

/** A judgement of one spoken value. */
export function readJudgement(typed: Typed, place: Readonly<Record<string, unknown>>): ReadForm {
  const { kind, reason } = typed;
  if (kind !== 'correct') return { word: { kind, ...place, reason }, fields: null };
  const unit = Object.entries(SPOKEN_UNITS).find(([name]) => name === typed.unit)?.[1];
  const value = readNumber(typed.said);
  if (value === null || unit === undefined) {
    const said = `${found(typed.said)} Expected a number, such as 40 or 0.3.`;
    return { word: null, fields: { said, ...withoutReason(typed) } };
  }
  const { quantity, toSi } = unit;
  return { word: { kind, ...place, quantity, saidSi: value * toSi, reason }, fields: null };
}

/** A tie point set by hand. */
export function readTiePoint(typed: Typed, source: string): ReadForm {
  const sourceS = parseSessionTime(typed.sourceS ?? '');
  const sessionS = parseSessionTime(typed.sessionS ?? '');
  const sdS = readNumber(typed.sdS);
  const fields = {
    ...(sourceS === null ? { sourceS: `${found(typed.sourceS)} ${TIME_EXPECTED}` } : {}),
    ...(sessionS === null ? { sessionS: `${found(typed.sessionS)} ${TIME_EXPECTED}` } : {}),
    ...(sdS === null ? { sdS: `${found(typed.sdS)} Expected seconds, such as 0.2.` } : {}),
  };
  if (Object.keys(fields).length > 0) {
    return { word: null, fields: { ...fields, ...withoutReason(typed) } };
  }
  const { reason } = typed;
  return { word: { kind: 'tie-point', source, sourceS, sessionS, sdS, reason }, fields: null };
}

/** A stretch of a channel, kept or left out. */
export function readStretch(typed: Typed, source: string): ReadForm {
  const fromS = parseSessionTime(typed.fromS ?? '');
  const toS = parseSessionTime(typed.toS ?? '');
  const fields = {
    ...(fromS === null ? { fromS: `${found(typed.fromS)} ${TIME_EXPECTED}` } : {}),
    ...(toS === null ? { toS: `${found(typed.toS)} ${TIME_EXPECTED}` } : {}),
  };
  if (Object.keys(fields).length > 0) {
    return { word: null, fields: { ...fields, ...withoutReason(typed) } };
  }
  const { channel, use, reason } = typed;
  return { word: { source, channel, fromS, toS, use, reason }, fields: null };
}

/** Said together with what cannot be read, so that nobody is sent back twice. */
function withoutReason({ reason = '' }: Typed): Readonly<Record<string, string>> {
  return reason.trim() === '' ? { reason: 'A reason is needed.' } : {};
}

/** A decimal number as typed, with a point or a comma; null for anything else. */
export function readNumber(text: string | undefined): number | null {
  const clean = (text ?? '').trim().replace('\u2212', '-').replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : null;
}

/** What was found in a field, for a sentence that goes on with what is expected. */
export function found(text: string | undefined): string {
  const clean = (text ?? '').trim();
  return clean === '' ? 'Nothing is given.' : `“${clean.slice(0, 40)}” cannot be read.`;
}

type Refused = Readonly<{ message: string; fields?: Readonly<Record<string, string>> | undefined }>;

/** Fields of a command by the names they have in the form. */
const FORM_NAMES: Readonly<Record<string, string>> = { saidSi: 'said' };

/** The form after a refusal: what was typed stays, each problem stands beside its field. */
export function refusedState(
  before: ClockFormState | null,
  typed: Typed,
  { message, fields = {} }: Refused,
): ClockFormState {
  const named = Object.entries(fields).map(([path, problem]) => {
    const last = path.split('.').at(-1) ?? path;
    return [FORM_NAMES[last] ?? last, problem] as const;
  });
  const said = named.length > 0 ? 'Nothing was kept: see beside the fields.' : message;
  const attempt = (before?.attempt ?? 0) + 1;
  return { attempt, typed, message: said, fields: Object.fromEntries(named), done: null };
}

export function doneState(before: ClockFormState, done: string): ClockFormState {
  return { ...CLOCK_FORM_START, attempt: before.attempt + 1, done };
}
