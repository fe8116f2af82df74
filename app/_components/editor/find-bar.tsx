'use client';

import { type Editor, useEditorState } from '@tiptap/react';
import { useEffect, useMemo, useState } from 'react';
import { type FoundWords, findWords, nextFound } from '@/lib/view/debrief/find-words';
import styles from './editor.module.css';

type FindBarProps = Readonly<{ editor: Editor; onClose: () => void }>;

/** So many places are marked at once; the one that is chosen always is. */
const MOST_MARKED = 500;

/** Marks places on the screen alone: the text, its selection and its history stay as they are. */
function mark(editor: Editor, found: readonly FoundWords[], at: number): void {
  if (!('highlights' in CSS)) return;
  const rangeOf = ({ from, to }: FoundWords): Range => {
    const range = new Range();
    const [start, end] = [editor.view.domAtPos(from), editor.view.domAtPos(to)];
    range.setStart(start.node, start.offset);
    range.setEnd(end.node, end.offset);
    return range;
  };
  const here = found[at];
  CSS.highlights.set('found', new Highlight(...found.slice(0, MOST_MARKED).map(rangeOf)));
  CSS.highlights.set('found-here', new Highlight(...(here === undefined ? [] : [rangeOf(here)])));
}

function unmark(): void {
  if (!('highlights' in CSS)) return;
  CSS.highlights.delete('found');
  CSS.highlights.delete('found-here');
}

/** Chooses what was found and brings it into view. */
function select(editor: Editor, place: FoundWords | undefined): void {
  if (place === undefined) return;
  editor.commands.setTextSelection(place);
  // The editor scrolls to its selection only while it has the focus, which stays in the bar.
  const { node } = editor.view.domAtPos(place.from);
  node.parentElement?.scrollIntoView({ block: 'center' });
}

/** Puts words in the place of others, the last first so that the places before it hold. */
function replace(editor: Editor, places: readonly FoundWords[], words: string): void {
  const { tr } = editor.state;
  for (const { from, to } of [...places].reverse()) tr.insertText(words, from, to);
  editor.view.dispatch(tr);
}

function useFound(editor: Editor, words: string, exact: boolean) {
  const { doc, selection } = useEditorState({
    editor,
    selector: ({ editor: { state } }) => ({ doc: state.doc, selection: state.selection }),
    equalityFn: (a, b) => a.doc === b?.doc && a.selection === b.selection,
  });
  const found = useMemo(
    () => findWords(doc, { words, case: exact ? 'exact' : 'alike' }),
    [doc, words, exact],
  );
  const at = found.findIndex(({ from, to }) => from === selection.from && to === selection.to);
  return { found, at, selection };
}

/** Finds words in the text and puts others in their place; live values are left alone. */
export function FindBar({ editor, onClose }: FindBarProps) {
  const [words, setWords] = useState('');
  const [other, setOther] = useState('');
  const [exact, setExact] = useState(false);
  const [done, setDone] = useState('');
  const { found, at, selection } = useFound(editor, words, exact);
  useEffect(() => mark(editor, found, at), [editor, found, at]);
  useEffect(() => unmark, []);
  const next = () => {
    setDone('');
    select(editor, found[nextFound(found, at < 0 ? selection.from : selection.to)]);
  };
  const replaceOne = () => {
    const here = found[at];
    if (here === undefined) return next();
    replace(editor, [here], other);
    const after = here.from + other.length;
    const left = findWords(editor.state.doc, { words, case: exact ? 'exact' : 'alike' });
    select(editor, left[nextFound(left, after)]);
  };
  const replaceAll = () => {
    replace(editor, found, other);
    setDone(`${found.length} replaced; Undo takes it back.`);
  };
  const count = at < 0 ? `${found.length} found` : `${at + 1} of ${found.length}`;
  return (
    <form
      className={styles.findBar}
      aria-label="Find and replace"
      onSubmit={(event) => {
        event.preventDefault();
        next();
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose();
      }}
    >
      <label className={styles.field}>
        Find
        {/* biome-ignore lint/a11y/noAutofocus: the bar was asked for to type in it */}
        <input autoFocus value={words} onChange={(event) => setWords(event.target.value)} />
      </label>
      <label className={styles.field}>
        Replace with
        <input value={other} onChange={(event) => setOther(event.target.value)} />
      </label>
      <label>
        <input
          type="checkbox"
          checked={exact}
          onChange={(event) => setExact(event.target.checked)}
        />{' '}
        Same case
      </label>
      <button type="submit" className={styles.tool} disabled={found.length === 0}>
        Next
      </button>
      <button
        type="button"
        className={styles.tool}
        disabled={found.length === 0}
        onClick={replaceOne}
      >
        Replace
      </button>
      <button
        type="button"
        className={styles.tool}
        disabled={found.length === 0}
        onClick={replaceAll}
      >
        Replace all
      </button>
      <span className="soft" role="status">
        {done !== '' ? done : words === '' ? '' : count}
      </span>
      <button type="button" className={styles.tool} onClick={onClose}>
        Close
      </button>
    </form>
  );
}
