import Link from 'next/link';
import type { RecordChange, SectionChanges } from '@/lib/core/debrief/compare-records';
import type { RevisionDifference } from '@/lib/server/publish/load-record';
import { publicationHref } from '@/lib/view/debrief/published-view';
import { SiteHeader } from '../../_components/shell/site-header';
import styles from './published.module.css';

type RevisionChangesProps = Readonly<{
  place: Readonly<{ number: number; revision: number }>;
  changes: RevisionDifference;
}>;

const KIND_WORDS: Readonly<Record<RecordChange['kind'], string>> = {
  number: 'number',
  words: 'words',
  figure: 'drawn anew',
  added: 'added',
  removed: 'removed',
};

/** Changes by section: numbers with both texts, words with what stood there. */
export function RevisionChanges({ place, changes }: RevisionChangesProps) {
  const { number, revision } = place;
  const { sections, title, reason } = changes;
  return (
    <>
      <SiteHeader>
        <Link className={styles.back} href={publicationHref(number, revision)}>
          Back to revision {revision}
        </Link>
      </SiteHeader>
      <main id="main" tabIndex={-1} className={`page ${styles.page}`}>
        <div className="page-head">
          <h1>
            What changed from revision {revision - 1} to revision {revision}
          </h1>
          <p>{title}</p>
        </div>
        {reason !== '' && <p className="panel">Reason: {reason}</p>}
        {sections === null && (
          <p className="panel">
            One of the two records is missing or is not the one that was published.
          </p>
        )}
        {sections?.length === 0 && <p className="panel">Text, numbers and figures are the same.</p>}
        {sections?.map((section) => (
          <SectionTable key={`${section.standing}-${section.title}`} section={section} />
        ))}
      </main>
    </>
  );
}

function SectionTable({ section }: Readonly<{ section: SectionChanges }>) {
  const { title, standing, changes } = section;
  return (
    <section className="panel">
      <h2>
        {title}
        {standing !== 'changed' && <span className="soft"> (section {standing})</span>}
      </h2>
      <div className={styles.scroll}>
        <table className="data">
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col">change</th>
              <th scope="col">before</th>
              <th scope="col">after</th>
            </tr>
          </thead>
          <tbody>
            {changes.map((change, index) => {
              // Changes of two records that never change themselves.
              const key = `${index}`;
              return (
                <tr key={key}>
                  <th scope="row">{change.what}</th>
                  <td>{KIND_WORDS[change.kind]}</td>
                  <td className="words">{change.before === '' ? '\u2013' : change.before}</td>
                  <td className="words">{change.after === '' ? '\u2013' : change.after}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}
