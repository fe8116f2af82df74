'use client';

import type { Editor } from '@tiptap/react';
import { type RefObject, useState } from 'react';
import { type InsertMenu, VALUE_TYPE } from '@/lib/view/debrief/live-nodes';
import { newBlockId } from './block-ids';
import { TargetList } from './draft-targets';
import styles from './editor.module.css';

type InsertDialogProps = Readonly<{
  editor: Editor;
  menu: InsertMenu;
  dialog: RefObject<HTMLDialogElement | null>;
}>;

/** Values shown at once; a search narrows them down. */
const MOST_SHOWN = 40;

function matches(text: string, search: string): boolean {
  const words = search.toLowerCase().split(/\s+/);
  return words.every((word) => text.toLowerCase().includes(word));
}

function ValueList({
  editor,
  menu,
  onDone,
}: Readonly<{ editor: Editor; menu: InsertMenu; onDone: () => void }>) {
  const [search, setSearch] = useState('');
  const found = menu.values.filter((value) => matches(`${value.label} ${value.text}`, search));
  const insert = (attrs: Readonly<Record<string, unknown>>) => {
    onDone();
    editor.chain().focus().insertContent({ type: VALUE_TYPE, attrs }).run();
  };
  return (
    <section className="stack">
      <h3>A value in the sentence</h3>
      <label className={styles.stacked}>
        Search
        <input type="search" value={search} onChange={(event) => setSearch(event.target.value)} />
      </label>
      <ul className={styles.choices}>
        {found.slice(0, MOST_SHOWN).map((value) => (
          <li key={String(value.attributes.key)}>
            <button
              type="button"
              className={styles.choice}
              onClick={() => insert(value.attributes)}
            >
              <span>{value.label}</span>
              <span className="num">{value.text}</span>
            </button>
          </li>
        ))}
      </ul>
      <p className="panel-note" role="status">
        {found.length > MOST_SHOWN
          ? `${MOST_SHOWN} of ${found.length} shown: search to see the others.`
          : `${found.length} found.`}
      </p>
    </section>
  );
}

/** Live blocks and inline values of this session. */
export function InsertDialog({ editor, menu, dialog }: InsertDialogProps) {
  const close = () => dialog.current?.close();
  const insert = (type: string, attributes: Readonly<Record<string, unknown>>) => {
    close();
    const content = { type, attrs: { ...attributes, id: newBlockId() } };
    editor.chain().focus().insertContent(content).run();
  };
  return (
    <dialog ref={dialog} className={`${styles.dialog} ${styles.wide}`} aria-label="Insert">
      <div className={styles.insertHead}>
        <h2>Insert where the cursor is</h2>
        <button type="button" className="button" onClick={close}>
          Close
        </button>
      </div>
      <div className={styles.insert}>
        <section className="stack">
          <h3>A block of its own</h3>
          {menu.blocks.map((group) => (
            <div key={group.label}>
              <h4 className={styles.groupName}>{group.label}</h4>
              <ul className={styles.choices}>
                {group.choices.map((choice) => (
                  <li key={choice.label}>
                    <button
                      type="button"
                      className={styles.choice}
                      onClick={() => insert(choice.type, choice.attributes)}
                    >
                      {choice.label}
                    </button>
                  </li>
                ))}
              </ul>
            </div>
          ))}
        </section>
        <div className="stack">
          <TargetList editor={editor} onDone={close} />
          <ValueList editor={editor} menu={menu} onDone={close} />
        </div>
      </div>
    </dialog>
  );
}
