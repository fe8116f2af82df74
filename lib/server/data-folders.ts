/** Where things lie under DATA_DIR. */
import path from 'node:path';
import { env } from './env';

/** Sample folders written by the sample store: one per telemetry source, one per reconstruction. */
export function samplesRoot(): string {
  return path.join(env().dataDir, 'samples');
}

/** Files being received, one folder per upload; nothing here is part of a session yet. */
export function uploadsRoot(): string {
  return path.join(env().dataDir, 'uploads');
}

/** The files of each imported session as they came, one folder per session id. */
export function sessionsRoot(): string {
  return path.join(env().dataDir, 'sessions');
}

/** Recordings of sound and picture, one folder each. */
export function recordingsRoot(): string {
  return path.join(env().dataDir, 'recordings');
}

/** Published debriefs, one folder per publication. */
export function publishedRoot(): string {
  return path.join(env().dataDir, 'published');
}
