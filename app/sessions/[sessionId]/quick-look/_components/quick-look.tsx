import Link from 'next/link';
import { BlockList } from '@/app/_components/document/block-content';
import documentStyles from '@/app/_components/document/document.module.css';
import type { QuickLookView } from '@/lib/view/debrief/quick-look-view';
import styles from './quick-look.module.css';

type QuickLookProps = Readonly<{ view: QuickLookView }>;

/** The quick look on the screen, with the ways to keep it and to go on from it. */
export function QuickLook({ view }: QuickLookProps) {
  return (
    <div className={`page ${styles.page}`}>
      <div className="page-head">
        <h1>Quick look</h1>
        <p>{view.made}</p>
      </div>
      <ul className={styles.ways}>
        {view.downloads.map(({ href, text }, index) => (
          <li key={href}>
            <a className={index === 0 ? 'button primary' : 'button'} href={href} download>
              {text}
            </a>
          </li>
        ))}
        <li>
          <Link className="button" href={view.debriefHref}>
            To the debrief
          </Link>
        </li>
      </ul>
      <article className={`panel ${styles.sheet}`}>
        <p className={styles.banner}>{view.banner}</p>
        <div className={documentStyles.document}>
          <BlockList blocks={view.blocks} />
        </div>
        <p className="panel-note">{view.caution}</p>
      </article>
    </div>
  );
}
