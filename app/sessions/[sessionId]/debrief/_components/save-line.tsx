import { saveWords } from './save-words';
import type { SaveState } from './use-autosave';

/** Whether the text is safe, in words. */
export function SaveLine({ state }: Readonly<{ state: SaveState }>) {
  const { text, tone } = saveWords(state);
  return (
    <p role="status" className={tone}>
      {text}
    </p>
  );
}
