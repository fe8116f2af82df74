/** The exported page's own style sheet: the look's colours, light, dark and print. */

const LIGHT =
  '--paper:#f6f5f0;--sheet:#fdfcf8;--graticule:#e3dfd0;--rule:#d5d0be;--rule-strong:#8b8672;--ink:#1b2530;--ink-soft:#4d5761;--ink-faint:#666e76;--accent:#00598c;--beyond:#b34700;--beyond-wash:#faeadd;--inside:#00704f;--inside-wash:#e0f1ea;--unsure:#74571a;--unsure-wash:#f6efd9;--phase-hold:#ebe5d3;--phase-closing:#d6e6f2;--phase-opening:#f4ddd0;--phase-crossing:#e8dcec;--series-1:#0072b2;--series-2:#d55e00;--series-3:#00805d;--series-4:#a8558a;--series-5:#1b2530';
const DARK =
  '--paper:#12171c;--sheet:#181e24;--graticule:#29313a;--rule:#343e48;--rule-strong:#7d8994;--ink:#e9e7df;--ink-soft:#b9bfc5;--ink-faint:#98a1a9;--accent:#6cb9ea;--beyond:#ff9a57;--beyond-wash:#3a2618;--inside:#4fc79c;--inside-wash:#16332a;--unsure:#e3bd5d;--unsure-wash:#342c17;--phase-hold:#3a3628;--phase-closing:#1f3a4d;--phase-opening:#4a2f22;--phase-crossing:#3d2f42;--series-1:#56b4e9;--series-2:#e69f00;--series-3:#2cb98d;--series-4:#cc79a7;--series-5:#e9e7df';

/** A font face to carry along: a WOFF2 file in base64. */
export type EmbeddedFont = Readonly<{
  family: 'IBM Plex Sans' | 'IBM Plex Mono';
  weight: 400 | 600;
  style: 'normal' | 'italic';
  woff2Base64: string;
}>;

function faces(fonts: readonly EmbeddedFont[]): string {
  return fonts
    .map(
      (font) =>
        `@font-face{font-family:"${font.family}";font-weight:${font.weight};font-style:${font.style};font-display:swap;src:url(data:font/woff2;base64,${font.woff2Base64}) format("woff2")}`,
    )
    .join('');
}

