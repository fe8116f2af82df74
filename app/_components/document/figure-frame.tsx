import { type BlockView, countedLabel } from '@/lib/view/debrief/document-view';
import { FigureValue } from '../figure/figure-value';
import styles from './document.module.css';
import { SvgTree } from './svg-tree';

type FigureFrameProps = Readonly<{ figure: Extract<BlockView, { kind: 'figure' }> }>;

/** A figure with its number, its caption and, for those who do not see it, its words. */
export function FigureFrame({ figure }: FigureFrameProps) {
  return (
    <figure className={styles.figure} id={figure.id}>
      <SvgTree node={figure.picture} />
      <figcaption>
        <strong>{countedLabel('Figure', figure.number)}.</strong> {figure.caption}
        {figure.evidence !== null && (
          <span className={styles.evidence}>
            <FigureValue figure={figure.evidence} />
          </span>
        )}
      </figcaption>
    </figure>
  );
}
