/** Removes what an interrupted import left behind. For start-up, before any import runs. */
export async function sweepTemporary(_samplesRoot: string): Promise<readonly string[]> {
  throw new Error('sweepTemporary is not written yet');
}
