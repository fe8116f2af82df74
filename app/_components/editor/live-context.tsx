'use client';

import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useRef,
  useState,
} from 'react';
import type { DocNode } from '@/lib/core/debrief/document';
import { type LiveView, type LiveViews, liveKey } from '@/lib/view/debrief/live-nodes';

type Live = Readonly<{ views: LiveViews; ask: (node: DocNode) => void }>;

const LiveContext = createContext<Live>({ views: {}, ask: () => {} });

type LiveProviderProps = Readonly<{
  initial: LiveViews;
  resolve: (nodes: readonly DocNode[]) => Promise<LiveViews>;
  children: ReactNode;
}>;

/** Nodes that come in within one pause are asked for together. */
const PAUSE_MS = 60;

/** What live nodes show: what the page brought, and what is asked for as nodes are added. */
export function LiveProvider({ initial, resolve, children }: LiveProviderProps) {
  const [views, setViews] = useState(initial);
  const waiting = useRef(new Map<string, DocNode>());
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const ask = useCallback(
    (node: DocNode) => {
      waiting.current.set(liveKey(node.type, node.attrs ?? {}), node);
      clearTimeout(timer.current);
      timer.current = setTimeout(() => {
        const nodes = [...waiting.current.values()];
        waiting.current.clear();
        resolve(nodes).then(
          (more) => setViews((known) => ({ ...known, ...more })),
          () => {
            // Without an answer the node shows its name; it is asked for again when it is shown next.
          },
        );
      }, PAUSE_MS);
    },
    [resolve],
  );
  useEffect(() => () => clearTimeout(timer.current), []);
  return <LiveContext value={{ views, ask }}>{children}</LiveContext>;
}

/** What all live nodes show, as far as it is known. */
export function useLiveViews(): LiveViews {
  return useContext(LiveContext).views;
}

/** What is being computed is asked for again so often. */
const AGAIN_MS = 1500;

/** What one live node shows; null until that is known. */
export function useLiveView(
  type: string,
  attributes: Readonly<Record<string, unknown>>,
): LiveView | null {
  const { views, ask } = useContext(LiveContext);
  const key = liveKey(type, attributes);
  const view = views[key] ?? null;
  const isMissing = view === null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for type and attributes
  useEffect(() => {
    if (isMissing) ask({ type, attrs: structuredClone({ ...attributes }) });
  }, [key, isMissing, ask]);
  const isWaiting = view?.kind === 'waiting';
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for type and attributes
  useEffect(() => {
    if (!isWaiting) return;
    const again = () => ask({ type, attrs: structuredClone({ ...attributes }) });
    const timer = setInterval(again, AGAIN_MS);
    return () => clearInterval(timer);
  }, [key, isWaiting, ask]);
  return view;
}

/** Asks once more for what a live node shows. */
export function useAskAgain(): (node: DocNode) => void {
  return useContext(LiveContext).ask;
}
