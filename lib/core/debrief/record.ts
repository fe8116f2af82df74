/**
 * A published debrief: a record, not a page. Everything in it is decided; its canonical bytes have
 * one SHA-256, and a later revision names that of the one before.
 */
import canonicalize from 'canonicalize';
import { utcText } from '../time/session-time-text';
import { utcCaution } from '../time/utc-caution';
import { type Approval, contentSha256Of, plainApproval } from './approvals';
import { INVENTED_BANNER } from './caution';
import type { DebriefMaterial, InputVersion } from './debrief-material';
import { plainText } from './markup';
import { designationOf, USUAL_SCHEME } from './number-scheme';
import type { DocumentSource, EvidenceEntry, ResolvedBlock, ResolvedDocument } from './resolved';
import { sha256OfText } from './sha256';

/** Format of the record; another number is another way to read it. */
export const RECORD_SCHEMA = 'wakeline/debrief-record/1';

/** Whose key the publication's manifest is signed with. `keySha256` is of the key's DER form. */
export type Signer = Readonly<{ algorithm: 'Ed25519'; keySha256: string; publicKeyPem: string }>;

/** A published debrief as it is frozen: document, numbers, evidence and how it came about. */
export type DebriefRecord = Readonly<{
  schema: typeof RECORD_SCHEMA;
  number: number;
  revision: number;
  /** What the team calls it; absent in a quick look and in older records. */
  designation?: string;
  /** Why this revision supersedes the one before; absent for the first. */
  reason?: string;
  title: string;
  publishedAtIso: string;
  publishedBy: string;
  /** SHA-256 of the record of the revision before; null for the first. */
  previousSha256: string | null;
  approvals: readonly Approval[];
  /** Absent in a quick look, and in records made before publications were signed. */
  signer?: Signer;
  caution: string;
  /** Stands over a document made from invented data; null otherwise. */
  banner: string | null;
  /** Only on a quick look: made by the program from the data at hand, and never published. */
  standing?: 'preliminary';
  /** `utcCaution` only where the leap-second table cannot vouch for UTC. */
  session: Readonly<{ title: string; kind: string; zeroUtc: string; utcCaution?: string }>;
  /** Version of the numerics and the hash of all that went into them. */
  engine: string;
  inputsSha256: string;
  plan: InputVersion | null;
  ruleSet: InputVersion | null;
  /** The team's form of a debrief; absent for the program's own, and in older records. */
  template?: InputVersion;
  sources: readonly DocumentSource[];
  evidence: readonly EvidenceEntry[];
  blocks: readonly ResolvedBlock[];
}>;

/** What publishing adds to a resolved document. */
export type Imprint = Readonly<{
  number: number;
  revision: number;
  designation?: string;
  reason?: string;
  title: string;
  publishedAtIso: string;
  publishedBy: string;
  previousSha256: string | null;
  approvals?: readonly Approval[];
  signer?: Signer;
}>;

/** What stands over a quick look. */
const PRELIMINARY_BANNER =
  'Preliminary. Made by the program from the data at hand, not reviewed by anybody; figures may change.';

/** One line that stands on every page; the draft's last section says it in full. */
const SHORT_CAUTION =
  'For review after the flight. Not for real-time decisions, nor in place of the operator\u2019s own flight rules, certified tools and responsible authority.';

function plainVersion(version: InputVersion | null): InputVersion | null {
  return version === null ? null : namedVersion(version);
}

function namedVersion({ title, number, sha256 }: InputVersion): InputVersion {
  return { title: plainText(title.normalize('NFC')), number, sha256 };
}

