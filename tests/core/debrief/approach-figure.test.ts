import { expect, test } from 'vitest';
import { approachPlot } from '@/lib/core/debrief/approach-plots';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { pdfData } from '@/lib/core/debrief/pdf/pdf-data';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import { channelsOf } from '@/lib/server/publish/full-material';
import { blockView } from '@/lib/view/debrief/document-view';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const HALF_ANGLE_RAD = (2 * Math.PI) / 180;
const CORRIDOR: Rule = {
  kind: 'quantity',
  id: 'corridor',
  statement: 'Inside the cone.',
  quantity: 'lateral_offset',
  sense: 'at-most',
  limit: { kind: 'cone', halfAngleRad: HALF_ANGLE_RAD, floorM: 0.3 },
  unit: 'm',
  within: { rangeM: null, axialM: [2, 80], step: null },
  persistsS: 0,
};
const { reconstruction, derived } = reconstruct(
  flownSession({ axial: plannedArrival(), durationS: 2000, rules: [CORRIDOR, RATE_RULE] }),
  TEST_ENGINE,
);
const plotOf = (picture: 'side' | 'above' | 'rate') => {
  const plot = approachPlot(reconstruction, derived, { id: 'figure-1', picture });
  if (plot === null) throw new Error('no picture');
  return plot;
};
const valuesOf = (name: string) =>
  derived.columns.find((column) => column.name === name)?.values ?? new Float64Array();

test('each point of the closing rate is a row of the derived columns, the extremes among them', () => {
  const [range, rate] = [valuesOf('range'), valuesOf('closing_rate')];
  const rows = new Set(
    Array.from(range, (m, row) => `${m.toPrecision(6)} ${(rate[row] ?? 0).toPrecision(6)}`),
  );
  const plot = plotOf('rate');
  const [flown] = plot.series;
  const points = (flown?.x ?? []).flatMap((m, at) => {
    const mps = flown?.y[at] ?? null;
    return mps === null ? [] : [`${m.toPrecision(6)} ${mps.toPrecision(6)}`];
  });
  expect(points.length).toBeGreaterThan(300);
  expect(points.filter((point) => !rows.has(point))).toEqual([]);
  const finite = [...rate].filter(Number.isFinite);
  const drawn = (flown?.y ?? []).filter((mps) => mps !== null);
  expect(Math.max(...drawn)).toBeCloseTo(Math.max(...finite), 5);
  expect(Math.min(...drawn)).toBeCloseTo(Math.min(...finite), 5);
  expect(plot.x.from).toBeGreaterThan(plot.x.to);
  expect(plot.series.map(({ id }) => id).slice(1)).toEqual([
    'planned',
    'planned.tolerance',
    `limit.${RATE_RULE.id}.0`,
  ]);
});

// Geometry: a cone of half angle a has the radius x tan a at the distance x from its tip.
test('from the side the corridor is the cone of the rule on both sides, inside its stretch', () => {
  const corridor = plotOf('side').series.find(({ id }) => id === 'limit.corridor');
  const points = (corridor?.x ?? []).map((x, at) => [x, corridor?.y[at] ?? null] as const);
  const sides = points.flatMap(([x, y]) => (y === null ? [] : [[x, y] as const]));
  expect(sides.length).toBeGreaterThan(40);
  for (const [x, y] of sides) {
    expect(Math.abs(y)).toBeCloseTo(Math.max(0.3, x * Math.tan(HALF_ANGLE_RAD)), 3);
  }
  expect(Math.min(...sides.map(([x]) => x))).toBe(2);
  expect(sides.some(([, y]) => y < 0)).toBe(true);
});

test('a draft has the pictures where they can be drawn, in every format, told in words', () => {
  const material = makeMaterial({ ...sampleMaterial, reconstruction, derived });
  const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
  const drafted = (doc.content ?? []).filter(({ type }) => type === 'approachFigure');
  expect(drafted.map(({ attrs }) => attrs?.picture)).toEqual(['side', 'rate']);
  expect([...channelsOf({ type: 'doc', content: drafted })].sort()).toEqual([
    ...['axial_distance', 'closing_rate', 'offset_z', 'range'],
  ]);
  const resolved = resolveDocument({ type: 'doc', content: drafted }, material, BUILT_IN_BLOCKS);
  const sealed = sealRecord(
    makeRecord(resolved, material, {
      ...{ number: 7, revision: 1, title: 'Arrival', publishedBy: 'Somebody' },
      ...{ publishedAtIso: '2016-03-10T08:00:00.000Z', previousSha256: null },
    }),
  );
  const figures = sealed.record.blocks.flatMap((block) => (block.kind === 'figure' ? [block] : []));
  expect(figures.map(({ alt }) => alt)).toEqual([
    expect.stringMatching(
      /^Offset z from .* m to the port at the right\. Beside it: Limit: Corridor/,
    ),
    expect.stringMatching(/^Closing rate from .* m\/s, .*Planned closing rate.*Limit: /),
  ]);
  const html = renderHtml(sealed, []);
  expect(html.match(/<svg /g)).toHaveLength(2);
  const opened = html.split('<details class="evidence">').slice(1);
  expect(opened).toHaveLength(2);
  for (const [at, { evidence = -1 }] of figures.entries()) {
    const entry = sealed.record.evidence[evidence];
    const files = reconstruction.sources.filter(({ type }) => type === 'telemetry');
    expect(entry?.sources.map((index) => sealed.record.sources[index]?.sha256)).toEqual(
      files.map(({ sha256 }) => sha256),
    );
    expect(entry).toMatchObject({ fromS: derived.tS[0], toS: derived.tS.at(-1) });
    expect(entry?.channels.length).toBeGreaterThan(0);
    for (const { sha256 } of files) expect(opened[at]).toContain(sha256.slice(0, 16));
    for (const words of [TEST_ENGINE.engine, 'Straight-in arrival, version 2', 'Arrival rules']) {
      expect(opened[at]).toContain(words);
    }
    const frame = { ...sealed.record, sessionId: 'session-1', basis: sealed.record };
    const block = sealed.record.blocks.filter(({ kind }) => kind === 'figure')[at];
    const view = block === undefined ? null : blockView(block, frame);
    expect(view).toMatchObject({
      evidence: { value: 'Evidence', method: entry?.method, stretch: { text: expect.any(String) } },
    });
  }
  expect(pdfData(sealed, 'a4', (text) => text).figures.size).toBe(2);
  const media = [...renderDocx(sealed).keys()].filter((name) => name.endsWith('.emf'));
  expect(media).toHaveLength(2);
  const bare = makeMaterial({
    ...sampleMaterial,
    derived: { tS: new Float64Array(), columns: [] },
  });
  expect(resolveDocument({ type: 'doc', content: drafted }, bare, BUILT_IN_BLOCKS).blocks).toEqual([
    expect.objectContaining({ kind: 'missing', message: expect.stringContaining('no position') }),
    expect.objectContaining({ kind: 'missing' }),
  ]);
});
