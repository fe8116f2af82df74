/** The kinds of what a person may say of a session. */
export type CorrectionKind =
  | 'clock'
  | 'stretch'
  | 'phase'
  | 'rule'
  | 'task'
  | 'rating'
  | 'run-session';
