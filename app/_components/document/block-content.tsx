import type { BlockView } from '@/lib/view/debrief/document-view';
import styles from './document.module.css';
import { DocumentTable } from './document-table';
import { FigureFrame } from './figure-frame';
import { FindingPanel } from './finding-panel';
import { Runs } from './runs';

type BlockProps = Readonly<{ block: BlockView }>;

function HeadingPart({ block }: Readonly<{ block: Extract<BlockView, { kind: 'heading' }> }>) {
  const Tag = (['h2', 'h3', 'h4'] as const)[block.level - 1] ?? 'h2';
  return (
    <Tag id={block.id}>
      {block.number !== '' && <span className={styles.number}>{block.number}</span>}
      <Runs runs={block.runs} />
    </Tag>
  );
}

/** One block of a resolved document. */
export function BlockContent({ block }: BlockProps) {
  switch (block.kind) {
    case 'heading':
      return <HeadingPart block={block} />;
    case 'paragraph':
      return (
        <div className={styles.paragraph}>
          <Runs runs={block.runs} />
        </div>
      );
    case 'list': {
      const Tag = block.ordered ? 'ol' : 'ul';
      return (
        <Tag className={styles.list}>
          {block.items.map((item, index) => {
            // The items of a resolved list never change places.
            const key = `${index}`;
            return (
              <li key={key}>
                <BlockList blocks={item} />
              </li>
            );
          })}
        </Tag>
      );
    }
    case 'quote':
      return (
        <blockquote className={styles.quote}>
          <BlockList blocks={block.blocks} />
        </blockquote>
      );
    case 'code':
      return (
        <pre className={styles.code}>
          <code>{block.text}</code>
        </pre>
      );
    case 'divider':
      return <hr />;
    case 'table':
      return <DocumentTable table={block} />;
    case 'figure':
      return <FigureFrame figure={block} />;
    case 'finding':
      return <FindingPanel finding={block} />;
    case 'missing':
      return <p className={styles.missing}>{block.message}</p>;
  }
}

type BlockListProps = Readonly<{ blocks: readonly BlockView[] }>;

/** Blocks in order. */
export function BlockList({ blocks }: BlockListProps) {
  return blocks.map((block, index) => {
    // A block deeper down need not have an id; blocks never change places here.
    const key = `${index}-${block.id}`;
    return <BlockContent key={key} block={block} />;
  });
}
