import type { Site } from '../plan/records.ts';
import { lettered, letteredLines, ruled } from './brush.ts';
import { shortened, textWidth, wrappedTo } from './lettering.ts';
import type { Frame, PaperPart } from './page.ts';
import { WORDS } from './words.ts';

export interface TitleFields {
  readonly site: Site;
  readonly date: string;
  readonly scale: string;
  readonly paper: string;
  readonly sheet: number;
  readonly sheets: number;
  readonly title: string;
  /** A plain line on what the figures are worth. */
  readonly remark: string;
  /** What the checks still say, in a line; empty for nothing. */
  readonly open: string;
}

/** A field that had to be shortened in the block, in full. */
export interface Overlong {
  readonly label: string;
  readonly text: string;
}

export interface LaidTitle {
  readonly parts: readonly PaperPart[];
  readonly overlong: readonly Overlong[];
}

/** The title block: project, client, address, by, date, scale and sheet, notes and the caution. */
export function titleBlock(fields: TitleFields, box: Frame, f: number): LaidTitle {
  const parts: PaperPart[] = [];
  const overlong: Overlong[] = [];
  const pad = 2.4 * f;
  const rule = (y: number): void => {
    parts.push(ruled([box.x, y], [box.x + box.w, y], 'line', 0.18));
  };
  const cell = (label: string, value: string, x: number, y: number, w: number, size = 2.8): void => {
    parts.push(lettered([x + pad, y + 2.7 * f], label, 1.8 * f, { ink: 'soft' }));
    const text = shortened(value, size * f, false, w - 2 * pad);
    if (text !== value) overlong.push({ label, text: value });
    parts.push(lettered([x + pad, y + (3.4 + size) * f], text, size * f));
  };
  const { site } = fields;
  let y = box.y;
  rule(y);

  const project = site.name || WORDS.untitled;
  const inner = box.w - 2 * pad;
  const size = textWidth(project, 4.6 * f, true) <= inner ? 4.6 * f : 3.4 * f;
  const name = wrappedTo(project, size, true, inner, 2);
  if (!name.whole) overlong.push({ label: WORDS.project, text: project });
  parts.push(lettered([box.x + pad, y + 3 * f], fields.title, 1.9 * f, { ink: 'accent', bold: true }));
  const lead = size * 1.18;
  const start = y + 4 * f + (11 * f - name.lines.length * lead) / 2 + size * 0.82;
  parts.push(...letteredLines([box.x + pad, start], name.lines, size, lead, { bold: true }));
  y += 15.5 * f;
  rule(y);
  cell(WORDS.client, site.client, box.x, y, box.w);
  y += 7.6 * f;
  rule(y);
  cell(WORDS.address, site.address, box.x, y, box.w);
  y += 7.6 * f;
  rule(y);
  const half = box.w / 2;
  cell(WORDS.drawnBy, site.drawnBy, box.x, y, half);
  cell(WORDS.date, fields.date, box.x + half, y, half);
  const columnTop = y;
  y += 7.6 * f;
  rule(y);
  cell(WORDS.scale, fields.scale, box.x, y, half, 3.4);
  cell(WORDS.sheet, WORDS.sheetOf(fields.sheet, fields.sheets), box.x + half, y, half, 3.4);
  y += 8.4 * f;
  parts.push(ruled([box.x + half, columnTop], [box.x + half, y], 'line', 0.18));
  rule(y);
  parts.push(lettered([box.x + pad, y + 2.9 * f], fields.paper, 1.8 * f, { ink: 'soft' }));
  y += 4.2 * f;
  rule(y);

  const notes: { text: string; bold: boolean; most: number; label: string }[] = [
    { text: WORDS.caution, bold: true, most: 4, label: '' },
    ...(fields.open ? [{ text: fields.open, bold: true, most: 2, label: '' }] : []),
    { text: fields.remark, bold: false, most: 3, label: '' },
  ];
  if (site.notes) notes.push({ text: site.notes, bold: false, most: 4, label: WORDS.notes });
  let line = y + 3.6 * f;
  const foot = box.y + box.h - 1.4 * f;
  for (const { text, bold, most, label } of notes) {
    const room = Math.floor((foot - line) / (2.9 * f)) + 1;
    const laid = wrappedTo(text, 2.1 * f, bold, inner, Math.max(1, Math.min(most, room)));
    if (!laid.whole) overlong.push({ label: label || WORDS.notes, text });
    parts.push(...letteredLines([box.x + pad, line], laid.lines, 2.1 * f, 2.9 * f, { bold }));
    line += laid.lines.length * 2.9 * f + 1 * f;
  }
  return { parts, overlong };
}
