'use client';

import {
  type Editor,
  NodeViewWrapper,
  type ReactNodeViewProps,
  useEditorState,
} from '@tiptap/react';
import { createContext, type ReactNode, useContext, useMemo } from 'react';
import { type DraftTarget, draftTargets, REFERENCE_TYPE } from '@/lib/view/debrief/draft-targets';
import styles from './editor.module.css';
import { useLiveViews } from './live-context';

const TargetsContext = createContext<readonly DraftTarget[]>([]);

type TargetsProviderProps = Readonly<{ editor: Editor; children: ReactNode }>;

/** Numbers of sections, figures and tables as the text stands, for captions and references. */
export function TargetsProvider({ editor, children }: TargetsProviderProps) {
  const views = useLiveViews();
  const doc = useEditorState({
    editor,
    selector: (context) => context.editor.state.doc,
    equalityFn: (before, after) => before === after,
  });
  const told = useMemo(() => JSON.stringify(draftTargets(doc.toJSON(), views)), [doc, views]);
  const targets = useMemo((): readonly DraftTarget[] => JSON.parse(told), [told]);
  return <TargetsContext value={targets}>{children}</TargetsContext>;
}

/** What can be referred to now, in the order of the text. */
export function useTargets(): readonly DraftTarget[] {
  return useContext(TargetsContext);
}

/** A reference: reads as its target is called now, cannot be typed over. */
export function ReferenceView({ node, selected }: ReactNodeViewProps) {
  const target = useTargets().find(({ id }) => id === node.attrs.target);
  const face = target === undefined ? styles.missingValue : styles.reference;
  return (
    <NodeViewWrapper
      as="span"
      className={`${face} ${selected ? styles.selected : ''}`}
      title={target?.title ?? 'What it led to is no longer here'}
    >
      {target?.label ?? '[reference]'}
    </NodeViewWrapper>
  );
}

type TargetListProps = Readonly<{ editor: Editor; onDone: () => void }>;

/** Everything that a sentence can refer to. */
export function TargetList({ editor, onDone }: TargetListProps) {
  const targets = useTargets();
  const insert = (target: string) => {
    onDone();
    editor.chain().focus().insertContent({ type: REFERENCE_TYPE, attrs: { target } }).run();
  };
  if (targets.length === 0) return null;
  return (
    <section className="stack">
      <h3>A reference in the sentence</h3>
      <p className="panel-note">Its number follows when the text is put in another order.</p>
      <ul className={styles.choices}>
        {targets.map(({ id, label, title }) => (
          <li key={id}>
            <button type="button" className={styles.choice} onClick={() => insert(id)}>
              <span>{label}</span>
              <span>{title}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
