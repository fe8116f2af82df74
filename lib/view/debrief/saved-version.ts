/** A version of a draft: who saved it (or saved over it), and when. */
export type SavedVersion = Readonly<{ version: number; by: string; atIso: string }>;
