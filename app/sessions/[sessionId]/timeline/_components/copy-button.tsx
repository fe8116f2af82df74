'use client';

import { useEffect, useState } from 'react';

type CopyButtonProps = Readonly<{ label: string; text: string }>;

const SAID_MS = 4000;

/** Puts a text on the clipboard and says whether that was allowed. */
export function CopyButton({ label, text }: CopyButtonProps) {
  const [says, setSays] = useState('');
  useEffect(() => {
    if (says === '') return;
    const timer = setTimeout(() => setSays(''), SAID_MS);
    return () => clearTimeout(timer);
  }, [says]);
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text);
      setSays('Copied.');
    } catch {
      setSays('The browser does not let this page copy: select the table and copy it by hand.');
    }
  };
  return (
    <span className="row">
      <button type="button" className="button" onClick={() => void copy()}>
        {label}
      </button>
      <span className="soft" role="status">
        {says}
      </span>
    </span>
  );
}
