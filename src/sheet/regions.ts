import type { Frame } from './page.ts';
import { paperById, paperSize, type Orientation, type PaperId } from './paper.ts';

/** How one sheet is divided. */
export interface Regions {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Inside the margins. */
  readonly frame: Frame;
  /** Where the drawing is seen. */
  readonly window: Frame;
  /** Under the drawing: scale bar, north arrow and check bar. */
  readonly bars: Frame;
  /** Beside or under the drawing: legend, key plan, title block. */
  readonly strip: Frame;
  /** Title block inside the strip, and the rest of the strip. */
  readonly title: Frame;
  readonly legend: Frame;
  /** Key plan; without size on a single sheet. */
  readonly key: Frame;
  /** Size of the border's lettering against that of the smallest sheets. */
  readonly lettering: number;
}

const MARGIN_MM = 10;
const BARS_MM = 15;

/**
 * Divides a sheet. Landscape sheets carry the strip on the right, portrait ones at the foot: the window keeps the
 * sheet's own proportions. Tiled sheets leave room for a key plan; the window is the same.
 */
export function regionsOf(paperId: PaperId, orientation: Orientation, tiled = false): Regions {
  const paper = paperById(paperId);
  const { widthMm, heightMm } = paperSize(paper, orientation);
  const f = paper.lettering;
  const frame = framed(MARGIN_MM, MARGIN_MM, widthMm - 2 * MARGIN_MM, heightMm - 2 * MARGIN_MM);
  const barsH = BARS_MM * f;
  if (orientation === 'landscape') {
    const stripW = 62 * f;
    const titleH = 76 * f;
    const keyH = tiled ? 32 * f : 0;
    const strip = framed(frame.x + frame.w - stripW, frame.y, stripW, frame.h);
    const legendH = strip.h - titleH - keyH;
    return {
      widthMm,
      heightMm,
      frame,
      lettering: f,
      window: framed(frame.x, frame.y, frame.w - stripW, frame.h - barsH),
      bars: framed(frame.x, frame.y + frame.h - barsH, frame.w - stripW, barsH),
      strip,
      legend: framed(strip.x, strip.y, strip.w, legendH),
      key: framed(strip.x, strip.y + legendH, strip.w, keyH),
      title: framed(strip.x, strip.y + strip.h - titleH, strip.w, titleH),
    };
  }
  const stripH = 76 * f;
  const titleW = 66 * f;
  const keyW = tiled ? 34 * f : 0;
  const strip = framed(frame.x, frame.y + frame.h - stripH, frame.w, stripH);
  const legendW = strip.w - titleW - keyW;
  return {
    widthMm,
    heightMm,
    frame,
    lettering: f,
    window: framed(frame.x, frame.y, frame.w, frame.h - stripH - barsH),
    bars: framed(frame.x, strip.y - barsH, frame.w, barsH),
    strip,
    legend: framed(strip.x, strip.y, legendW, strip.h),
    key: framed(strip.x + legendW, strip.y, keyW, strip.h),
    title: framed(strip.x + strip.w - titleW, strip.y, titleW, strip.h),
  };
}

function framed(x: number, y: number, w: number, h: number): Frame {
  return { x, y, w, h };
}

/** The frame with a margin taken off on every side. */
export function inset({ x, y, w, h }: Frame, by: number): Frame {
  return { x: x + by, y: y + by, w: w - 2 * by, h: h - 2 * by };
}
