import type { SaveState } from './use-autosave';

type SaveLineProps = Readonly<{ state: SaveState }>;

function wordsOf(state: SaveState): Readonly<{ text: string; tone: string }> {
  switch (state.kind) {
    case 'saved':
      return { text: `Saved, version ${state.version}`, tone: 'soft' };
    case 'changed':
      return { text: 'Not saved yet', tone: 'soft' };
    case 'saving':
      return { text: 'Saving…', tone: 'soft' };
    case 'offline':
      return {
        text: state.kept
          ? 'The server cannot be reached. Your text is kept in this browser and will be saved.'
          : 'The server cannot be reached, and this browser keeps nothing: do not close the page.',
        tone: 'unsure',
      };
    case 'refused':
      return { text: `Not saved: ${state.message}`, tone: 'beyond' };
    case 'conflict':
      return { text: 'Changed elsewhere: see below what to keep.', tone: 'beyond' };
  }
}

/** Whether the text is safe, in words. */
export function SaveLine({ state }: SaveLineProps) {
  const { text, tone } = wordsOf(state);
  return (
    <p role="status" className={tone}>
      {text}
    </p>
  );
}
