/**
 * A record as a document of a word processor (Office Open XML): headings, native tables and captions,
 * figures as vectors. From the record alone, the same bytes for the same record.
 *
 * Source: ECMA-376-1:2016, 15.2.5 (custom XML data), 17.2 (document), 17.16 (fields), 20.4.2.8 (inline
 * pictures).
 */
import { base64OfText } from '../base64-text';
import { runsText } from '../html/html-runs';
import { IMPRINT_FOOT, IMPRINT_HEAD, imprintRows } from '../imprint-rows';
import { escapeMarkup, textParagraphs } from '../markup';
import { strangerCommands } from '../package/stranger-commands';
import { type DebriefRecord, recordLabel, type SealedRecord } from '../record';
import type { FigureBlock, FindingBlock, ResolvedBlock } from '../resolved';
import {
  CONTENT_TYPES,
  NAMESPACES,
  numberingPart,
  ROOT_RELATIONS,
  relationsPart,
  relationType,
  SETTINGS,
  STYLES,
  xmlPart,
} from './docx-parts';
import { cellXml, rowXml, TEXT_TWIPS, tableBlockXml, tableXml } from './docx-table';
import { bookmarkName, captionXml, type DocxLinks, paragraph, runsXml, textRun } from './docx-text';
import { type EmfPicture, emfPlot } from './emf-plot';
import { RECORD_NAMESPACE, RECORD_PART } from './read-docx';

/** Width of the text, English Metric Units: 170 mm. */
const TEXT_EMU = 6_120_000;
/** Ids of relationships: those of parts come first, then figures, then addresses. */
const FIGURES_FROM = 10;
const FIRST_LINK = 10_000;
const BULLETS = 1;

type Setting = Readonly<{
  link: DocxLinks['link'];
  place: DocxLinks['place'];
  hrefs: string[];
  pictures: EmfPicture[];
  /** How many lists that count there are so far. */
  lists: { ordered: number };
}>;

/** Places by name, each once. Source: ECMA-376-1:2016, 17.13.6. */
function openPlaces(): DocxLinks['place'] {
  const names = new Set<string>();
  return (id) => {
    const name = bookmarkName(id);
    if (id === '' || names.has(name)) return ['', ''];
    const at = names.size;
    names.add(name);
    return [`<w:bookmarkStart w:id="${at}" w:name="${name}"/>`, `<w:bookmarkEnd w:id="${at}"/>`];
  };
}

function figureXml(figure: FigureBlock, { pictures, place }: Setting): string {
  const { caption: title, alt, id: idPrefix, plots, number } = figure;
  const picture = emfPlot(plots, { idPrefix, title, description: alt });
  pictures.push(picture);
  const at = pictures.length;
  const height = Math.round((TEXT_EMU * picture.heightPx) / picture.widthPx);
  const size = `cx="${TEXT_EMU}" cy="${height}"`;
  const named = `id="${at}" name="Figure ${at}" descr="${escapeMarkup(alt.trim() === '' ? title : alt)}"`;
  const shape = `<pic:spPr><a:xfrm><a:off x="0" y="0"/><a:ext ${size}/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr>`;
  const pic = `<pic:pic><pic:nvPicPr><pic:cNvPr ${named}/><pic:cNvPicPr/></pic:nvPicPr><pic:blipFill><a:blip r:embed="rId${FIGURES_FROM + at}"/><a:stretch><a:fillRect/></a:stretch></pic:blipFill>${shape}</pic:pic>`;
  const inline = `<wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent ${size}/><wp:docPr ${named}/><a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture">${pic}</a:graphicData></a:graphic></wp:inline>`;
  const drawing = `<w:r><w:drawing>${inline}</w:drawing></w:r>`;
  return (
    paragraph(drawing, 'Normal', '<w:keepNext/>') +
    captionXml('Figure', number, title, '', place(idPrefix))
  );
}

function findingXml(finding: FindingBlock, { place }: Setting): string {
  const { about, severity, state, stretch, channels, author, numbers } = finding;
  const list = channels.length === 0 ? '' : `, ${channels.join(', ')}`;
  const [start, end] = place(finding.id);
  const said = (label: string, text: string) =>
    textParagraphs(text).map((each, at) => {
      const named = at === 0 ? textRun(`${label} `, '<w:b/>') : '';
      return paragraph(named + textRun(each), 'Finding');
    });
  return [
    paragraph(
      `${start}${textRun(`Finding ${finding.number}: ${finding.title}`)}${end}`,
      'FindingTitle',
    ),
    paragraph(
      textRun(`${about}, ${severity}, ${state}. ${stretch}${list}. By ${author}.`),
      'Finding',
    ),
    ...said('Seen.', finding.seen),
    ...said('Change.', finding.change),
    ...numbers.map(({ label, run }) =>
      paragraph(textRun(`${label}: ${run.text}`), 'Finding', '<w:spacing w:after="0"/>'),
    ),
    paragraph('', 'Note'),
  ].join('');
}

