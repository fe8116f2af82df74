'use client';

import { useDeferredValue, useMemo, useState } from 'react';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { draftView, headForm, itemForm, newItems, toldChanges } from '@/lib/view/plans/draft-view';
import { DraftBar } from './draft-bar';
import { BareFields, FormField } from './form-field';
import { ItemList } from './item-list';
import { SavePanel } from './save-panel';
import { TrialPanel, type TrialSession } from './trial-panel';
import { useDraft } from './use-draft';
import styles from './version-editor.module.css';
import { YamlPane } from './yaml-pane';

type VersionEditorProps = Readonly<{
  kind: VersionedKind;
  /** null for a new entry. */
  entryId: string | null;
  baseNumber: number;
  newestNumber: number;
  text: string;
  sessions: readonly TrialSession[];
  quantities: readonly string[];
}>;

/** A plan, rule set or template being edited: by form or as YAML, saved as a new version. */
export function VersionEditor(props: VersionEditorProps) {
  const { kind, entryId, baseNumber, newestNumber, text, sessions, quantities } = props;
  const key = `wakeline.draft.${kind}.${entryId ?? 'new'}`;
  const draft = useDraft({ key, baseNumber: entryId === null ? 0 : newestNumber, text });
  const [tab, setTab] = useState<'form' | 'yaml'>('form');
  const [open, setOpen] = useState<number | null>(null);
  const now = useDeferredValue(draft.history.text);
  const view = useMemo(() => draftView(kind, now), [kind, now]);
  const told = useMemo(
    () => (entryId === null ? [] : toldChanges(kind, text, now)),
    [kind, entryId, text, now],
  );
  const item = open === null ? null : (view.items[open] ?? null);
  const form = useMemo(
    () => (item === null ? headForm(kind, view) : itemForm(kind, view, item.index)),
    [kind, view, item],
  );
  const additions = useMemo(() => newItems(kind, view), [kind, view]);
  const errorCount = view.issues.filter(({ severity }) => severity === 'error').length;

  return (
    <div className="stack">
      <DraftBar
        draft={draft}
        tab={tab}
        onTab={setTab}
        errorCount={errorCount}
        baseWords={entryId === null ? 'a new file' : `version ${baseNumber}`}
        isChanged={draft.history.text !== text}
      />
      {tab === 'yaml' && (
        <section className="panel">
          <YamlPane
            text={draft.history.text}
            issues={view.issues}
            onWrite={(next) => draft.write(next, 'yaml')}
          />
        </section>
      )}
      {tab === 'form' && view.data === null && (
        <section className="panel stack">
          <p className="beyond">
            The text cannot be read as YAML, so there is no form of it: mend it in the YAML tab, or
            undo. Nothing of it is lost.
          </p>
        </section>
      )}
      {tab === 'form' && view.data !== null && (
        <section className={`panel ${styles.form}`}>
          <ItemList
            kind={kind}
            items={view.items}
            additions={additions}
            open={item === null ? null : open}
            headProblem={errorCount > view.items.reduce((sum, each) => sum + each.problemCount, 0)}
            onOpen={setOpen}
            onEdit={draft.edit}
          />
          <div className={styles.fields} key={form.id}>
            {item === null ? (
              <BareFields node={form} onEdit={draft.edit} />
            ) : (
              <FormField node={{ ...form, label: item.name }} onEdit={draft.edit} />
            )}
          </div>
          <datalist id="known-quantities">
            {quantities.map((name) => (
              <option key={name} value={name} />
            ))}
          </datalist>
        </section>
      )}
      {kind !== 'template' && (
        <TrialPanel
          kind={kind}
          entryId={entryId}
          text={draft.history.text}
          isValid={view.isValid}
          sessions={sessions}
        />
      )}
      <SavePanel
        kind={kind}
        entryId={entryId}
        draft={draft}
        isValid={view.isValid}
        isChanged={draft.history.text !== text}
        told={told}
      />
    </div>
  );
}
