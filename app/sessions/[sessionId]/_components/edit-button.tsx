'use client';

import { useState } from 'react';
import type { EditOffer } from '@/lib/view/phase-edit-view';
import { EditDialog, type EditPlace } from './edit-dialog';
import styles from './edit-dialog.module.css';

type EditButtonProps = Readonly<{ words: string; offer: EditOffer; place: EditPlace }>;

/** Opens the dialog in which one thing is corrected; it stands in the page only while it is open. */
export function EditButton({ words, offer, place }: EditButtonProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <>
      <button
        className={`${styles.open} no-print`}
        type="button"
        aria-haspopup="dialog"
        aria-label={offer.title}
        title={offer.title}
        onClick={() => setOpen(true)}
      >
        {words}
      </button>
      {isOpen && <EditDialog offer={offer} place={place} onClosed={() => setOpen(false)} />}
    </>
  );
}
