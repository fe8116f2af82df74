/** The flight's final step against simulator runs: sentences first, then each quantity, then numbers. */
import { type CompareQuestion, START_QUESTION } from '../core/reconstruction/aligned-comparison';
import type {
  AlignedComparison,
  Comparison,
  ComparisonScore,
} from '../core/reconstruction/comparison';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { type CompareForm, compareForm } from './compare-question';
import { type EvidenceChoice, evidenceChoices } from './comparison-keys';
import { leadSentences, reportLines, supportSentences } from './comparison-sentences';
import { countView, type FigureView, figureView } from './figure-view';
import { type QuantityCard, quantityCard } from './quantity-card';
import { type RunGroupView, runGroupView, vehicleSentence } from './run-group-view';
import { type ScoreStrip, scoreStrips } from './score-strip';
import type { Sentence } from './sentence';

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
