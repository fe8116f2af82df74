/** Names that a rule may bound, offered while one is typed; any other channel's name fits too. */
import { CHANNEL_QUANTITIES, DERIVED_QUANTITIES } from '../../core/units/quantity';

export const KNOWN_QUANTITIES: readonly string[] = [
  ...new Set([...DERIVED_QUANTITIES.keys(), ...CHANNEL_QUANTITIES.keys()]),
];
