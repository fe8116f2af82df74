'use client';

import { type RefObject, useLayoutEffect, useState } from 'react';

/** Width of an element's content box, whole pixels; `before` until it has been measured. */
export function useWidth(element: RefObject<HTMLElement | null>, before: number): number {
  const [width, setWidth] = useState(before);
  useLayoutEffect(() => {
    const measured = element.current;
    if (measured === null) return;
    const measure = (): void => setWidth(Math.max(1, Math.floor(measured.clientWidth)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(measured);
    return () => observer.disconnect();
  }, [element]);
  return width;
}
