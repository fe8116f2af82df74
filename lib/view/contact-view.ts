/** Conditions at contact against the docking table. */
import { halfWidth95 } from '../core/figure';
import { leadsAway } from '../core/phases/match-steps';
import type { Contact } from '../core/reconstruction/contact-report';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { contactLimitsOf, contactStanding, limitUsed } from '../core/rules/contact-limits';
import type { ContactLimit } from '../core/session/contact-limit-table';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type FigureView, figureView, figureViewOrNull } from './figure-view';
import { basisText, type Tone } from './labels';
import { pointsView } from './points-view';

/** `too close to call`: a limit lies inside the 95 % interval. */
export type ContactWord =
  | 'inside'
  | 'below'
  | 'above'
  | 'too close to call'
  | 'not measured'
  | 'not evaluated';

/** Fractions of the gauge's length; `low` to `high` is the stretch the table allows. */
export type Gauge = Readonly<{
  low: number;
  high: number;
  at: number;
  from: number;
  to: number;
  isBeyondScale: boolean;
}>;

export type ContactRow = Readonly<{
  condition: string;
  label: string;
  measured: FigureView | null;
  /** From the last sample under it to contact. */
  age: FigureView | null;
  limitText: string;
  standing: ContactWord;
  tone: Tone;
  gauge: Gauge | null;
  /** Part of the upper limit that was used; null where not measured. */
  used: FigureView | null;
  /** The same as a bare number, in percent. */
  usedPercent: number | null;
}>;

export type ContactView = Readonly<{
  time: FigureView;
  /** What the instant is: first touch, its report, or a declaration. */
  called: string;
  basis: string;
  /** What was computed where contact was declared; null elsewhere, or where none was found. */
  computed: FigureView | null;
  /** False where only a log tells of contact. */
  isMeasured: boolean;
  /** True where the plan gives the limits. */
  isOwnTable: boolean;
  tableTitle: string;
  tableSource: string;
  rows: readonly ContactRow[];
  /** What the measured values are formed from, in sentences; empty where there is none. */
  formed: string;
  /** Why no condition is evaluated; null where they are. */
  notEvaluated: string | null;
}>;

/** The upper limit stands at four fifths of the gauge. */
const LIMIT_AT = 0.8;

const CALLED: Readonly<Record<Contact['basis'], string>> = {
  crossing: 'first touch',
  extrapolated: 'first touch',
  event: 'contact, by its report',
  declared: 'contact, as declared',
};

/** @returns null where the session has no contact */
export function contactView(reconstruction: Reconstruction, sessionId: string): ContactView | null {
  const contact = reconstruction.contact;
  if (contact === null) return null;
  const table = contactLimitsOf(reconstruction.plan);
  return {
    time: figureView(contact.timeS, { sessionId, label: 'Contact', form: 'time' }),
    called: CALLED[contact.basis],
    basis:
      contact.set === undefined
        ? basisText(contact.basis)
        : `declared by ${contact.set.by ?? 'hand'}, from: ${contact.set.basis}`,
    computed: figureViewOrNull(contact.set?.computedS ?? null, {
      sessionId,
      label: 'Contact as computed',
      form: 'time',
    }),
    isMeasured: contact.basis !== 'event',
    isOwnTable: reconstruction.plan?.contactLimits !== undefined,
    tableTitle: table.title,
    tableSource: table.source,
    rows: table.limits.map((limit) => contactRow(limit, contact, sessionId)),
    formed: formedText(contact, table.limits),
    notEvaluated: contact.notEvaluated ?? null,
  };
}

/** A mean is over one second; what position alone tells rests on more of it. */
const LONGEST_MEAN_S = 1.5;

