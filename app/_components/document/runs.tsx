import type { RunView } from '@/lib/view/debrief/document-view';
import { FigureValue } from '../figure/figure-value';
import styles from './document.module.css';

type RunsProps = Readonly<{ runs: readonly RunView[] }>;

const MARK_TAG = {
  bold: 'strong',
  italic: 'em',
  underline: 'u',
  strike: 's',
  code: 'code',
} as const;

function isMark(name: string): name is keyof typeof MARK_TAG {
  return name in MARK_TAG;
}

function TextPart({ run }: Readonly<{ run: Extract<RunView, { kind: 'text' }> }>) {
  const marked = run.marks.filter(isMark).reduce<React.ReactNode>((inner, mark) => {
    const Tag = MARK_TAG[mark];
    return <Tag key={mark}>{inner}</Tag>;
  }, run.text);
  if (run.href === null || !/^(https?:\/\/|mailto:|#[a-z0-9-]+$)/i.test(run.href)) return marked;
  return (
    <a href={run.href} rel="noopener noreferrer nofollow">
      {marked}
    </a>
  );
}

/** Words, numbers that open their evidence, and line breaks. */
export function Runs({ runs }: RunsProps) {
  return runs.map((run, index) => {
    // Runs never change places.
    const key = `${index}`;
    if (run.kind === 'break') return <br key={key} />;
    if (run.kind === 'number') {
      const face = /\d/.test(run.figure.value) ? '' : styles.worded;
      const keep = run.after === '' ? '' : styles.keep;
      return (
        <span key={key} className={keep}>
          <span className={face}>
            <FigureValue figure={run.figure} />
          </span>
          {run.after}
        </span>
      );
    }
    return <TextPart key={key} run={run} />;
  });
}
