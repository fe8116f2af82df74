'use client';

import type { FindingSuggestion } from '@/lib/view/timeline-suggestions';
import styles from './side-sheet.module.css';

type SuggestionsProps = Readonly<{
  suggestions: readonly FindingSuggestion[];
  take: (suggestion: FindingSuggestion) => void;
}>;

/** What the finding might say, from what was computed in the stretch. */
export function Suggestions({ suggestions, take }: SuggestionsProps) {
  if (suggestions.length === 0) return null;
  return (
    <div className={styles.suggestions}>
      <h3 className={styles.sub}>
        Computed in this stretch: <kbd>↓</kbd> in the title takes the next
      </h3>
      <ul>
        {suggestions.map((suggestion) => (
          <li key={`${suggestion.title} ${suggestion.seen}`}>
            <button type="button" title={suggestion.seen} onClick={() => take(suggestion)}>
              {suggestion.title}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}
