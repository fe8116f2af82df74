import type { ComparisonView } from '@/lib/view/comparison-view';
import { ComparisonSummary } from './comparison-summary';
import { QuantityPanel } from './quantity-panel';
import { QuestionForm } from './question-form';
import { ScoreTable } from './score-table';

/** The answer, the question that can be asked, each quantity, and the numbers of the whole step. */
export function ComparisonBody({ view }: Readonly<{ view: ComparisonView }>) {
  return (
    <>
      <ComparisonSummary view={view} />
      <QuestionForm form={view.form} />
      <div className="columns">
        {view.cards.map((card) => (
          <QuantityPanel key={card.key} card={card} />
        ))}
      </div>
      <ScoreTable scores={view.scores} />
    </>
  );
}
