'use client';

import { useRef } from 'react';
import type { IssueRow } from '@/lib/view/import-view';
import styles from './version-editor.module.css';

type YamlPaneProps = Readonly<{
  text: string;
  issues: readonly IssueRow[];
  onWrite: (text: string) => void;
}>;

/** The file itself, with what is wrong in it by line. */
export function YamlPane({ text, issues, onWrite }: YamlPaneProps) {
  const area = useRef<HTMLTextAreaElement>(null);

  function goTo(line: number): void {
    const { current } = area;
    if (current === null) return;
    const lines = current.value.split('\n');
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    current.focus();
    current.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
    current.scrollTop = (current.scrollHeight / lines.length) * Math.max(0, line - 6);
  }

  return (
    <div className="stack">
      <textarea
        ref={area}
        aria-label="YAML"
        className={styles.yaml}
        spellCheck={false}
        rows={24}
        value={text}
        onChange={({ target }) => onWrite(target.value)}
      />
      <IssueLines issues={issues} onLine={goTo} />
    </div>
  );
}

type IssueLinesProps = Readonly<{
  issues: readonly IssueRow[];
  onLine: (line: number) => void;
}>;

function IssueLines({ issues, onLine }: IssueLinesProps) {
  if (issues.length === 0) return <p className="soft">The text reads as it should.</p>;
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">line</th>
          <th scope="col">key</th>
          <th scope="col">what</th>
          <th scope="col">found</th>
          <th scope="col">expected</th>
        </tr>
      </thead>
      <tbody>
        {issues.map((row) => (
          <tr key={row.key}>
            <th scope="row">
              {row.line !== '' && (
                <button
                  type="button"
                  className="button"
                  onClick={() => onLine(Number(row.line.replace(/\D/g, '')))}
                >
                  {row.line}
                </button>
              )}
            </th>
            <td className="words">
              <code>{row.keyPath}</code>
            </td>
            <td className={`words ${row.severity === 'error' ? 'beyond' : ''}`}>{row.message}</td>
            <td className="words">{row.found}</td>
            <td className="words">{row.expected}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
