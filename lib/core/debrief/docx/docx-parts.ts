/**
 * The parts of a word processor's file that are the same for every record: styles, lists, settings.
 *
 * Source: ECMA-376-1:2016, 17.7 (styles), 17.9 (numbering), 17.10 (headers and footers); ECMA-376-2:2012,
 * 8 (content types and relationships), 11 (properties).
 */
import { escapeMarkup } from '../markup';

const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const W = 'http://schemas.openxmlformats.org/wordprocessingml/2006/main';
const R = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

/** Names of the namespaces that a part may use. */
export const NAMESPACES = `xmlns:w="${W}" xmlns:r="${R}" xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"`;

/** A part as it is stored. */
export const xmlPart = (element: string): string => `${XML}${element}\n`;

const INK = '1B2530';
const SOFT = '4D5761';

function style(id: string, name: string, paragraph: string, run: string, based = 'Normal'): string {
  const base = id === 'Normal' ? '' : `<w:basedOn w:val="${based}"/>`;
  const isDefault = id === 'Normal' ? ' w:default="1"' : '';
  return `<w:style w:type="paragraph"${isDefault} w:styleId="${id}"><w:name w:val="${name}"/>${base}<w:qFormat/><w:pPr>${paragraph}</w:pPr><w:rPr>${run}</w:rPr></w:style>`;
}

function heading(level: number, size: number): string {
  const keep = `<w:keepNext/><w:keepLines/><w:spacing w:before="${400 - level * 60}" w:after="120"/><w:outlineLvl w:val="${level - 1}"/>`;
  return style(`Heading${level}`, `heading ${level}`, keep, `<w:b/><w:sz w:val="${size}"/>`);
}

const space = (before: number, after: number) =>
  `<w:spacing w:before="${before}" w:after="${after}"/>`;
const bar = (colour: string) =>
  `<w:pBdr><w:left w:val="single" w:sz="18" w:space="8" w:color="${colour}"/></w:pBdr>`;

/** Styles by name: words, headings, captions, cells, findings. Arial, which every system has or stands in for. */
export const STYLES = xmlPart(
  `<w:styles ${NAMESPACES}><w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:ascii="Arial" w:hAnsi="Arial" w:cs="Arial" w:eastAsia="Arial"/><w:color w:val="${INK}"/><w:sz w:val="20"/><w:lang w:val="en-GB"/></w:rPr></w:rPrDefault><w:pPrDefault><w:pPr><w:spacing w:after="140" w:line="276" w:lineRule="auto"/></w:pPr></w:pPrDefault></w:docDefaults>${[
    style('Normal', 'Normal', '', ''),
    style('Title', 'Title', space(120, 200), '<w:b/><w:sz w:val="40"/>'),
    heading(1, 28),
    heading(2, 24),
    heading(3, 20),
    style('TOC1', 'toc 1', space(0, 40), '<w:sz w:val="18"/>'),
    style('TOC2', 'toc 2', `${space(0, 40)}<w:ind w:left="300"/>`, '<w:sz w:val="18"/>'),
    style('Caption', 'caption', space(200, 100), '<w:sz w:val="18"/>'),
    style('SmallCell', 'Small cell', '', '<w:sz w:val="14"/>', 'Cell'),
    style(
      'Cell',
      'Cell',
      '<w:spacing w:before="30" w:after="30" w:line="240" w:lineRule="auto"/>',
      '<w:sz w:val="16"/>',
    ),
    style('Note', 'Note', space(60, 200), `<w:color w:val="${SOFT}"/><w:sz w:val="16"/>`),
    style('Label', 'Label', space(0, 60), `<w:color w:val="${SOFT}"/>`),
    style(
      'Banner',
      'Banner',
      `<w:pBdr>${['top', 'left', 'bottom', 'right'].map((side) => `<w:${side} w:val="single" w:sz="12" w:space="6" w:color="B34700"/>`).join('')}</w:pBdr>`,
      '<w:b/>',
    ),
    style('Caution', 'Caution', bar('74571A'), ''),
    style('Quote', 'Quote', bar('8B8672'), '<w:i/>'),
    style(
      'Code',
      'Code',
      '<w:shd w:val="clear" w:color="auto" w:fill="F4F2EA"/>',
      '<w:rFonts w:ascii="Courier New" w:hAnsi="Courier New" w:cs="Courier New"/><w:sz w:val="18"/>',
    ),
    style('Finding', 'Finding', bar('00598C'), ''),
    style('FindingTitle', 'Finding title', '<w:keepNext/>', '<w:b/>', 'Finding'),
    style(
      'Rule',
      'Rule',
      '<w:pBdr><w:bottom w:val="single" w:sz="4" w:space="1" w:color="D5D0BE"/></w:pBdr>',
      '',
    ),
    style('Running', 'Running', space(0, 0), `<w:color w:val="${SOFT}"/><w:sz w:val="16"/>`),
  ].join('')}</w:styles>`,
);

