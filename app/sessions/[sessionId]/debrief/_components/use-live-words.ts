'use client';

import { useEffect, useState } from 'react';
import type { DocNode } from '@/lib/core/debrief/document';
import { type LiveViews, liveKey } from '@/lib/view/debrief/live-nodes';
import { resolveNodes } from '../actions';

/** What live values read as now, asked for once; empty until the answer is there. */
export function useLiveWords(sessionId: string, nodes: readonly DocNode[]): LiveViews {
  const [views, setViews] = useState<LiveViews>({});
  const key = nodes.map((node) => liveKey(node.type, node.attrs ?? {})).join('\n');
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the nodes
  useEffect(() => {
    if (key === '') return;
    let isGone = false;
    resolveNodes(sessionId, nodes).then(
      (found) => {
        if (!isGone) setViews(found);
      },
      () => {
        // Without an answer the places of the values are named.
      },
    );
    return () => {
      isGone = true;
    };
  }, [sessionId, key]);
  return views;
}
