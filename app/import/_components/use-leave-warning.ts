import { useEffect } from 'react';

const QUESTION =
  'Files are still being sent. Leave this page? What was sent so far is dropped; your files stay as they are.';

/** The link of this page's own window that a click would follow; null for any other click. */
function linkOf(event: MouseEvent): HTMLAnchorElement | null {
  const isPlain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
  const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
  if (!isPlain || !(link instanceof HTMLAnchorElement)) return null;
  const stays = link.target === '_blank' || link.hasAttribute('download');
  return stays || link.getAttribute('href')?.startsWith('#') === true ? null : link;
}

/**
 * Asks before a page is left while something is being sent: by a link, by reloading, by closing.
 *
 * @param isSending while true it asks
 * @param onLeave called when a person leaves in spite of it
 */
export function useLeaveWarning(isSending: boolean, onLeave: () => void): void {
  useEffect(() => {
    if (!isSending) return;
    const unload = (event: BeforeUnloadEvent): void => event.preventDefault();
    const click = (event: MouseEvent): void => {
      if (linkOf(event) === null) return;
      if (window.confirm(QUESTION)) {
        onLeave();
        return;
      }
      event.preventDefault();
      event.stopPropagation();
    };
    window.addEventListener('beforeunload', unload);
    // Before the router hears of it.
    document.addEventListener('click', click, { capture: true });
    return () => {
      window.removeEventListener('beforeunload', unload);
      document.removeEventListener('click', click, { capture: true });
    };
  }, [isSending, onLeave]);
}
