import type { ItemState } from '@/lib/view/clock/clock-items';
import styles from './clock.module.css';

const TONES: Readonly<Record<ItemState, string>> = {
  used: '',
  rejected: 'beyond',
  doubtful: 'unsure',
  'left out': 'soft',
};

/** What became of a value; the word says it, the colour only helps. */
export function StateWord({ state }: Readonly<{ state: ItemState }>) {
  return <span className={`${styles.stateWord} ${TONES[state]}`}>{state}</span>;
}
