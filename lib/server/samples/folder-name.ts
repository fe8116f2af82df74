/** The name of a sample folder: what went in, so that the same thing twice gets the same name. */
import { createHash } from 'node:crypto';
import { orderGivenBy } from '@/lib/core/session/file-pattern';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import { BUILT_IN_LEAP_TABLE, leapTable } from '@/lib/core/time/leap-table';
import { isElapsedCode } from '@/lib/core/time/time-code';
import { IMPORTER_VERSION } from './sample-manifest';

const NAME_DIGITS = 12;

function shortHash(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, NAME_DIGITS);
}

/**
 * `<source>-<how it was read>`. Clock and declarations are left out: they change no stored number.
 */
export function sourceFolderName(sha256: string, spec: TelemetrySpec, zero: Instant): string {
  const { id } = leapTable();
  // Of files with times of day, a stated order is believed where that of their names is not.
  const isOrderStated = isElapsedCode(spec.time.code) && orderGivenBy(spec) === 'stated';
  const how = {
    ...(id === BUILT_IN_LEAP_TABLE.id ? {} : { leapTable: id }),
    importer: IMPORTER_VERSION,
    zero: String(zero.taiNs),
    layout: spec.layout,
    nameColumn: spec.nameColumn,
    valueColumn: spec.valueColumn,
    time: { ...spec.time, from: String(spec.time.from.taiNs) },
    channels: spec.channels,
    dialect: spec.dialect,
    missing: spec.missing,
    ...(isOrderStated ? { files: 'stated' } : {}),
  };
  return `${sha256.slice(0, NAME_DIGITS)}-${shortHash(JSON.stringify(how))}`;
}

/** `<content>-<layout>` of columns that no file stands behind. */
export function derivedFolderName(contentSha256: string): string {
  return `${contentSha256.slice(0, NAME_DIGITS)}-${shortHash(`derived ${IMPORTER_VERSION}`)}`;
}
