/** Files of a drop or a picker with their names inside the folder they came from. */

export type NamedFile = Readonly<{ name: string; file: File }>;

/** What a picker chose: a folder's files keep their path, loose files their name. */
export function filesOfPicker(list: FileList): readonly NamedFile[] {
  return [...list].map((file) => ({ name: file.webkitRelativePath || file.name, file }));
}

/**
 * What was dropped, folders walked to the bottom.
 *
 * The entries must be taken while the drop event is handled; the walk itself may take its time.
 */
export async function filesOfDrop(transfer: DataTransfer): Promise<readonly NamedFile[]> {
  const entries: FileSystemEntry[] = [];
  const found: NamedFile[] = [];
  for (const item of transfer.items) {
    const entry = item.webkitGetAsEntry();
    if (entry !== null) {
      entries.push(entry);
      continue;
    }
    // A file that stands in no folder of the disk, as from another program.
    const file = item.getAsFile();
    if (file !== null) found.push({ name: file.name, file });
  }
  for (const entry of entries) found.push(...(await walk(entry)));
  return found;
}

async function walk(entry: FileSystemEntry): Promise<readonly NamedFile[]> {
  const name = entry.fullPath.replace(/^\//, '');
  if (isFileEntry(entry)) {
    const file = await new Promise<File>((resolve, reject) => entry.file(resolve, reject));
    return [{ name, file }];
  }
  if (!isFolderEntry(entry)) return [];
  const reader = entry.createReader();
  const found: NamedFile[] = [];
  for (;;) {
    // A reader hands out a folder's entries in batches, an empty one at the end.
    const batch = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (batch.length === 0) return found;
    for (const inner of batch) found.push(...(await walk(inner)));
  }
}

function isFileEntry(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}

function isFolderEntry(entry: FileSystemEntry): entry is FileSystemDirectoryEntry {
  return entry.isDirectory;
}

/** Leaves out what an operating system puts beside people's files (`.DS_Store`, `__MACOSX/`). */
export function withoutHidden(files: readonly NamedFile[]): readonly NamedFile[] {
  return files.filter(({ name }) =>
    name.split('/').every((part) => !part.startsWith('.') && part !== '__MACOSX'),
  );
}
