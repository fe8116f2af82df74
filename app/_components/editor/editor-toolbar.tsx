'use client';

import { type Editor, useEditorState } from '@tiptap/react';
import { useState } from 'react';
import styles from './editor.module.css';
import { FindBar } from './find-bar';
import { LinkButton } from './link-button';

type EditorToolbarProps = Readonly<{ editor: Editor; onInsert: () => void }>;

type ToolProps = Readonly<{
  label: string;
  text: string;
  pressed?: boolean;
  disabled?: boolean;
  onPress: () => void;
}>;

function Tool({ label, text, pressed, disabled = false, onPress }: ToolProps) {
  return (
    <button
      type="button"
      className={styles.tool}
      aria-label={label}
      title={label}
      aria-pressed={pressed}
      disabled={disabled}
      onMouseDown={(event) => event.preventDefault()}
      onClick={onPress}
    >
      {text}
    </button>
  );
}

const KINDS = [
  ['0', 'Text'],
  ['1', 'Heading 1'],
  ['2', 'Heading 2'],
  ['3', 'Heading 3'],
] as const;

function readState(editor: Editor) {
  const level = ([1, 2, 3] as const).find((each) => editor.isActive('heading', { level: each }));
  return {
    kind: String(level ?? 0),
    bold: editor.isActive('bold'),
    italic: editor.isActive('italic'),
    bullets: editor.isActive('bulletList'),
    numbers: editor.isActive('orderedList'),
    quote: editor.isActive('blockquote'),
    table: editor.isActive('table'),
    undo: editor.can().undo(),
    redo: editor.can().redo(),
  };
}

function TableTools({ editor }: Readonly<{ editor: Editor }>) {
  const chain = () => editor.chain().focus();
  return (
    <>
      <Tool label="Add a row below" text="Add a row" onPress={() => chain().addRowAfter().run()} />
      <Tool
        label="Add a column to the right"
        text="Add a column"
        onPress={() => chain().addColumnAfter().run()}
      />
      <Tool
        label="Remove this row"
        text="Remove this row"
        onPress={() => chain().deleteRow().run()}
      />
      <Tool
        label="Remove this column"
        text="Remove this column"
        onPress={() => chain().deleteColumn().run()}
      />
      <Tool
        label="Remove the table"
        text="Remove the table"
        onPress={() => chain().deleteTable().run()}
      />
    </>
  );
}

/** What can be done to the words under the cursor. */
export function EditorToolbar({ editor, onInsert }: EditorToolbarProps) {
  const state = useEditorState({ editor, selector: (context) => readState(context.editor) });
  const [isFinding, setFinding] = useState(false);
  const chain = () => editor.chain().focus();
  const setKind = (value: string) => {
    const level = ([1, 2, 3] as const).find((each) => String(each) === value);
    if (level === undefined) chain().setParagraph().run();
    else chain().setHeading({ level }).run();
  };
  return (
    <fieldset className={styles.toolbar} aria-label="Text tools">
      <select
        className={styles.kind}
        aria-label="Kind of text"
        value={state.kind}
        onChange={(event) => setKind(event.target.value)}
      >
        {KINDS.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
      <Tool label="Bold" text="B" pressed={state.bold} onPress={() => chain().toggleBold().run()} />
      <Tool
        label="Italic"
        text="I"
        pressed={state.italic}
        onPress={() => chain().toggleItalic().run()}
      />
      <Tool
        label="Bulleted list"
        text="Bulleted"
        pressed={state.bullets}
        onPress={() => chain().toggleBulletList().run()}
      />
      <Tool
        label="Numbered list"
        text="Numbered"
        pressed={state.numbers}
        onPress={() => chain().toggleOrderedList().run()}
      />
      <Tool
        label="Quote"
        text="Quote"
        pressed={state.quote}
        onPress={() => chain().toggleBlockquote().run()}
      />
      <LinkButton editor={editor} />
      {state.table ? (
        <TableTools editor={editor} />
      ) : (
        <Tool
          label="Insert a table"
          text="Table"
          onPress={() => chain().insertTable({ rows: 3, cols: 3, withHeaderRow: true }).run()}
        />
      )}
      <Tool label="Undo" text="Undo" disabled={!state.undo} onPress={() => chain().undo().run()} />
      <Tool label="Redo" text="Redo" disabled={!state.redo} onPress={() => chain().redo().run()} />
      <Tool
        label="Find and replace"
        text="Find"
        pressed={isFinding}
        onPress={() => setFinding(!isFinding)}
      />
      <button type="button" className="button" onClick={onInsert}>
        Insert figure, table, value or reference
      </button>
      {isFinding && <FindBar editor={editor} onClose={() => setFinding(false)} />}
    </fieldset>
  );
}
