/** The log formats that can be read. A new format is one file here and one line below. */
import type { EventReader } from '../event-reader';
import { EVENTS_CSV } from './events-csv';
import { JSON_LINES } from './json-lines';
import { STAMPED_LINES } from './stamped-lines';
import { SUBRIP } from './subrip';
import { WEBVTT } from './webvtt';

export const EVENT_READERS: readonly EventReader[] = [
  WEBVTT,
  SUBRIP,
  JSON_LINES,
  EVENTS_CSV,
  STAMPED_LINES,
];
