/**
 * Named places of the write path at which a test can make the process die, as a power cut would.
 *
 * A crash point does nothing unless `WAKELINE_CRASH_AT` names it. The list is exported so that the
 * crash test can prove that it visits every one of them.
 */

/**
 * Every crash point of the program, in the order in which an import, a publication, the replacement
 * of a file and a description reach them.
 */
export const CRASH_POINTS = [
  'upload:file-synced',
  'upload:renamed',
  'import:started',
  'samples:original-kept',
  'samples:data-written',
  'samples:levels-written',
  'samples:manifest-written',
  'samples:folder-synced',
  'samples:renamed',
  'samples:root-synced',
  'import:read',
  'import:reconstructed',
  'import:files-synced',
  'import:files-renamed',
  'import:committed',
  'import:upload-removed',
  'publish:rendered',
  'publish:record-synced',
  'publish:page-synced',
  'publish:pdf-synced',
  'publish:package-synced',
  'publish:manifest-synced',
  'publish:signature-synced',
  'publish:folder-synced',
  'publish:renamed',
  'publish:root-synced',
  'publish:committed',
  'replace:assembled',
  'replace:files-synced',
  'replace:files-renamed',
  'replace:committed',
  'describe:file-synced',
  'describe:renamed',
  'describe:committed',
] as const;

export type CrashPointName = (typeof CRASH_POINTS)[number];

/**
 * Ends the process at once, without any clean-up, when the environment names this point. With
 * `WAKELINE_CRASH_GROUP=1` the whole process group ends, as when the power fails.
 */
export function crashPoint(name: CrashPointName): void {
  if (process.env.WAKELINE_CRASH_AT !== name) return;
  process.kill(process.env.WAKELINE_CRASH_GROUP === '1' ? 0 : process.pid, 'SIGKILL');
}
