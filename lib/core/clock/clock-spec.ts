/** How a source's own time is put onto session time (key `clock` of session.yaml). */
export type ClockSpec =
  | Readonly<{ kind: 'given'; offsetS: number; driftPpm: number }>
  | Readonly<{
      kind: 'tie-points';
      points: readonly (readonly [sourceS: number, sessionS: number])[];
    }>
  | Readonly<{ kind: 'callouts'; lagS: number; lagSdS: number }>;
