import Link from 'next/link';
import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { OverviewView } from '@/lib/view/overview/overview-view';
import { sentenceText } from '@/lib/view/sentence';
import { ContactTable } from './contact-table';
import { FindingList } from './finding-list';
import styles from './overview.module.css';
import { RuleMargins } from './rule-margins';
import { SideDrawing } from './side-drawing';
import { StepSummary } from './step-summary';

type OverviewProps = Readonly<{ title: string; view: OverviewView }>;

/** The first screen of a session: sentences, then what they rest on. */
export function Overview({ title, view }: OverviewProps) {
  const { sessionPath } = view;
  return (
    <div className="page">
      <h1 className="visually-hidden">{title}, overview</h1>
      <section className={`panel ${styles.answer}`} aria-label="The answer">
        {view.answer.map((sentence) => (
          <span key={sentenceText(sentence)}>
            <SentenceLine sentence={sentence} />{' '}
          </span>
        ))}
        <p className="panel-note no-print">
          <Link href={`${sessionPath}/quick-look`}>Quick look</Link>: two pages to print or to send,
          marked preliminary
        </p>
      </section>
      <div className="columns">
        <div className={styles.column}>
          <RuleMargins rules={view.rules} href={`${sessionPath}/rules`} />
          <StepSummary rows={view.steps} href={`${sessionPath}/phases`} />
          <FindingList rows={view.findings} href={`${sessionPath}/findings`} />
        </div>
        <div className={styles.column}>
          <SideDrawing view={view.side} />
          <ContactTable view={view.contact} absent={view.noContact} />
          <DataLimits limits={view.limits} href={`${sessionPath}/sources`} />
        </div>
      </div>
    </div>
  );
}

type DataLimitsProps = Readonly<{ limits: OverviewView['limits']; href: string }>;

function DataLimits({ limits, href }: DataLimitsProps) {
  return (
    <section className="panel">
      <h2>What the data cannot say</h2>
      {limits.length === 0 ? (
        <p className="soft">No gap, fault, rejected row or open rule was found.</p>
      ) : (
        <ul className={`plain ${styles.limits}`}>
          {limits.map((sentence) => (
            <li key={sentenceText(sentence)}>
              <SentenceLine sentence={sentence} />
            </li>
          ))}
        </ul>
      )}
      <p className="panel-note no-print">
        <Link href={href}>Sources</Link>, with each file’s clock and faults
      </p>
    </section>
  );
}
