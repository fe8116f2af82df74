/** The flight's final step against simulator runs: sentences first, then each quantity, then numbers. */
import { farAgain, runsNeeded } from '../core/math/order-statistics';
import { type CompareQuestion, START_QUESTION } from '../core/reconstruction/aligned-comparison';
import type {
  AlignedComparison,
  ComparedQuantity,
  Comparison,
  ComparisonScore,
} from '../core/reconstruction/comparison';
import { FEWEST_RUNS } from '../core/reconstruction/comparison-scores';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type BandDrawing, bandDrawing } from './band-drawing';
import { type CompareForm, compareForm } from './compare-question';
import { type EvidenceChoice, evidenceChoices, evidenceKeys } from './comparison-keys';
import { countView, type FigureView, figureView, timelineHref } from './figure-view';
import { alignedFinding, type FindingPlace } from './finding-place';
import { plural } from './format-number';
import { formatSessionTime } from './format-time';
import { type RunGroupView, runGroupView, vehicleSentence } from './run-group-view';
import { type ScoreStrip, scoreStrips } from './score-strip';
import { listParts, type Sentence } from './sentence';

export type PairRow = Readonly<{
  key: string;
  against: string;
  bias: FigureView;
  rms: FigureView;
  peak: FigureView;
  peakAt: string;
  inside: FigureView;
  lag: FigureView | null;
  theil: FigureView;
  /** The three shares of the mean square difference. */
  shares: readonly FigureView[];
}>;

export type QuantityCard = Readonly<{
  key: string;
  label: string;
  unit: string;
  drawing: BandDrawing | null;
  /** What the drawing's foot says of its places. */
  placesText: string;
  /** Name of the opened run; null for none. */
  opened: string | null;
  /** The drawing for a reader who cannot see it. */
  spoken: string;
  outside: Sentence;
  stretches: readonly Readonly<{ text: string; href: string | null }>[];
  pairs: readonly PairRow[];
  rows: readonly (readonly string[])[];
  /** Where a finding on this quantity goes, with its numbers; null where nothing was aligned. */
  finding: FindingPlace | null;
  /** What the columns of the flight and of the band rest on. */
  places: FigureView;
  bandPlaces: FigureView;
}>;

export type ScoreRow = Readonly<{
  key: string;
  label: string;
  flight: FigureView;
  median: FigureView;
  p95: FigureView;
  p95Supported: boolean;
  rank: FigureView;
  runs: number;
  strip: ScoreStrip | null;
  standsOut: boolean;
}>;

export type ComparisonView = Readonly<{
  form: CompareForm;
  evidence: readonly EvidenceChoice[];
  lead: readonly Sentence[];
  support: readonly string[];
  alignedOn: string;
  nearest: Sentence | null;
  /** What was aligned and what fell outside. */
  report: readonly string[];
  /** What is said about the runs, a line a group; and whether like is held against like. */
  groups: readonly RunGroupView[];
  /** What reconstructions say of the vehicle itself. */
  vehicle: Sentence | null;
  leftOut: readonly Readonly<{ name: string; reason: string }>[];
  cards: readonly QuantityCard[];
  scores: readonly ScoreRow[];
}>;

/** The question of the page's address, and its answer; both null where it is the one that is kept. */
export type AskedComparison = Readonly<{
  question: CompareQuestion | null;
  asked: AlignedComparison | null;
  /** The question as a query text; empty for the one that is kept. */
  query: string;
}>;

/** @returns null where the session was held against no runs */
export function comparisonView(
  { comparison: kept }: Pick<Reconstruction, 'comparison'>,
  sessionId: string,
  { question, asked, query }: AskedComparison,
): ComparisonView | null {
  if (kept === null) return null;
  const comparison: Comparison = asked === null ? kept : { ...kept, ...asked };
  const { nearest } = comparison;
  const strips = scoreStrips(comparison);
  const banded = new Set(comparison.order.map(({ name }) => name));
  const others = kept.groups.flatMap(({ names }) => names.filter((name) => !banded.has(name)));
  return {
    form: compareForm(question ?? START_QUESTION, comparison, others),
    evidence: evidenceChoices(comparison),
    lead: leadSentences(comparison, sessionId),
    support: supportSentences(comparison),
    alignedOn: comparison.alignedOn,
    report: reportLines(comparison),
    nearest:
      nearest === null
        ? null
        : [
            `${nearest.name}, `,
            figureView(nearest.distance, { sessionId, label: 'Distance of the nearest run' }),
            ' half-widths of the band away (root mean square over all places and quantities).',
          ],
    groups: comparison.groups.map(runGroupView),
    vehicle: vehicleSentence(comparison, sessionId),
    leftOut: comparison.leftOut,
    cards: comparison.quantities.map((quantity) =>
      quantityCard(quantity, comparison, { sessionId, query }),
    ),
    scores: comparison.scores.map((score) => scoreRow(score, strips.get(score.name), sessionId)),
  };
}

