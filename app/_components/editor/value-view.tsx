'use client';

import { NodeViewWrapper, type ReactNodeViewProps } from '@tiptap/react';
import styles from './editor.module.css';
import { useLiveView } from './live-context';

/** An inline value: reads as it will be published, cannot be typed over. */
export function ValueView({ node, selected }: ReactNodeViewProps) {
  const view = useLiveView(node.type.name, node.attrs);
  const run = view?.kind === 'value' ? view.run : null;
  const text =
    run?.kind === 'number' ? run.figure.value : run?.kind === 'text' ? run.text : '\u2026';
  const { key, placed } = node.attrs;
  const isMoved = typeof placed === 'string' && view?.kind === 'value' && placed !== view.mark;
  const moved = isMoved ? ` ${styles.movedValue}` : '';
  const state = run?.kind === 'text' ? styles.missingValue : `${styles.value}${moved}`;
  const face = /\d/.test(text) ? styles.digits : '';
  return (
    <NodeViewWrapper
      as="span"
      className={`${state} ${face} ${selected ? styles.selected : ''}`}
      title={isMoved ? `${key}: was ${placed} when it was placed` : String(key)}
    >
      {text}
    </NodeViewWrapper>
  );
}
