/** A published debrief as its page shows it, and the list of all of them. */

import { approvalsText, approvedContentText } from '../../core/debrief/approvals';
import type { InputVersion } from '../../core/debrief/debrief-material';
import { runsText } from '../../core/debrief/html/html-runs';
import {
  type StrangerCommand,
  strangerCommands,
} from '../../core/debrief/package/stranger-commands';
import { type DebriefRecord, recordLabel, zeroText } from '../../core/debrief/record';
import { utcMinuteText } from '../../core/time/session-time-text';
import { type BlockView, blockView } from './document-view';

/** When, by whom and why a revision was withdrawn. */
type Withdrawal = Readonly<{ atIso: string; by: string; reason: string }>;

/** A withdrawal that was taken back, or the taking back. */
type Act = Withdrawal & Readonly<{ kind: 'withdrawn' | 'restored' }>;

/** What the page takes from the list of publications. */
export type PublicationFacts = Readonly<{
  number: number;
  revision: number;
  newestRevision: number;
  /** The newest that was not withdrawn; the newest of all where none stands. */
  leadingRevision: number;
  sha256: string;
  sessionId: string | null;
  withdrawn: Withdrawal | null;
  earlierActs: readonly Act[];
  files: readonly Readonly<{ name: string; sha256: string; bytes: number }>[];
}>;

export type PublishedView = Readonly<{
  label: string;
  title: string;
  banner: string | null;
  caution: string;
  sha256: string;
  superseded: Readonly<{ text: string; href: string }> | null;
  /** That it was withdrawn, with who, when and why; null while it stands. */
  withdrawn: string | null;
  /** Earlier withdrawals and that they were taken back, oldest first. */
  earlierActs: readonly string[];
  /** Where it says what changed since the revision before; null for the first. */
  changesHref: string | null;
  place: Readonly<{ number: number; revision: number }>;
  sessionHref: string | null;
  facts: readonly Readonly<{ label: string; text: string }>[];
  /** How many of the facts stand over the text. */
  headFacts: number;
  contents: readonly Readonly<{ id: string; text: string }>[];
  blocks: readonly BlockView[];
  sources: readonly Readonly<{ file: string; sha256: string }>[];
  downloads: readonly Readonly<{ href: string; text: string; sha256: string }>[];
  /** What a stranger types to check it; empty for what was published before there was a signature. */
  commands: readonly StrangerCommand[];
}>;

function versionText(version: InputVersion | null): string {
  if (version === null) return 'none';
  const number = version.number === null ? '' : `, version ${version.number}`;
  const hash = version.sha256 === null ? '' : `, SHA-256 ${version.sha256}`;
  return `${version.title}${number}${hash}`;
}

/** Address of one revision's page. */
export function publicationHref(number: number, revision: number): string {
  return `/published/${number}/${revision}`;
}

const DOWNLOAD_TEXT: Readonly<Record<string, string>> = {
  'debrief.html': 'Page (HTML, stands alone)',
  'debrief-a4.pdf': 'PDF, A4',
  'debrief-letter.pdf': 'PDF, Letter',
  'debrief.docx': 'Word processor (DOCX)',
  'markdown.zip': 'Markdown with figures (SVG)',
  'record.json': 'Record (JSON, what the hash is of)',
  'data.zip': 'Data package (record, session folder, samples, logs)',
  'manifest.sha256': 'Manifest (SHA-256 of every file)',
  'manifest.sig': 'Signature of the manifest',
  'signing-key.pem': 'Public key of the signature',
};

const DOWNLOAD_ORDER = Object.keys(DOWNLOAD_TEXT);

/** What people read first, then what it is checked with. */
function byReader(a: Readonly<{ name: string }>, b: Readonly<{ name: string }>): number {
  return DOWNLOAD_ORDER.indexOf(a.name) - DOWNLOAD_ORDER.indexOf(b.name);
}