function leadSentences(comparison: Comparison, sessionId: string): readonly Sentence[] {
  const { runs, step, scores } = comparison;
  const start: Sentence = [
    `${nameFromId(step)} is held against ${plural(runs, 'simulator run')}. `,
  ];
  if (runs === 0) return [['No run could be compared.']];
  const first = comparison.completed
    ? start
    : [...start, 'The flight did not complete it, so nothing is said to stand out. '];
  if (runs < FEWEST_RUNS) {
    return [
      [
        ...first,
        `So few say little: at least ${FEWEST_RUNS} are asked before a number stands out.`,
      ],
    ];
  }
  const out = scores.filter(({ standsOut }) => standsOut);
  const beyond = scores.filter(
    ({ standsOut, runsBelow, runsAbove }) => !standsOut && (runsBelow === 0 || runsAbove === 0),
  );
  return [
    out.length === 0
      ? [...first, 'No number of it stands out.']
      : [
          ...first,
          `Far beyond all of them: `,
          ...listParts(out.map((score) => namedScore(score, sessionId))),
          '.',
        ],
    ...(beyond.length === 0
      ? []
      : [
          [
            `Beyond all runs, but not far: ${beyond.map(({ label }) => lowered(label)).join('; ')}.`,
          ],
        ]),
    [
      `Far is at least ${formatNumber(100 * farAgain(runs), 0)} % as far again from the median as the farthest run. For one number named beforehand, chance alone lies beyond all ${runs} runs at most once in ${runs + 1} on one side; ${scores.length} numbers were looked at.`,
    ],
  ];
}

/** A score with its own number of runs, where some lack it. */
function namedScore(score: ComparisonScore, sessionId: string): Sentence {
  const { flight, simMedian, label, runs } = score;
  const view = (figure: ComparisonScore['flight'], what: string) =>
    figureView(figure, { sessionId, label: `${label}, ${what}` });
  return [
    `${lowered(label)} `,
    view(flight, 'flight'),
    ' against ',
    view(simMedian, 'median of the runs'),
    ` in the median of ${runs}`,
  ];
}

const lowered = (label: string): string => `${label.charAt(0).toLowerCase()}${label.slice(1)}`;

/** Claims that a number of runs can carry, as content, confidence and side. */
function supportSentences({ runs }: Comparison): readonly string[] {
  if (runs === 0) return [];
  const oneSided = runsNeeded(0.95, 0.95, 'one');
  const twoSided = runsNeeded(0.95, 0.95, 'two');
  const threeSigma = runsNeeded(0.9973, 0.9, 'one');
  const enough = (needed: number): string =>
    runs >= needed
      ? `${runs} runs suffice (${needed})`
      : `${needed} runs are needed, there are ${runs}`;
  return [
    `That the largest run bounds 95 % of all runs, with 95 % confidence: ${enough(oneSided)}.`,
    `That smallest and largest enclose 95 %, with 95 % confidence: ${enough(twoSided)}.`,
    `That the largest bounds 99.73 %, with 90 % confidence: ${enough(threeSigma)}.`,
  ];
}

function percent(figure: ComparedQuantity['shareOutside'], label: string, sessionId: string) {
  return figureView(figure, { sessionId, label, unit: '%' });
}

function quantityCard(
  quantity: ComparedQuantity,
  comparison: Comparison,
  { sessionId, query }: Readonly<{ sessionId: string; query: string }>,
): QuantityCard {
  const { name, label, places } = quantity;
  const ofPlace = comparison.unit;
  const { unit, fromSi } = readerUnit(quantity.unit);
  const shown = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : value * fromSi));
  const columns = {
    places,
    unit: ofPlace,
    flight: shown(quantity.flight),
    p05: shown(quantity.p05),
    p50: shown(quantity.p50),
    p95: shown(quantity.p95),
    opened: shown(quantity.opened),
    outside: quantity.outside,
  };
  const metres = quantity.outside.map(([from, to]) => stretchText(from, to, ofPlace));
  return {
    key: name,
    label,
    unit,
    drawing: bandDrawing(columns),
    placesText: placesText(comparison.alignedOn, ofPlace),
    opened: comparison.opened,
    spoken: `${label} over ${comparison.alignedOn}: the flight and the band of ${comparison.runs} runs from the 5th to the 95th percentile. ${metres.length === 0 ? 'The flight stays inside.' : `Outside at ${metres.join(', ')}.`}`,
    outside: [
      'Outside the band at ',
      percent(quantity.shareOutside, `${label}, share outside`, sessionId),
      ' of the places; half of the runs at this share or less: ',
      percent(quantity.chanceMedian, `${label}, share outside of the median run`, sessionId),
      ', nineteen of twenty at ',
      percent(quantity.chanceP95, `${label}, share outside, 95th percentile`, sessionId),
      ' or less.',
    ],
    stretches: quantity.outside.map(([from, to]) => ({
      text: stretchText(from, to, ofPlace),
      href: stretchHref(from, to, { places, passS: comparison.flightPassS, sessionId }),
    })),
    finding: alignedFinding(comparison.report, {
      sessionId,
      channels: quantity.flightPlaces.evidence.channels,
      keys: evidenceKeys(name),
      query,
    }),
    pairs: quantity.pairs.map((pair, index) =>
      pairRow(pair, `${name}-${index}`, { label, ofPlace, sessionId }),
    ),
    places: countView(quantity.flightPlaces, {
      sessionId,
      label: `${label}, places of the flight`,
    }),
    bandPlaces: countView(quantity.bandPlaces, {
      sessionId,
      label: `${label}, places of the band`,
    }),
    rows: places.map((at, place) => [
      formatNumber(at, Number.isInteger(at) ? 0 : 2),
      ...[columns.flight, columns.p05, columns.p50, columns.p95].map((values) => {
        const value = values[place];
        return typeof value === 'number' ? formatNumber(value, 4) : 'none';
      }),
      String(quantity.runsThere[place] ?? 0),
    ]),
  };
}

