'use client';

import type { DocNode } from '@/lib/core/debrief/document';
import type { LiveView } from '@/lib/view/debrief/live-nodes';
import styles from './editor.module.css';
import { useAskAgain } from './live-context';

type OpenBlockProps = Readonly<{ view: LiveView | null; node: DocNode }>;

/** What stands in place of a block that is not there yet, or could not be computed. */
export function OpenBlock({ view, node }: OpenBlockProps) {
  const ask = useAskAgain();
  const isFailed = view?.kind === 'failed';
  const words = isFailed || view?.kind === 'waiting' ? view.words : 'Being filled in…';
  return (
    <p className={styles.pending}>
      <span role="status">{words}</span>{' '}
      {isFailed && (
        <button
          type="button"
          className="button"
          onClick={() => ask({ ...node, attrs: structuredClone({ ...node.attrs }) })}
        >
          Try again
        </button>
      )}
    </p>
  );
}