function recordFacts(record: DebriefRecord): PublishedView['facts'] {
  const approved = record.approvals.length > 0;
  const content = approvedContentText(record);
  return [
    { label: 'Session', text: `${record.session.title} (${record.session.kind})` },
    { label: 'Session time starts', text: zeroText(record.session) },
    {
      label: 'Published',
      text: `${utcMinuteText(record.publishedAtIso)} by ${record.publishedBy}`,
    },
    {
      label: 'Supersedes',
      text:
        record.previousSha256 === null
          ? 'nothing, this is the first revision'
          : `revision ${record.revision - 1}, SHA-256 ${record.previousSha256}`,
    },
    ...(record.reason === undefined ? [] : [{ label: 'Reason', text: record.reason }]),
    ...(approved ? [{ label: 'Approvals', text: approvalsText(record) }] : []),
    { label: 'Plan', text: versionText(record.plan) },
    { label: 'Rules', text: versionText(record.ruleSet) },
    ...(record.template === undefined
      ? []
      : [{ label: 'Template', text: versionText(record.template) }]),
    { label: 'Numerics', text: `${record.engine}, inputs SHA-256 ${record.inputsSha256}` },
    ...(approved ? [] : [{ label: 'Approvals', text: approvalsText(record) }]),
    ...(content === null ? [] : [{ label: 'Approved content', text: content }]),
    ...(record.signer === undefined
      ? []
      : [
          {
            label: 'Signed with',
            text: `${record.signer.algorithm}, SHA-256 of the public key ${record.signer.keySha256}`,
          },
        ]),
  ];
}

function withdrawnText({ atIso, by, reason }: Withdrawal): string {
  return `Withdrawn on ${utcMinuteText(atIso)} by ${by}: ${reason}`;
}

function actText(act: Act): string {
  if (act.kind === 'withdrawn') return withdrawnText(act);
  return `The withdrawal was taken back on ${utcMinuteText(act.atIso)} by ${act.by}: ${act.reason}`;
}

type Place = Readonly<{
  number: number;
  revision: number;
  newestRevision: number;
  leadingRevision: number;
}>;

/** What another revision means for this one, and where that is; null where there is nothing to say. */
export function supersededView(
  place: Place & Readonly<{ withdrawn: Withdrawal | null }>,
): PublishedView['superseded'] {
  const { number, revision, newestRevision, leadingRevision, withdrawn } = place;
  const to = (text: string, other: number) => ({ text, href: publicationHref(number, other) });
  if (revision < leadingRevision) {
    const after = newestRevision > leadingRevision ? ' that stands' : '';
    return to(
      `This revision is superseded. Revision ${leadingRevision} is the newest${after}.`,
      leadingRevision,
    );
  }
  if (revision > leadingRevision) return to(`Revision ${leadingRevision} stands.`, leadingRevision);
  if (newestRevision === revision || withdrawn !== null) return null;
  return to(
    `Revision ${newestRevision} superseded this revision and was withdrawn: this revision stands again.`,
    newestRevision,
  );
}

/** The page of one revision, from its record and nothing else but where it stands in the list. */
export function publishedView(record: DebriefRecord, facts: PublicationFacts): PublishedView {
  const { evidence, sources } = record;
  const frame = { evidence, sources, sessionId: facts.sessionId, basis: record };
  const { number, revision } = facts;
  return {
    label: recordLabel(record),
    title: record.title,
    banner: record.banner,
    caution: record.caution,
    sha256: facts.sha256,
    superseded: supersededView(facts),
    withdrawn: facts.withdrawn === null ? null : withdrawnText(facts.withdrawn),
    earlierActs: facts.earlierActs.map(actText),
    changesHref: revision === 1 ? null : `${publicationHref(number, revision)}/changes`,
    place: { number, revision },
    sessionHref:
      facts.sessionId === null ? null : `/sessions/${encodeURIComponent(facts.sessionId)}`,
    facts: recordFacts(record),
    headFacts: 4 + (record.reason === undefined ? 0 : 1) + (record.approvals.length > 0 ? 1 : 0),
    contents: record.blocks.flatMap((block) =>
      block.kind === 'heading' && block.level === 1
        ? [{ id: block.id, text: `${block.number} ${runsText(block.runs)}` }]
        : [],
    ),
    blocks: record.blocks.map((block) => blockView(block, frame)),
    sources: record.sources,
    downloads: [...facts.files].sort(byReader).map((file) => ({
      href: `${publicationHref(number, revision)}/${file.name}`,
      text: DOWNLOAD_TEXT[file.name] ?? file.name,
      sha256: file.sha256,
    })),
    commands: record.signer === undefined ? [] : strangerCommands(record),
  };
}

