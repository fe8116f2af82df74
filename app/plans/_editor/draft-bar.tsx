'use client';

import { useState } from 'react';
import { stampText } from '@/lib/view/format-date';
import type { Draft } from './use-draft';
import styles from './version-editor.module.css';

type DraftBarProps = Readonly<{
  draft: Draft;
  tab: 'form' | 'yaml';
  onTab: (tab: 'form' | 'yaml') => void;
  errorCount: number;
  baseWords: string;
  isChanged: boolean;
}>;

const MOST_BYTES = 1_000_000;

/** How the draft stands: undo, redo, another file in its place, form or YAML. */
export function DraftBar({ draft, tab, onTab, errorCount, baseWords, isChanged }: DraftBarProps) {
  const [fileFault, setFileFault] = useState<string | null>(null);

  async function take(file: File | undefined): Promise<void> {
    if (file === undefined) return;
    if (file.size > MOST_BYTES) {
      setFileFault(`${file.name} is larger than 1 MB, which no such file may be.`);
      return;
    }
    setFileFault(null);
    draft.write(await file.text(), null);
  }

  return (
    <section className="panel stack" aria-label="Draft">
      {draft.restored !== null && (
        <p className="unsure">
          Your draft of {stampText(draft.restored.atIso)}, begun from version{' '}
          {draft.restored.baseNumber}, is shown; it was kept on this machine.{' '}
          <button type="button" className="button" onClick={draft.drop}>
            Start from {baseWords} instead
          </button>
        </p>
      )}
      <div className="row">
        <fieldset className={styles.tabs}>
          <legend className="visually-hidden">Edit as</legend>
          {(['form', 'yaml'] as const).map((each) => (
            <label key={each} className={styles.tab}>
              <input
                type="radio"
                name="edit-as"
                checked={tab === each}
                onChange={() => onTab(each)}
              />
              {each === 'form' ? 'Form' : 'YAML'}
            </label>
          ))}
        </fieldset>
        <button
          type="button"
          className="button"
          disabled={draft.history.past.length === 0}
          onClick={draft.undo}
        >
          Undo
        </button>
        <button
          type="button"
          className="button"
          disabled={draft.history.future.length === 0}
          onClick={draft.redo}
        >
          Redo
        </button>
        <label className={`button ${styles.file}`}>
          Take a YAML file…
          <input
            type="file"
            accept=".yaml,.yml,.json"
            onChange={({ target }) => {
              void take(target.files?.[0]);
              target.value = '';
            }}
          />
        </label>
        <span role="status" className={errorCount > 0 ? 'beyond' : 'soft'}>
          {errorCount > 0
            ? `${errorCount} to mend`
            : isChanged
              ? `Changed from ${baseWords}, not saved`
              : `As ${baseWords}`}
          {!draft.isKept && '; this browser keeps no drafts, so save before you leave'}
        </span>
      </div>
      {(fileFault ?? draft.fault) !== null && (
        <p className="beyond" role="alert">
          {fileFault ?? draft.fault}
        </p>
      )}
    </section>
  );
}
