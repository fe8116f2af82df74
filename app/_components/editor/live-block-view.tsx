'use client';

import { NodeViewWrapper, type ReactNodeViewProps } from '@tiptap/react';
import { BlockList } from '@/app/_components/document/block-content';
import type { BlockView } from '@/lib/view/debrief/document-view';
import { BOARD_TYPE, blockLabel, boardAt } from '@/lib/view/debrief/editor-schema';
import { LIVE_PLACED } from '@/lib/view/debrief/live-nodes';
import { useTargets } from './draft-targets';
import styles from './editor.module.css';
import { InstantField } from './instant-field';
import { useLiveView } from './live-context';
import { moveBlock } from './move-block';
import { OpenBlock } from './open-block';

type FieldProps = Readonly<{ label: string; value: string; onChange: (value: string) => void }>;

function Field({ label, value, onChange }: FieldProps) {
  return (
    <label className={styles.field}>
      {label}
      <input
        type="text"
        value={value}
        maxLength={300}
        onChange={(event) => onChange(event.target.value)}
      />
    </label>
  );
}

/** A caption counts as it would be published now. */
function withNumber(blocks: readonly BlockView[], label = ''): readonly BlockView[] {
  const number = Number(/^(?:Figure|Table) (\d+)$/.exec(label)?.[1] ?? 0);
  const [first, ...rest] = blocks;
  const counts = first?.kind === 'figure' || (first?.kind === 'table' && first.number !== null);
  return first === undefined || !counts ? blocks : [{ ...first, number }, ...rest];
}

type HeadProps = Pick<
  ReactNodeViewProps,
  'node' | 'editor' | 'getPos' | 'updateAttributes' | 'deleteNode'
>;

/** Name of a live block, what may be typed of it, and the buttons that move it. */
function LiveHead({ node, editor, getPos, updateAttributes, deleteNode }: HeadProps) {
  const label = blockLabel(node.type.name);
  const { caption, alt, at } = node.attrs;
  return (
    <div className={styles.liveHead}>
      <span className={styles.liveName} data-drag-handle>
        {label}
      </span>
      {typeof caption === 'string' && (
        <Field
          label="Caption"
          value={caption}
          onChange={(text) => updateAttributes({ caption: text })}
        />
      )}
      {node.type.name === BOARD_TYPE && typeof at === 'number' && (
        <InstantField atS={at} onChange={(atS) => updateAttributes(boardAt(node.attrs, atS))} />
      )}
      {typeof alt === 'string' && (
        <Field label="In words" value={alt} onChange={(text) => updateAttributes({ alt: text })} />
      )}
      <span className={styles.liveButtons}>
        <button
          type="button"
          aria-label={`Move ${label} up`}
          onClick={() => moveBlock(editor, getPos(), 'up')}
        >
          ↑
        </button>
        <button
          type="button"
          aria-label={`Move ${label} down`}
          onClick={() => moveBlock(editor, getPos(), 'down')}
        >
          ↓
        </button>
        <button type="button" aria-label={`Remove ${label}`} onClick={deleteNode}>
          Remove
        </button>
      </span>
    </div>
  );
}

/** A live block: what it will show when it is published, with its own small controls. */
export function LiveBlockView({ selected, ...props }: ReactNodeViewProps) {
  const { node, updateAttributes } = props;
  const view = useLiveView(node.type.name, node.attrs);
  const numbered = useTargets().find(({ id }) => id === node.attrs.id);
  const blocks = view?.kind === 'blocks' ? withNumber(view.blocks, numbered?.label) : null;
  const { [LIVE_PLACED]: placed } = node.attrs;
  const mark = view !== null && 'mark' in view ? view.mark : null;
  const isMoved = typeof placed === 'string' && mark !== null && placed !== mark;
  return (
    <NodeViewWrapper
      className={`${styles.live} ${selected ? styles.selected : ''}`}
      contentEditable={false}
      role="group"
      aria-label={blockLabel(node.type.name)}
    >
      <LiveHead {...props} />
      {isMoved && (
        <p className={styles.movedBlock}>
          What this shows has changed since it was placed.
          <button type="button" onClick={() => updateAttributes({ [LIVE_PLACED]: mark })}>
            Take it as it is now
          </button>
        </p>
      )}
      {blocks === null ? (
        <OpenBlock view={view} node={{ type: node.type.name, attrs: node.attrs }} />
      ) : (
        <BlockList blocks={blocks} />
      )}
    </NodeViewWrapper>
  );
}
