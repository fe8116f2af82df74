import type { SaveState } from './use-autosave';

function unsavedWords({ kept, failure }: Extract<SaveState, { kind: 'offline' }>): string {
  const why =
    failure === 'not reached'
      ? 'The server cannot be reached'
      : 'The server met a fault of its own; its log has the details';
  return kept
    ? `${why}. Your text is kept in this browser and will be saved.`
    : `${why}. This browser keeps nothing: do not close the page.`;
}

function savedWords({ version, withdrawn }: Extract<SaveState, { kind: 'saved' }>) {
  const saved = `Saved, version ${version}`;
  if (withdrawn === 0) return { text: saved, tone: 'soft' };
  const approvals = withdrawn === 1 ? 'an approval' : `${withdrawn} approvals`;
  return { text: `${saved}. Your changes withdrew ${approvals}.`, tone: 'unsure' };
}

/** Whether the text is safe, in words, and their tone. */
export function saveWords(state: SaveState): Readonly<{ text: string; tone: string }> {
  switch (state.kind) {
    case 'saved':
      return savedWords(state);
    case 'changed':
      return { text: 'Not saved yet', tone: 'soft' };
    case 'saving':
      return { text: 'Saving…', tone: 'soft' };
    case 'offline':
      return { text: unsavedWords(state), tone: 'unsure' };
    case 'refused':
      return { text: `Not saved: ${state.message}`, tone: 'beyond' };
    case 'conflict':
      return { text: 'Not saved: somebody changed the same part.', tone: 'beyond' };
    case 'behind':
      return { text: `Version ${state.theirs.version} has been saved elsewhere.`, tone: 'unsure' };
  }
}
