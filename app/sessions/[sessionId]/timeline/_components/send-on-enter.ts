import type { KeyboardEvent } from 'react';

/** Control (or Command) with Enter sends a form from any of its fields. */
export function sendOnControlEnter(event: KeyboardEvent<HTMLFormElement>): void {
  if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey)) return;
  event.preventDefault();
  event.currentTarget.requestSubmit();
}
