import { type RefObject, useEffect, useRef } from 'react';

/** A refused form is drawn anew: the focus goes to the first field that did not fit. */
export function useFirstProblem(attempt: number): RefObject<HTMLFormElement | null> {
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (attempt > 0) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [attempt]);
  return form;
}