export type PublishedRow = Readonly<{
  href: string;
  label: string;
  title: string;
  session: string;
  published: string;
  sha256: string;
  /** `stands again` = what superseded it was withdrawn. */
  state: 'newest' | 'superseded' | 'withdrawn' | 'stands again';
  /** Why it was withdrawn; empty otherwise. */
  reason: string;
  /** True where it was withdrawn once and that was taken back. */
  restored: boolean;
  /** Who approved it under which role; empty where nobody did. */
  approved: string;
  invented: boolean;
}>;

/** What a row of the list is made from. */
export type PublishedSummary = Readonly<{
  number: number;
  revision: number;
  title: string;
  sha256: string;
  sessionTitle: string | null;
  isDemo: boolean;
  publishedBy: string;
  publishedAtIso: string;
  newestRevision: number;
  leadingRevision: number;
  designation: string;
  withdrawn: Withdrawal | null;
  earlierActs: readonly Act[];
  approvals: readonly Readonly<{ role: string; name: string }>[];
}>;

function approvedText({ approvals }: PublishedSummary): string {
  if (approvals.length === 0) return '';
  return `approved by ${approvals.map(({ role, name }) => `${name} (${role})`).join(', ')}`;
}

function stateOf(each: PublishedSummary): PublishedRow['state'] {
  if (each.withdrawn !== null) return 'withdrawn';
  if (each.revision < each.leadingRevision) return 'superseded';
  return each.revision < each.newestRevision ? 'stands again' : 'newest';
}

export function publishedRows(publications: readonly PublishedSummary[]): readonly PublishedRow[] {
  return publications.map((each) => ({
    href: publicationHref(each.number, each.revision),
    label: recordLabel({
      number: each.number,
      revision: each.revision,
      ...(each.designation === '' ? {} : { designation: each.designation }),
    }),
    title: each.title,
    session: each.sessionTitle ?? 'session removed',
    published: `${utcMinuteText(each.publishedAtIso)}, ${each.publishedBy}`,
    sha256: each.sha256,
    state: stateOf(each),
    reason: each.withdrawn?.reason ?? '',
    restored: each.withdrawn === null && each.earlierActs.length > 0,
    approved: approvedText(each),
    invented: each.isDemo,
  }));
}

export type LastPublishedView = Readonly<{
  text: string;
  href: string;
  reviseHref: string;
  /** `Go on with revision 2` where somebody has begun one. */
  reviseLabel: string;
  /** That a revision has been begun, by whom and when; null where the draft is what was published. */
  begun: string | null;
  /** What publishing would make next. */
  nextLabel: string;
}>;

/** Who saved the draft last, and when. */
type DraftStamp = Readonly<{ by: string; updatedAtIso: string }>;

/** What stands on the debrief page once something has been published. */
export function lastPublishedView(
  last: Readonly<{
    number: number;
    revision: number;
    publishedAtIso: string;
    isWithdrawn: boolean;
  }>,
  draft: DraftStamp | null,
  sessionId: string,
): LastPublishedView {
  const next = last.revision + 1;
  // Both are written alike, in UTC: their order as text is their order in time.
  const isBegun = draft !== null && draft.updatedAtIso > last.publishedAtIso;
  return {
    text: `${recordLabel(last)}, was published on ${utcMinuteText(last.publishedAtIso)}${last.isWithdrawn ? ' and has been withdrawn' : ''}.`,
    href: publicationHref(last.number, last.revision),
    reviseHref: `/sessions/${encodeURIComponent(sessionId)}/debrief?revise=1`,
    reviseLabel: isBegun ? `Go on with revision ${next}` : `Begin revision ${next}`,
    begun: isBegun
      ? `Revision ${next} has been begun and is not published: its draft was last changed on ${utcMinuteText(draft.updatedAtIso)} by ${draft.by}.`
      : null,
    nextLabel: `Publish revision ${next} of debrief ${last.number}`,
  };
}