function listXml(
  block: Extract<ResolvedBlock, { kind: 'list' }>,
  setting: Setting,
  level: number,
): string {
  if (block.ordered) setting.lists.ordered += 1;
  const number = block.ordered ? setting.lists.ordered + BULLETS : BULLETS;
  const depth = Math.min(level, 8);
  const numbered = `<w:numPr><w:ilvl w:val="${depth}"/><w:numId w:val="${number}"/></w:numPr>`;
  const inset = `<w:ind w:left="${(depth + 1) * 400}"/>`;
  return block.items
    .map((item) => {
      const [first, ...rest] = item;
      const isWords = first?.kind === 'paragraph';
      const head = paragraph(isWords ? runsXml(first.runs, setting) : '', 'Normal', numbered);
      const others = isWords ? rest : item;
      return (
        head +
        others
          .map((each) => blockXml(each, setting, { level: level + 1, style: 'Normal', inset }))
          .join('')
      );
    })
    .join('');
}

type Around = Readonly<{ level: number; style: 'Normal' | 'Quote'; inset: string }>;
const TOP: Around = { level: 0, style: 'Normal', inset: '' };

function blockXml(block: ResolvedBlock, setting: Setting, around: Around = TOP): string {
  switch (block.kind) {
    case 'heading': {
      const words = textRun(`${block.number} ${runsText(block.runs)}`.trim());
      const [start, end] = setting.place(block.id);
      return paragraph(`${start}${words}${end}`, `Heading${block.level}`);
    }
    case 'paragraph':
      return paragraph(runsXml(block.runs, setting), around.style, around.inset);
    case 'list':
      return listXml(block, setting, around.level);
    case 'quote':
      return block.blocks
        .map((each) => blockXml(each, setting, { ...around, style: 'Quote' }))
        .join('');
    case 'code':
      return paragraph(textRun(block.text), 'Code', around.inset);
    case 'divider':
      return paragraph('', 'Rule');
    case 'table':
      return tableBlockXml(block, setting);
    case 'figure':
      return figureXml(block, setting);
    case 'finding':
      return findingXml(block, setting);
    case 'missing':
      return paragraph(textRun(block.message), around.style);
  }
}

function factsXml(rows: readonly (readonly [string, string])[]): string {
  const [names, words] = [2400, TEXT_TWIPS - 2400];
  const lines = rows.map(([name, text]) =>
    rowXml(
      cellXml(paragraph(textRun(name, '<w:color w:val="4D5761"/>'), 'Cell'), names) +
        cellXml(paragraph(textRun(text), 'Cell'), words),
    ),
  );
  return tableXml(lines, [names, words]) + paragraph('', 'Note');
}

const mark = (kind: 'begin' | 'separate' | 'end') =>
  `<w:r><w:fldChar w:fldCharType="${kind}"/></w:r>`;

/**
 * Contents as a field that holds its entries: there at once without a question at opening, with page
 * numbers once the reader has it updated. Source: ECMA-376-1:2016, 17.16.5.68 (TOC), 17.16.18 (fldChar).
 */
function contentsXml({ blocks }: DebriefRecord): string {
  const entries = blocks.flatMap((block) => {
    if (block.kind !== 'heading' || block.level > 2) return [];
    const words = textRun(`${block.number} ${runsText(block.runs)}`, '<w:color w:val="00598C"/>');
    const entry = `<w:hyperlink w:anchor="${bookmarkName(block.id)}">${words}</w:hyperlink>`;
    return [{ style: `TOC${block.level}`, entry }];
  });
  if (entries.length < 3) return '';
  const code = `<w:r><w:instrText xml:space="preserve"> TOC \\o "1-2" \\h \\z </w:instrText></w:r>`;
  const last = entries.length - 1;
  const lines = entries.map(({ style, entry }, at) => {
    const before = at === 0 ? `${mark('begin')}${code}${mark('separate')}` : '';
    return paragraph(`${before}${entry}${at === last ? mark('end') : ''}`, style);
  });
  return lines.join('') + paragraph('', 'Note');
}

function bodyXml(sealed: SealedRecord, setting: Setting): string {
  const { record } = sealed;
  const rows = imprintRows(sealed);
  const facts = (wanted: readonly string[]) =>
    factsXml(rows.filter(([name]) => wanted.includes(name)));
  const commands = record.signer === undefined ? [] : strangerCommands(record);
  const { banner, sources } = record;
  return [
    banner === null ? '' : paragraph(textRun(banner), 'Banner'),
    paragraph(textRun(recordLabel(record)), 'Label'),
    paragraph(textRun(record.title), 'Title'),
    facts(IMPRINT_HEAD),
    paragraph(textRun(record.caution), 'Caution'),
    contentsXml(record),
    ...record.blocks.map((block) => blockXml(block, setting)),
    paragraph(textRun('Record'), 'Heading1'),
    facts(IMPRINT_FOOT),
    paragraph(
      textRun(
        'The SHA-256 is that of record.json of this publication, which holds the evidence of each number; this file carries it too. It can be edited: what counts is the record, and verify names what differs from it.',
      ),
      'Normal',
    ),
    ...(commands.length === 0
      ? []
      : [paragraph(textRun('Checking without this program'), 'Heading2')]),
    ...commands.flatMap(({ what, command }) => [
      paragraph(textRun(`${what}:`), 'Normal', '<w:keepNext/>'),
      paragraph(textRun(command), 'Code'),
    ]),
    paragraph(textRun('Source files and their SHA-256'), 'Heading2'),
    factsXml(sources.map(({ file, sha256 }) => [file, sha256] as const)),
  ].join('');
}