function formedText({ conditions }: Contact, limits: readonly ContactLimit[]): string {
  const stretches = limits.flatMap(({ condition, label }) => {
    const figure = conditions[condition];
    if (figure === undefined || figure.value === null) return [];
    const { fromS, toS } = figure.evidence;
    return [{ label: label.toLowerCase(), lengthS: (toS ?? 0) - (fromS ?? 0) }];
  });
  const estimated = stretches.filter(({ lengthS }) => lengthS > LONGEST_MEAN_S);
  const longestS = Math.max(...estimated.map(({ lengthS }) => lengthS));
  const names = estimated.map(({ label }) => label).join(', ');
  const isMean = stretches.length > estimated.length;
  const mean = `${estimated.length === 0 ? 'Means' : 'The others are means'} over the last second of data before contact, of samples or of the motion estimated from them.`;
  return [
    ...(estimated.length === 0
      ? []
      : [
          `Estimated from up to ${formatNumber(longestS, 0)} s of positions, since no velocity was measured: ${names}.`,
        ]),
    ...(isMean ? [mean] : []),
  ].join(' ');
}

function contactRow(limit: ContactLimit, contact: Contact, sessionId: string): ContactRow {
  const figure = contact.conditions[limit.condition];
  const label = limit.label;
  const common = {
    condition: limit.condition,
    label,
    limitText: limitText(limit),
    age: figureViewOrNull(contact.ages?.[limit.condition] ?? null, {
      sessionId,
      label: `${label}, age of its data at contact`,
    }),
  };
  if (figure === undefined || figure.value === null) {
    return {
      ...common,
      measured: figure === undefined ? null : figureView(figure, { sessionId, label }),
      standing: contact.notEvaluated === undefined ? 'not measured' : 'not evaluated',
      tone: 'unsure',
      gauge: null,
      used: null,
      usedPercent: null,
    };
  }
  const half = halfWidth95(figure) ?? 0;
  const standing = contactWord(limit, figure.value, half);
  const used = limitUsed(limit, figure);
  return {
    ...common,
    measured: figureView(figure, { sessionId, label: `${label} at contact` }),
    standing,
    tone: standing === 'inside' ? 'inside' : standing === 'too close to call' ? 'unsure' : 'beyond',
    gauge: limit.atMost === 0 ? null : gauge(limit, figure.value, half),
    used: figureView(used, { sessionId, label: `${label}, part of the limit`, unit: '%' }),
    usedPercent: used.value === null ? null : used.value * 100,
  };
}

/** A standing that the interval's ends do not share is not called. */
function contactWord(limit: ContactLimit, value: number, half: number): ContactWord {
  const size = limit.atLeast === null ? Math.abs(value) : value;
  const low = contactStanding(
    limit,
    limit.atLeast === null ? Math.max(0, size - half) : size - half,
  );
  const high = contactStanding(limit, size + half);
  return low === high ? low : 'too close to call';
}

function gauge(limit: ContactLimit, value: number, half: number): Gauge {
  const size = limit.atLeast === null ? Math.abs(value) : value;
  const place = (number: number) => Math.min(1, Math.max(0, (number / limit.atMost) * LIMIT_AT));
  return {
    low: place(limit.atLeast ?? 0),
    high: LIMIT_AT,
    at: place(size),
    from: place(size - half),
    to: place(size + half),
    isBeyondScale: (size / limit.atMost) * LIMIT_AT > 1,
  };
}

function limitText(limit: ContactLimit): string {
  const shown = readerUnit(limit.unit);
  const write = (value: number) => {
    const inUnit = value * shown.fromSi;
    // As the published table prints them.
    return formatNumber(inUnit, inUnit < 1 ? 2 : 1);
  };
  const most = `${write(limit.atMost)}\u00a0${shown.unit}`;
  return limit.atLeast === null ? `at most ${most}` : `${write(limit.atLeast)} to ${most}`;
}

/** What stands on the screen of contact where there is none. */
export function noContactText(reconstruction: Reconstruction): string {
  const points = pointsView(reconstruction);
  if (points !== null)
    return `Contact is not known: no log names it, and the motion does not show it, for the figures are of ${points.label}, and ${points.why}.`;
  return leadsAway(reconstruction.plan)
    ? 'The plan leads away from the port, so no contact is looked for.'
    : 'No contact: the data do not reach the plane of first touch, and no log names it.';
}