function placesText(alignedOn: string, unit: 'm' | 's'): string {
  if (unit === 's') return `s, ${alignedOn}`;
  return alignedOn.startsWith('range') ? 'm, range' : 'm from the port, along the axis';
}

/** What was aligned and what fell outside. */
function reportLines({ report, runs }: Comparison): readonly string[] {
  const { places, whole, partly, none, fromS, toS, reason } = report;
  // An older reconstruction says none.
  if (typeof reason === 'string') return [`Nothing could be aligned: ${reason}.`];
  if (fromS === null || toS === null) return [];
  const stretch = `of the flight from ${formatSessionTime(fromS)} to ${formatSessionTime(toS)}`;
  return [
    `${plural(places, 'place')} ${stretch}; ${whole} of ${runs} runs are there at all of them, ${partly} at some.`,
    ...(none.length === 0
      ? []
      : [
          `At none: ${none.slice(0, 20).join(', ')}${none.length > 20 ? ` and ${none.length - 20} more` : ''}.`,
        ]),
  ];
}

function stretchText(from: number, to: number, unit: string): string {
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
}

type Passes = Readonly<{
  places: readonly number[];
  passS: readonly (number | null)[];
  sessionId: string;
}>;

/** The stretch on the timeline; null where the flight's passage is not known. */
function stretchHref(fromM: number, toM: number, { places, passS, sessionId }: Passes) {
  const timeOf = (place: number): number | null => passS[places.indexOf(place)] ?? null;
  const [a, b] = [timeOf(fromM), timeOf(toM)];
  return a === null || b === null ? null : timelineHref(sessionId, Math.min(a, b), Math.max(a, b));
}

function pairRow(
  pair: ComparedQuantity['pairs'][number],
  key: string,
  { label, ofPlace, sessionId }: Readonly<{ label: string; ofPlace: string; sessionId: string }>,
): PairRow {
  const view = (
    figure: ComparedQuantity['shareOutside'],
    what: string,
    form: 'number' | 'signed' = 'number',
  ) => figureView(figure, { sessionId, label: `${label}, ${what} against ${pair.against}`, form });
  const share = (figure: ComparedQuantity['shareOutside'], what: string) =>
    percent(figure, `${label}, share from ${what} against ${pair.against}`, sessionId);
  return {
    key,
    against: pair.against,
    bias: view(pair.bias, 'bias', 'signed'),
    rms: figureView(pair.rms, { sessionId, label: `${label}, rms against ${pair.against}` }),
    peak: view(pair.peak, 'peak difference', 'signed'),
    peakAt:
      pair.peakPlace === null
        ? ''
        : `at ${formatNumber(pair.peakPlace, Number.isInteger(pair.peakPlace) ? 0 : 1)} ${ofPlace}`,
    inside: percent(
      pair.inside,
      `${label}, inside the tolerance against ${pair.against}`,
      sessionId,
    ),
    lag: pair.lag === null ? null : view(pair.lag, 'lag', 'signed'),
    theil: view(pair.theil, 'Theil’s coefficient'),
    shares: [
      share(pair.theilBias, 'unequal means'),
      share(pair.theilVariance, 'unequal deviations'),
      share(pair.theilCovariance, 'shape'),
    ],
  };
}

function scoreRow(
  score: ComparisonScore,
  strip: ScoreStrip | undefined,
  sessionId: string,
): ScoreRow {
  const view = (figure: ComparisonScore['flight'], what: string) =>
    figureView(figure, { sessionId, label: `${score.label}, ${what}` });
  return {
    key: score.name,
    label: score.label,
    flight: view(score.flight, 'flight'),
    median: view(score.simMedian, 'median of the runs'),
    p95: view(score.simP95, '95th percentile of the runs'),
    p95Supported: score.p95Supported,
    rank: countView(score.rank, { sessionId, label: `${score.label}, runs below the flight` }),
    runs: score.runs,
    strip: strip ?? null,
    standsOut: score.standsOut,
  };
}
