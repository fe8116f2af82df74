/** Where the quick look of a session stands. */
export function quickLookHref(sessionId: string): string {
  return `/sessions/${encodeURIComponent(sessionId)}/quick-look`;
}
