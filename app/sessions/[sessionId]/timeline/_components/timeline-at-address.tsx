'use client';

import { useSearchParams } from 'next/navigation';
import { useState } from 'react';
import { preload } from 'react-dom';
import { envelopeAddress } from '@/lib/view/charts/envelope-question';
import type { TimelineView } from '@/lib/view/timeline';
import { firstQuestions } from '@/lib/view/timeline-traces';
import { knownOf, readTimelineAddress, unknownStrips } from '@/lib/view/timeline-url';
import { Timeline } from './timeline';

type TimelineAtAddressProps = Readonly<{
  view: TimelineView;
  /** Of the findings and annotations that the view was made from. */
  stamp: string;
}>;

/**
 * The timeline as its address says it.
 *
 * The address is read here and not by the page: coming back through the browser's history, the page
 * is the one kept from the first visit, while the address is the one that was left.
 */
export function TimelineAtAddress({ view, stamp }: TimelineAtAddressProps) {
  const asked = useSearchParams();
  const [address] = useState(() => {
    const names = [...new Set(asked.keys())];
    const values = Object.fromEntries(names.map((name) => [name, asked.getAll(name)]));
    return readTimelineAddress(values, knownOf(view));
  });
  const [unknown] = useState(() => unknownStrips(asked.get('strips'), knownOf(view)));
  const [first] = useState(() =>
    firstQuestions(view, address).map((question) => envelopeAddress(view.sessionId, question)),
  );
  // Written into the head of the page: the envelopes come while the browser still reads the scripts.
  for (const href of first) preload(href, { as: 'fetch', crossOrigin: 'anonymous' });
  return <Timeline view={view} stamp={stamp} address={address} unknown={unknown} />;
}
