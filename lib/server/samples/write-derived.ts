import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';

/** @returns the folder's name under `samplesRoot`; the same columns twice give the same folder */
export async function writeDerived(
  _samplesRoot: string,
  _derived: DerivedColumns,
): Promise<string> {
  throw new Error('writeDerived is not written yet');
}
