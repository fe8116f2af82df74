/** What a number of runs can carry beside what it cannot. */
import { runsNeeded } from '../math/order-statistics';

/** A claim about where the runs' population ends, as a clause, and how many runs it takes. */
type RunClaim = Readonly<{ clause: string; needed: number; isCarried: boolean }>;

const CLAIMS = [
  {
    clause: 'the largest run bounds 95 % of all runs, with 95 % confidence',
    at: [0.95, 0.95, 'one'],
  },
  {
    clause: 'smallest and largest run enclose 95 % of all runs, with 95 % confidence',
    at: [0.95, 0.95, 'two'],
  },
  {
    clause: 'the largest run bounds 99.73 % of all runs, with 90 % confidence',
    at: [0.9973, 0.9, 'one'],
  },
] as const;

/** The claims that are usual for dispersed runs, each held against the number there is. */
export function runClaims(runs: number): readonly RunClaim[] {
  return CLAIMS.map(({ clause, at: [content, confidence, sides] }) => {
    const needed = runsNeeded(content, confidence, sides);
    return { clause, needed, isCarried: runs >= needed };
  });
}