const LEVELS = [0, 1, 2, 3, 4, 5, 6, 7, 8];

function levels(kind: 'bullet' | 'decimal'): string {
  return LEVELS.map((level) => {
    const text = kind === 'bullet' ? '\u2022' : `%${level + 1}.`;
    return `<w:lvl w:ilvl="${level}"><w:start w:val="1"/><w:numFmt w:val="${kind}"/><w:lvlText w:val="${text}"/><w:lvlJc w:val="left"/><w:pPr><w:ind w:left="${(level + 1) * 400}" w:hanging="400"/></w:pPr></w:lvl>`;
  }).join('');
}

/** Lists: the first is of bullets, each further one counts from 1. @param ordered how many count */
export function numberingPart(ordered: number): string {
  const abstracts = `<w:abstractNum w:abstractNumId="0"><w:multiLevelType w:val="hybridMultilevel"/>${levels('bullet')}</w:abstractNum><w:abstractNum w:abstractNumId="1"><w:multiLevelType w:val="hybridMultilevel"/>${levels('decimal')}</w:abstractNum>`;
  const counted = Array.from({ length: ordered }, (_, at) => {
    const starts = LEVELS.map(
      (level) => `<w:lvlOverride w:ilvl="${level}"><w:startOverride w:val="1"/></w:lvlOverride>`,
    );
    return `<w:num w:numId="${at + 2}"><w:abstractNumId w:val="1"/>${starts.join('')}</w:num>`;
  });
  const bullets = '<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>';
  return xmlPart(
    `<w:numbering ${NAMESPACES}>${abstracts}${bullets}${counted.join('')}</w:numbering>`,
  );
}

const MAIN = 'application/vnd.openxmlformats-officedocument.wordprocessingml';

/** Which part is of which kind. */
export const CONTENT_TYPES = xmlPart(
  `<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Default Extension="emf" ContentType="image/x-emf"/><Override PartName="/word/document.xml" ContentType="${MAIN}.document.main+xml"/>${['styles', 'numbering', 'header', 'footer', 'settings'].map((part) => `<Override PartName="/word/${part}.xml" ContentType="${MAIN}.${part}+xml"/>`).join('')}<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`,
);

type Relation = Readonly<{ id: string; type: string; target: string; outside: boolean }>;

/** Relationships of a part. */
export function relationsPart(relations: readonly Relation[]): string {
  const list = relations.map(
    ({ id, type, target, outside }) =>
      `<Relationship Id="${id}" Type="${type}" Target="${escapeMarkup(target)}"${outside ? ' TargetMode="External"' : ''}/>`,
  );
  return xmlPart(
    `<Relationships xmlns="${PACKAGE}/relationships">${list.join('')}</Relationships>`,
  );
}

/** A kind of relationship. */
export const relationType = (kind: string): string => `${R}/${kind}`;

/** Where the file begins and where its properties are. */
export const ROOT_RELATIONS = relationsPart([
  { id: 'rId1', type: relationType('officeDocument'), target: 'word/document.xml', outside: false },
  {
    id: 'rId2',
    type: `${PACKAGE}/relationships/metadata/core-properties`,
    target: 'docProps/core.xml',
    outside: false,
  },
]);

/** Nothing but the form of the document that is meant: 15 is of Word since 2013. */
export const SETTINGS = xmlPart(
  `<w:settings ${NAMESPACES}><w:compat><w:compatSetting w:name="compatibilityMode" w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat></w:settings>`,
);
