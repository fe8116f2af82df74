import Link from 'next/link';
import { notFound } from 'next/navigation';
import { BlockList } from '@/app/_components/document/block-content';
import documentStyles from '@/app/_components/document/document.module.css';
import { TouchedSince } from '@/app/_components/document/touched-since';
import { PlainPage } from '@/app/_components/shell/plain-page';
import { SiteHeader } from '@/app/_components/shell/site-header';
import { loadRecord } from '@/lib/server/publish/load-record';
import { publicationHref, publishedView } from '@/lib/view/debrief/published-view';
import { FigureZoom } from './figure-zoom';
import { Imprint } from './imprint';
import styles from './published.module.css';
import { RecordPanel } from './record-panel';
import { WithdrawForm } from './withdraw-form';

type PublishedDebriefProps = Readonly<{ number: number; revision: number }>;

/**
 * One revision: its text is read from its record, no editor and no computing. Beside it stands whether
 * the session's figures have changed since.
 */
export async function PublishedDebrief({ number, revision }: PublishedDebriefProps) {
  const found = await loadRecord(number, revision);
  if (found === null) notFound();
  const { publication, record } = found;
  if (record === null) {
    return (
      <PlainPage title={`Debrief ${number}, revision ${revision}, cannot be shown`}>
        <p>
          Its stored record is missing, or is not the one that was published with the SHA-256{' '}
          <code>{publication.sha256}</code>. Restore the published folder from a backup.
        </p>
      </PlainPage>
    );
  }
  const view = publishedView(record, publication);
  return (
    <>
      <SiteHeader>
        <Link className={styles.back} href="/published">
          All published debriefs
        </Link>
      </SiteHeader>
      <main id="main" tabIndex={-1} className={`page ${styles.page}`}>
        <article className={`panel ${styles.sheet}`}>
          <Imprint view={view} />
          <TouchedSince number={number} revision={revision} />
          <div className={documentStyles.document}>
            <BlockList blocks={view.blocks} />
          </div>
          <FigureZoom recordHref={`${publicationHref(number, revision)}/record.json`} />
          <RecordPanel view={view} />
          <WithdrawForm place={view.place} withdrawnAtIso={publication.withdrawn?.atIso ?? null} />
        </article>
      </main>
    </>
  );
}
