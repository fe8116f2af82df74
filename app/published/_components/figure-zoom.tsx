'use client';

import { useEffect } from 'react';
import { figuresIn, zoomFigures } from '@/lib/view/debrief/figure-zoom';

/** Lets the figures of the page be looked at closer; the record is fetched when somebody first does. */
export function FigureZoom({ recordHref }: Readonly<{ recordHref: string }>) {
  useEffect(() => {
    zoomFigures(document, async () => {
      const answer = await fetch(recordHref);
      if (!answer.ok) return [];
      const record: unknown = await answer.json();
      return figuresIn(typeof record === 'object' && record !== null ? Object.values(record) : []);
    });
  }, [recordHref]);
  return null;
}