const RULES = `
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:15px/1.55 "IBM Plex Sans","Helvetica Neue",Arial,sans-serif}
main{max-width:64rem;margin:0 auto;padding:2rem 2.5rem 3rem;background:var(--sheet);border-inline:1px solid var(--rule)}
h1{font-size:1.75rem;line-height:1.25;margin:.3rem 0 1rem;overflow-wrap:anywhere}
h2{font-size:1.25rem;margin:2.2rem 0 .6rem;padding-top:.6rem;border-top:1px solid var(--rule)}
h3{font-size:1.06rem;margin:1.6rem 0 .5rem}
h4,.finding h3{font-size:1rem;margin:0 0 .3rem}
h1,h2,h3,h4{font-weight:600}
.number-of:empty{display:none}
.number-of{color:var(--ink-faint);font-weight:400;margin-right:.35em}
.p,p,li{max-width:46rem;overflow-wrap:anywhere}
.p{margin:.7rem 0}
li .p{margin:.2rem 0}
.words{white-space:pre-line}
.keep{white-space:nowrap}
a{color:var(--accent)}
.label{font-size:.85rem;color:var(--ink-soft);margin:0;max-width:none}
.banner{border:2px solid var(--beyond);background:var(--beyond-wash);padding:.6rem .9rem;font-weight:600;max-width:none}
.caution{border-left:4px solid var(--unsure);background:var(--unsure-wash);padding:.6rem .9rem;max-width:none}
.imprint{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1rem;margin:1rem 0;font-size:.87rem}
.imprint dt,.evidence dt{color:var(--ink-soft)}
.imprint dd{margin:0;overflow-wrap:anywhere}
code,.mono,.number:not(.word)>summary,.plot-number{font-family:"IBM Plex Mono","DejaVu Sans Mono",Menlo,monospace}
.mono,code{font-size:.9em;overflow-wrap:anywhere}
.number{display:inline}
.number:not([open])::details-content{display:none}
.number[open]{display:inline-block;vertical-align:top;max-width:100%}
.number>summary{display:inline;white-space:nowrap;cursor:pointer;font-size:.93em;list-style:none;border-bottom:1px dotted var(--rule-strong)}
.number>summary::-webkit-details-marker{display:none}
.number>summary:focus-visible,a:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
details.evidence{font-size:.8rem}
details.evidence>summary{display:inline-block;padding:.15rem 0;cursor:pointer;color:var(--ink-soft);border-bottom:1px dotted var(--rule-strong);list-style:none}
details.evidence>summary::-webkit-details-marker{display:none}
details.evidence>summary:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
details.evidence:not([open])::details-content{display:none}
dl.evidence,details.evidence>dl{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.1rem .8rem;margin:.3rem 0 .6rem;padding:.5rem .7rem;border:1px solid var(--rule);background:var(--paper);font-size:.8rem;text-align:left;max-width:34rem;white-space:normal;font-weight:400;color:var(--ink)}
.evidence dd{margin:0;overflow-wrap:anywhere}
.table{margin:1.2rem 0;overflow-x:auto}
table{border-collapse:collapse;width:100%;font-size:.87rem}
caption,figcaption{text-align:left;font-size:.87rem;padding:.3rem 0;color:var(--ink-soft)}
caption strong,figcaption strong{color:var(--ink)}
th,td{padding:.32rem .55rem;border-bottom:1px solid var(--rule);text-align:left;vertical-align:top;overflow-wrap:break-word}
thead th{border-bottom:1.5px solid var(--rule-strong);font-weight:600;color:var(--ink-soft)}
tbody th{font-weight:600}
.end{text-align:right}
td.end{white-space:nowrap}
td.beyond{color:var(--beyond);font-weight:600}
td.inside{color:var(--inside)}
td.unsure{color:var(--unsure)}
.note{font-size:.8rem;color:var(--ink-soft);margin:.35rem 0}
figure{margin:1.2rem 0}
.plot{display:block;width:100%;height:auto}
figure{position:relative}
.plot[tabindex]:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
.zoomed .plot{cursor:grab;touch-action:pan-y}
.zoom{display:flex;justify-content:flex-end;gap:.25rem;margin-bottom:.2rem}
.zoom button{min-width:1.7rem;height:1.7rem;padding:0 .3rem;border:1px solid var(--rule-strong);border-radius:3px;background:var(--sheet);color:var(--ink);font:inherit;line-height:1;cursor:pointer}
.zoom button::before{content:attr(data-sign)}
.zoom button:focus-visible{outline:2px solid var(--accent);outline-offset:1px}
.finding{border:1px solid var(--rule);border-left:4px solid var(--accent);padding:.8rem 1rem;margin:1rem 0}
.finding p{margin:.35rem 0}
.facts{font-size:.87rem;color:var(--ink-soft)}
.captured{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1rem;margin:.5rem 0 0;font-size:.87rem}
.captured dd{margin:0;min-height:1.6rem}
blockquote{margin:1rem 0;padding-left:1rem;border-left:3px solid var(--rule-strong)}
pre{overflow-x:auto;padding:.7rem;background:var(--paper);border:1px solid var(--rule);white-space:pre-wrap;overflow-wrap:anywhere}
hr{border:0;border-top:1px solid var(--rule);margin:1.6rem 0}
.missing{color:var(--beyond);font-weight:600}
footer{margin-top:2.5rem;padding-top:1rem;border-top:2px solid var(--rule-strong);font-size:.87rem}
nav ol{list-style:none;padding:0;margin:.3rem 0 0;columns:2;font-size:.87rem}
nav a{display:inline-block;padding:.19rem 0;text-decoration:none}
@media(max-width:44rem){main{padding:1.2rem 1rem}nav ol{columns:1}}
@page{size:A4;margin:16mm 15mm 18mm}
@media print{.zoom{display:none}body{background:#fff;font-size:10pt}main{border:0;padding:0;max-width:none;background:none}h2,h3,h4,caption{break-after:avoid}figure,.finding,tr{break-inside:avoid}thead{display:table-header-group}table{font-size:8.5pt}th,td{padding:.12rem .25rem}.table .number>summary{font-family:inherit;font-variant-numeric:tabular-nums;font-size:1em}.wide td.end,.wide .number>summary{white-space:normal}.table{overflow:visible}.number>summary{border:0}.number:not([open])>*:not(summary),details.evidence:not([open]){display:none}a{color:inherit}.banner,.caution{background:none}.quick{font-size:8.5pt;line-height:1.3}.quick h1{font-size:13pt;margin:0 0 1mm}.quick h2{font-size:10pt;margin:2mm 0 .6mm;padding-top:.8mm}.quick .banner,.quick .caution{padding:1mm 2mm;margin:1mm 0}.quick .imprint{margin:1mm 0;font-size:8pt}.quick .p,.quick p,.quick li{max-width:none}.quick .p,.quick .table,.quick ul{margin:.8mm 0}.quick li .p{margin:0}.quick table{font-size:7.8pt}.quick th,.quick td{padding:.25mm 1mm}.quick .note{font-size:7.5pt;margin:.5mm 0}.quick .captured{margin:0}.quick footer{margin-top:2mm;padding-top:1mm;font-size:7.5pt}.quick footer p,.quick footer h2,.quick footer h3,.quick footer h3+dl{display:none}}
`;

/**
 * The whole style sheet.
 *
 * @param fonts faces to carry along; with none the reader's own fonts are used
 */
export function pageStyle(fonts: readonly EmbeddedFont[]): string {
  return `${faces(fonts)}:root{color-scheme:light dark;${LIGHT}}@media(prefers-color-scheme:dark){:root{${DARK}}}@media print{:root{color-scheme:light;${LIGHT}}}${RULES.replaceAll('\n', '')}`;
}
