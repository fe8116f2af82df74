/** How runs are compared, as it stands in the page's address, and the form that asks it. */
import type { Alignment } from '../core/compare/alignment';
import { TOLERANCE_KINDS, type ToleranceKind } from '../core/compare/tolerance';
import {
  type CompareQuestion,
  START_QUESTION,
  START_TOLERANCES,
} from '../core/reconstruction/aligned-comparison';
import type { AlignedComparison } from '../core/reconstruction/comparison';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';

export type AskedAddress = Readonly<Record<string, string | readonly string[] | undefined>>;

/** Fields of the address for sizes of tolerances, by SI unit. */
const SIZE_FIELDS: Readonly<Record<string, string>> = {
  m: 'tol_m',
  'm/s': 'tol_mps',
  rad: 'tol_deg',
  'rad/s': 'tol_dps',
};

function textOf(address: AskedAddress, field: string): string | null {
  const value = address[field];
  return typeof value === 'string' && value !== '' ? value : null;
}

function sizeOf(address: AskedAddress, field: string, otherwise: number): number {
  const value = Number(textOf(address, field) ?? Number.NaN);
  return Number.isFinite(value) && value >= 0 ? value : otherwise;
}

function isEvent(event: string): event is Extract<Alignment, { kind: 'event' }>['event'] {
  return event === 'contact' || event.startsWith('start:') || event.startsWith('end:');
}

function alignmentOf(along: string): Alignment {
  const [kind = '', ...rest] = along.split(':');
  const step = rest.length === 0 ? {} : { step: rest.join(':') };
  if (kind === 'range' || kind === 'axial') return { kind, ...step };
  if (along.startsWith('time:')) return { kind: 'time', step: along.slice('time:'.length) };
  return isEvent(along) ? { kind: 'event', event: along } : { kind: 'axial' };
}

function alongOf(alignment: Alignment): string {
  if (alignment.kind === 'time') return `time:${alignment.step}`;
  if (alignment.kind === 'event') return alignment.event;
  return alignment.step === undefined ? alignment.kind : `${alignment.kind}:${alignment.step}`;
}

function kindOf(text: string | null): ToleranceKind {
  return TOLERANCE_KINDS.find((kind) => kind === text) ?? START_TOLERANCES.kind;
}

/** Reads the question; what is not understood is as at the start. */
function compareQuestion(address: AskedAddress): CompareQuestion {
  const absolute = Object.entries(SIZE_FIELDS).map(([unit, field]) => {
    const { fromSi } = readerUnit(unit);
    const start = START_TOLERANCES.absolute[unit] ?? 0;
    return [unit, sizeOf(address, field, start * fromSi) / fromSi] as const;
  });
  return {
    alignment: alignmentOf(textOf(address, 'along') ?? 'axial'),
    run: textOf(address, 'run'),
    tolerances: {
      kind: kindOf(textOf(address, 'tol')),
      percent: sizeOf(address, 'tol_pct', START_TOLERANCES.percent),
      absolute: Object.fromEntries(absolute),
    },
  };
}

/** The question of a query text; null where it asks for what is kept. */
export function questionOfQuery(query: string): CompareQuestion | null {
  const address = Object.fromEntries(new URLSearchParams(query));
  return isStartQuestion(address) ? null : compareQuestion(address);
}

/** The address's question as a query text. */
export function queryOfAddress(address: AskedAddress): string {
  const fields = ['along', 'run', 'tol', 'tol_pct', ...Object.values(SIZE_FIELDS)];
  const asked = fields.flatMap((field) => {
    const value = textOf(address, field);
    return value === null ? [] : [[field, value]];
  });
  return new URLSearchParams(asked).toString();
}

/** Whether the address asks for what is kept with the reconstruction anyway. */
function isStartQuestion(address: AskedAddress): boolean {
  const fields = ['along', 'run', 'tol', 'tol_pct', ...Object.values(SIZE_FIELDS)];
  return fields.every((field) => textOf(address, field) === null);
}

type Choice = Readonly<{ value: string; text: string }>;

export type CompareForm = Readonly<{
  along: string;
  alongChoices: readonly Choice[];
  run: string;
  runChoices: readonly Choice[];
  tolerance: ToleranceKind;
  toleranceChoices: readonly Choice[];
  sizes: readonly Readonly<{ field: string; label: string; value: string }>[];
}>;

const TOLERANCE_TEXTS: Readonly<Record<ToleranceKind, string>> = {
  absolute: 'the size',
  percent: 'the percentage',
  either: 'size or percentage, either',
  both: 'size and percentage, both',
  less: 'whichever of both is less',
};

function alongChoices({ choices }: AlignedComparison): readonly Choice[] {
  const eventText = (event: string): string => {
    if (event === 'contact') return 'time from contact';
    const [edge, id = ''] = [event.split(':')[0], event.slice(event.indexOf(':') + 1)];
    return `time from the ${edge} of “${nameFromId(id)}”`;
  };
  return [
    { value: 'axial', text: 'axial distance, last pass' },
    { value: 'range', text: 'range, last pass' },
    ...(choices.closing ?? []).flatMap((id) => {
      const within = `within “${nameFromId(id)}”, last pass`;
      return [
        { value: `axial:${id}`, text: `axial distance ${within}` },
        { value: `range:${id}`, text: `range ${within}` },
      ];
    }),
    ...choices.steps.map((id) => ({
      value: `time:${id}`,
      text: `time within “${nameFromId(id)}”`,
    })),
    ...choices.events.map((event) => ({ value: event, text: eventText(event) })),
  ];
}

/** Runs by likeness, the run most like the flight first; then those that make no band. */
function runChoices({ order }: AlignedComparison, others: readonly string[]): readonly Choice[] {
  return [
    { value: '', text: 'the run most like the flight' },
    ...order.map(({ name, distance }) => ({
      value: name,
      text: distance === null ? name : `${name} (${formatNumber(distance, 2)})`,
    })),
    ...others.map((name) => ({ value: name, text: `${name} (reconstruction)` })),
  ];
}

/** @param others names of runs that make no band */
export function compareForm(
  question: CompareQuestion,
  aligned: AlignedComparison,
  others: readonly string[],
): CompareForm {
  const { tolerances } = question;
  const along = alongOf(question.alignment);
  const offered = alongChoices(aligned);
  const sizes = Object.entries(SIZE_FIELDS).map(([unit, field]) => {
    const shown = readerUnit(unit);
    const size = (tolerances.absolute[unit] ?? 0) * shown.fromSi;
    return { field, label: shown.unit, value: String(Number(size.toPrecision(6))) };
  });
  return {
    along: offered.some(({ value }) => value === along) ? along : 'axial',
    alongChoices: offered,
    run: question.run ?? START_QUESTION.run ?? '',
    runChoices: runChoices(aligned, others),
    tolerance: tolerances.kind,
    toleranceChoices: TOLERANCE_KINDS.map((value) => ({ value, text: TOLERANCE_TEXTS[value] })),
    sizes: [{ field: 'tol_pct', label: '%', value: String(tolerances.percent) }, ...sizes],
  };
}