const field = (name: string) => `<w:fldSimple w:instr=" ${name} ">${textRun('1')}</w:fldSimple>`;

function coreProperties({ title, publishedBy, publishedAtIso }: DebriefRecord): string {
  const stamp = `${publishedAtIso.slice(0, 19)}Z`;
  const dates = ['created', 'modified'].map(
    (name) => `<dcterms:${name} xsi:type="dcterms:W3CDTF">${stamp}</dcterms:${name}>`,
  );
  return xmlPart(
    `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>${escapeMarkup(title)}</dc:title><dc:creator>${escapeMarkup(publishedBy)}</dc:creator>${dates.join('')}</cp:coreProperties>`,
  );
}

/** Parts of the file by name. */
export type DocxParts = ReadonlyMap<string, string | Uint8Array>;

/**
 * The record as the parts of a .docx file.
 *
 * @param sealed record, canonical JSON and hash
 * @returns the same parts for the same record; what people wrote is text in them and nothing else
 */
export function renderDocx(sealed: SealedRecord): DocxParts {
  const { record } = sealed;
  const hrefs: string[] = [];
  const link = (href: string): string => {
    const known = hrefs.indexOf(href);
    return `rId${FIRST_LINK + (known < 0 ? hrefs.push(href) - 1 : known)}`;
  };
  const setting: Setting = {
    link,
    hrefs,
    pictures: [],
    lists: { ordered: 0 },
    place: openPlaces(),
  };
  const body = bodyXml(sealed, setting);
  const page =
    '<w:sectPr><w:headerReference w:type="default" r:id="rId4"/><w:footerReference w:type="default" r:id="rId5"/><w:pgSz w:w="11906" w:h="16838"/><w:pgMar w:top="1400" w:right="1134" w:bottom="1250" w:left="1134" w:header="600" w:footer="600" w:gutter="0"/></w:sectPr>';
  const running = `${recordLabel(record)}: ${record.title}`;
  const marked = record.banner === null ? '' : ' \u2013 invented demonstration';
  const pages = `${textRun(`SHA-256 of the record ${sealed.sha256.slice(0, 16)}\u2026${marked}    Page `)}${field('PAGE')}${textRun(' of ')}${field('NUMPAGES')}`;
  const inside = ['styles', 'numbering', 'settings', 'header', 'footer'].map((part, at) => ({
    id: `rId${at + 1}`,
    type: relationType(part),
    target: `${part}.xml`,
    outside: false,
  }));
  const carried = {
    id: 'rId6',
    type: relationType('customXml'),
    target: `../${RECORD_PART}`,
    outside: false,
  };
  const drawn = setting.pictures.map((_, at) => ({
    id: `rId${FIGURES_FROM + at + 1}`,
    type: relationType('image'),
    target: `media/figure-${at + 1}.emf`,
    outside: false,
  }));
  const links = hrefs.map((target) => ({
    id: link(target),
    type: relationType('hyperlink'),
    target,
    outside: true,
  }));
  return new Map<string, string | Uint8Array>([
    ['[Content_Types].xml', CONTENT_TYPES],
    ['_rels/.rels', ROOT_RELATIONS],
    ['docProps/core.xml', coreProperties(record)],
    ['word/_rels/document.xml.rels', relationsPart([...inside, carried, ...drawn, ...links])],
    [
      'word/document.xml',
      xmlPart(`<w:document ${NAMESPACES}><w:body>${body}${page}</w:body></w:document>`),
    ],
    ['word/styles.xml', STYLES],
    ['word/settings.xml', SETTINGS],
    ['word/numbering.xml', numberingPart(setting.lists.ordered)],
    [
      'word/header.xml',
      xmlPart(`<w:hdr ${NAMESPACES}>${paragraph(textRun(running), 'Running')}</w:hdr>`),
    ],
    ['word/footer.xml', xmlPart(`<w:ftr ${NAMESPACES}>${paragraph(pages, 'Running')}</w:ftr>`)],
    [
      RECORD_PART,
      xmlPart(`<record xmlns="${RECORD_NAMESPACE}">${base64OfText(sealed.json)}</record>`),
    ],
    ...setting.pictures.map(({ bytes }, at) => [`word/media/figure-${at + 1}.emf`, bytes] as const),
  ]);
}
