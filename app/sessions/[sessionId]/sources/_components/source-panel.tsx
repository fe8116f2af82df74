import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { CoverageBar } from '@/app/_components/marks/coverage-bar';
import type { SourceView } from '@/lib/view/sources-view';
import { stretchesHref } from '@/lib/view/stretches-view';
import { ChannelTable } from './channel-table';
import facts from './facts.module.css';
import { FaultTable } from './fault-table';
import { type ReplacedIn, ReplaceFile } from './replace-file';
import styles from './source-panel.module.css';

type SourcePanelProps = Readonly<{ source: SourceView; session: ReplacedIn }>;

/** One file: what it is, what was read, its clock, its columns and its faults. */
export function SourcePanel({ source, session }: SourcePanelProps) {
  return (
    <section className="panel">
      <div className={styles.head}>
        <h2>{source.file}</h2>
        <span className="soft">
          {[source.type, source.version, source.size].filter((part) => part !== null).join(' · ')}
        </span>
      </div>
      <dl className={facts.facts}>
        <div>
          <dt>rows read</dt>
          <dd className="num">{source.rows}</dd>
        </div>
        <div>
          <dt>rows rejected</dt>
          <dd className={source.rejected === null ? 'soft' : 'num beyond'}>
            {source.rejected ?? 'none'}
          </dd>
        </div>
        {source.setAside !== null && (
          <div>
            <dt>set aside</dt>
            <dd>
              <a href={source.setAside.href} download>
                {source.setAside.text}
              </a>
            </dd>
          </div>
        )}
        <Clock clock={source.clock} file={source.file} />
        <div className={facts.wide}>
          <dt>stamps and arrival</dt>
          <dd>{source.stamps}</dd>
        </div>
        {source.stages !== null && (
          <div className={facts.wide}>
            <dt>import took</dt>
            <dd className="num">{source.stages}</dd>
          </div>
        )}
        <div className={facts.wide}>
          <dt>SHA-256</dt>
          <dd>
            <code className={facts.hash}>{source.sha256}</code>
          </dd>
        </div>
      </dl>
      <Coverage source={source} />
      <div className={styles.tables}>
        {source.channels.length > 0 && <ChannelTable rows={source.channels} />}
        <div>
          <FaultTable rows={source.faults} />
          {source.allFaults !== null && (
            <p className="panel-note">
              {source.allFaults.counts}:{' '}
              <Link href={source.allFaults.href}>{source.allFaults.text}</Link>
            </p>
          )}
        </div>
      </div>
      {source.channels.length > 0 && (
        <p className="panel-note">
          <Link href={stretchesHref(session.id, source.file)}>Keep or leave out a stretch</Link>
        </p>
      )}
      <ReplaceFile file={source.file} session={session} />
    </section>
  );
}

function Clock({ clock, file }: Pick<SourceView, 'clock' | 'file'>) {
  if (clock === null) return null;
  return (
    <>
      <div>
        <dt>clock offset</dt>
        <dd>
          <FigureValue figure={clock.offset} />
        </dd>
      </div>
      <div>
        <dt>clock drift</dt>
        <dd>
          <FigureValue figure={clock.drift} />
        </dd>
      </div>
      <div>
        <dt>residual</dt>
        <dd>{clock.residual}</dd>
      </div>
      <div>
        <dt>clock from</dt>
        <dd>
          {clock.ties}
          <br />
          <Link href={clock.href} prefetch={false}>
            {clock.hrefText}
            <span className="visually-hidden">: {file}</span>
          </Link>
        </dd>
      </div>
      {clock.reason !== null && (
        <div className={facts.wide}>
          <dt>about the clock</dt>
          <dd>{clock.reason}</dd>
        </div>
      )}
    </>
  );
}

function Coverage({ source }: Pick<SourcePanelProps, 'source'>) {
  const { coverage } = source;
  if (coverage === null) {
    return <p className="panel-note">Nothing of it lies on session time.</p>;
  }
  return (
    <div className={styles.coverage}>
      <CoverageBar covered={coverage} gaps={source.gaps} />
      <p className={styles.caption}>
        <span>
          covers{' '}
          <Link className="num" href={coverage.href} prefetch={false}>
            {coverage.text}
          </Link>
        </span>
        {source.gaps.length > 0 && <span className="beyond">gaps are cut out</span>}
        <span className="soft">the whole line is the session</span>
      </p>
    </div>
  );
}
