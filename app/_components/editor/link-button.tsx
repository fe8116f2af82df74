'use client';

import { type Editor, useEditorState } from '@tiptap/react';
import { useRef, useState } from 'react';
import styles from './editor.module.css';

type LinkButtonProps = Readonly<{ editor: Editor }>;

const ADDRESS = /^(https?:\/\/|mailto:)\S+$/i;

/** Makes, changes or takes away the link under the cursor. */
export function LinkButton({ editor }: LinkButtonProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [address, setAddress] = useState('');
  const [fault, setFault] = useState('');
  const isLink = useEditorState({ editor, selector: (context) => context.editor.isActive('link') });
  const open = () => {
    setAddress(String(editor.getAttributes('link').href ?? 'https://'));
    setFault('');
    dialog.current?.showModal();
  };
  const apply = (event: React.FormEvent) => {
    event.preventDefault();
    if (!ADDRESS.test(address)) {
      setFault('An address starts with https://, http:// or mailto: and has no spaces.');
      return;
    }
    dialog.current?.close();
    editor.chain().focus().extendMarkRange('link').setLink({ href: address }).run();
  };
  const remove = () => {
    dialog.current?.close();
    editor.chain().focus().extendMarkRange('link').unsetLink().run();
  };
  return (
    <>
      <button
        type="button"
        className={styles.tool}
        aria-pressed={isLink}
        title="Link"
        onMouseDown={(event) => event.preventDefault()}
        onClick={open}
      >
        Link
      </button>
      <dialog ref={dialog} className={styles.dialog} aria-label="Link">
        <form className="stack" onSubmit={apply} noValidate>
          <label className={styles.stacked}>
            Address
            <input
              type="url"
              value={address}
              aria-invalid={fault !== ''}
              onChange={(event) => setAddress(event.target.value)}
            />
          </label>
          {fault !== '' && (
            <p className="beyond" role="alert">
              {fault}
            </p>
          )}
          <div className="row">
            <button type="submit" className="button primary">
              Set the link
            </button>
            {isLink && (
              <button type="button" className="button" onClick={remove}>
                Take the link away
              </button>
            )}
            <button type="button" className="button" onClick={() => dialog.current?.close()}>
              Cancel
            </button>
          </div>
        </form>
      </dialog>
    </>
  );
}