/** Puts a resolved document and its imprint together. */
export function makeRecord(
  document: ResolvedDocument,
  material: DebriefMaterial,
  imprint: Imprint,
): DebriefRecord {
  const { session, engine, inputsSha256 } = material.reconstruction;
  const caution = utcCaution(session.zeroTaiNs, session.durationS.value);
  return {
    schema: RECORD_SCHEMA,
    ...imprint,
    ...(imprint.reason === undefined ? {} : { reason: plainText(imprint.reason.normalize('NFC')) }),
    title: plainText(imprint.title.normalize('NFC')),
    publishedBy: plainText(imprint.publishedBy.normalize('NFC')),
    approvals: (imprint.approvals ?? []).map(plainApproval),
    caution: SHORT_CAUTION,
    banner: material.invented ? INVENTED_BANNER : null,
    session: {
      title: plainText(session.title.normalize('NFC')),
      kind: session.kind,
      zeroUtc: plainText(session.zeroUtc),
      ...(caution === null ? {} : { utcCaution: caution }),
    },
    engine,
    inputsSha256,
    plan: plainVersion(material.plan),
    ruleSet: plainVersion(material.ruleSet),
    ...(material.template === undefined ? {} : { template: namedVersion(material.template) }),
    sources: document.sources,
    evidence: document.evidence,
    blocks: document.blocks,
  };
}

/**
 * The record of a quick look: number and revision 0, marked preliminary.
 *
 * @param imprint when and by whom it was asked for
 */
export function makeQuickRecord(
  document: ResolvedDocument,
  material: DebriefMaterial,
  imprint: Pick<Imprint, 'publishedAtIso' | 'publishedBy'>,
): DebriefRecord {
  const title = `Quick look: ${material.reconstruction.session.title}`;
  const place = { number: 0, revision: 0, previousSha256: null };
  const record = makeRecord(document, material, { ...imprint, ...place, title });
  const banner = [PRELIMINARY_BANNER, record.banner].filter((line) => line !== null).join(' ');
  return { ...record, banner, standing: 'preliminary' };
}

/** The hash of what publishing would freeze, before it has a number: what people approve. */
export function approvableSha256(
  document: ResolvedDocument,
  material: DebriefMaterial,
  title: string,
): string {
  const place = { number: 0, revision: 0, previousSha256: null };
  const imprint = { ...place, title, publishedAtIso: '', publishedBy: '' };
  return contentSha256Of(makeRecord(document, material, imprint));
}

/** A record as it is stored: canonical JSON, and the SHA-256 of its UTF-8 bytes. */
export type SealedRecord = Readonly<{ record: DebriefRecord; json: string; sha256: string }>;

/**
 * Writes the record in its one form and hashes it.
 *
 * @throws where a number is not finite or a text holds half a surrogate pair: a fault of the program,
 *   since `resolve` lets neither through
 *
 * Source: RFC 8785, JSON Canonicalization Scheme (2020).
 */
export function sealRecord(record: DebriefRecord): SealedRecord {
  const json = canonicalize(record);
  if (json === undefined) throw new Error('invariant: a record has a canonical form');
  return { record, json, sha256: sha256OfText(json) };
}

/**
 * Reads a stored record.
 *
 * @param json text of record.json
 * @param sha256 the hash it was published with
 * @returns the record; null where the bytes are not those published or of a form not known here
 */
export function readRecord(json: string, sha256: string): DebriefRecord | null {
  if (sha256OfText(json) !== sha256) return null;
  const parsed: unknown = JSON.parse(json);
  return isRecord(parsed) ? parsed : null;
}

/** True for a value of the form that the schema names; whether it is what was published, its hash says. */
export function isRecord(value: unknown): value is DebriefRecord {
  return (
    typeof value === 'object' &&
    value !== null &&
    'schema' in value &&
    value.schema === RECORD_SCHEMA
  );
}

/** When session time starts, with what has to be said of that. */
export function zeroText({ zeroUtc, utcCaution: caution }: DebriefRecord['session']): string {
  const text = utcText(zeroUtc);
  return caution === undefined ? text : `${text}. ${caution}`;
}

/** `Debrief 12, revision 2`; number 0 is a draft that was never published. */
export function recordLabel(
  record: Readonly<{
    number: number;
    revision: number;
    designation?: string;
    standing?: 'preliminary';
  }>,
): string {
  if (record.standing === 'preliminary') return 'Quick look, preliminary';
  if (record.number === 0) return 'Draft made by the program, not published';
  const { number, revision, designation } = record;
  return `${designation ?? designationOf(USUAL_SCHEME, { number, publishedAtIso: '' })}, revision ${revision}`;
}
