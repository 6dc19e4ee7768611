import type { GState as GraphicsState, jsPDF } from 'jspdf';
import { lettered } from './brush.ts';
import {
  HALO_EM,
  type CirclePart,
  type Page,
  type PaperPart,
  type PathPart,
  type PicturePart,
  type SheetSet,
  type TextPart,
} from './page.ts';

/** Noto Sans as TrueType files; subsets serve. */
export interface SheetFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** An upright picture, as a JPEG or PNG file. */
export interface SheetPicture {
  readonly bytes: Uint8Array;
  readonly mediaType: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

const POINTS_PER_MM = 72 / 25.4;
const FONT = 'NotoSans';

/**
 * Writes sheets as a PDF file, vectors throughout, at exact paper sizes (1 mm is 72 / 25.4 points). A picture that
 * is missing or cannot be read leaves its outline with a line that says so; the rest of the sheet is printed.
 * Rejects with an Error when the sheet set has no pages or the fonts cannot be read.
 */
export async function writePdf(
  sheetSet: SheetSet,
  fonts: SheetFonts,
  pictures: ReadonlyMap<string, SheetPicture>,
): Promise<Uint8Array> {
  const [first, ...others] = sheetSet.pages;
  if (!first) throw new Error('There is no sheet to write. Draw something, or choose a smaller scale.');
  const library = await import('jspdf');
  const format = (page: Page): [number, number] => [page.widthMm, page.heightMm];
  const lie = (page: Page): 'l' | 'p' => (page.widthMm > page.heightMm ? 'l' : 'p');
  const doc = new library.jsPDF({
    unit: 'mm',
    format: format(first),
    orientation: lie(first),
    compress: true,
    putOnlyUsedFonts: true,
    floatPrecision: 5,
  });
  addFont(doc, 'NotoSans-Regular.ttf', 'normal', fonts.regular);
  addFont(doc, 'NotoSans-Bold.ttf', 'bold', fonts.bold);
  doc.setLineJoin('round');
  const writer = new PdfWriter(doc, pictures, library.GState);
  writer.page(first);
  for (const page of others) {
    doc.addPage(format(page), lie(page));
    doc.setLineJoin('round');
    writer.page(page);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}

function addFont(doc: jsPDF, file: string, style: 'normal' | 'bold', bytes: Uint8Array): void {
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  doc.addFileToVFS(file, text);
  doc.addFont(file, FONT, style);
  if (!doc.getFontList()[FONT]?.includes(style)) {
    throw new Error(`The font ${file} cannot be read. Reload the page, then print again.`);
  }
}

type StateMaker = new (state: { opacity: number }) => GraphicsState;

class PdfWriter {
  /** What the file has been told last, so that it is not told again. */
  private told = new Map<string, string>();
  private heightMm = 0;

  constructor(
    private readonly doc: jsPDF,
    private readonly pictures: ReadonlyMap<string, SheetPicture>,
    private readonly State: StateMaker,
  ) {}

  page(page: Page): void {
    this.heightMm = page.heightMm;
    this.told = new Map();
    page.parts.forEach((part) => this.part(part));
  }

  private part(part: PaperPart): void {
    switch (part.kind) {
      case 'path':
        return this.path(part);
      case 'circle':
        return this.circle(part);
      case 'text':
        return this.text(part);
      case 'picture':
        return this.picture(part);
      case 'clip':
        return this.apart(() => {
          const { x, y, w, h } = part.window;
          this.doc.rect(x, y, w, h, null).clip().discardPath();
          part.parts.forEach((inner) => this.part(inner));
        });
    }
  }

  /** Draws with a graphics state of its own, put back afterwards even when drawing fails. */
  private apart(draw: () => void): void {
    const before = new Map(this.told);
    this.doc.saveGraphicsState();
    try {
      draw();
    } finally {
      this.doc.restoreGraphicsState();
      this.told = before;
    }
  }

  private tell(what: string, value: string, say: () => void): void {
    if (this.told.get(what) === value) return;
    say();
    this.told.set(what, value);
  }

  /** Sets pen and fill; gives the painting operator, or null when there is nothing to paint. */
  private paint(part: PathPart | CirclePart): 'S' | 'f*' | 'B*' | null {
    const { pen, fill } = part;
    if (fill) this.tell('fill', fill, () => this.doc.setFillColor(fill));
    if (pen) {
      const dash = pen.dashMm ?? [];
      this.tell('color', pen.color, () => this.doc.setDrawColor(pen.color));
      this.tell('width', String(pen.widthMm), () => this.doc.setLineWidth(pen.widthMm));
      this.tell('dash', dash.join(' '), () => this.doc.setLineDashPattern([...dash], 0));
      const cap = dash.length > 0 ? 'butt' : 'round';
      this.tell('cap', cap, () => this.doc.setLineCap(cap));
    }
    if (pen && fill) return 'B*';
    if (pen) return 'S';
    return fill ? 'f*' : null;
  }

  private path(part: PathPart): void {
    this.withOpacity(part, () => {
      const paint = this.paint(part);
      const lines = part.lines.filter((line) => line.length > 1);
      if (!paint || lines.length === 0) return;
      for (const line of lines) {
        line.forEach(([x, y], i) => (i === 0 ? this.doc.moveTo(x, y) : this.doc.lineTo(x, y)));
        if (part.closed) this.doc.close();
      }
      if (paint === 'S') this.doc.stroke();
      else if (paint === 'f*') this.doc.fillEvenOdd();
      else this.doc.fillStrokeEvenOdd();
    });
  }

  private circle(part: CirclePart): void {
    this.withOpacity(part, () => {
      const paint = this.paint(part);
      if (paint) this.doc.circle(part.at[0], part.at[1], part.radiusMm, paint === 'B*' ? 'DF' : paint);
    });
  }

  private withOpacity(part: PathPart | CirclePart, draw: () => void): void {
    const opacity = part.fillOpacity ?? 1;
    if (!part.fill || opacity >= 1) return draw();
    this.apart(() => {
      this.doc.setGState(new this.State({ opacity }));
      draw();
    });
  }

  private text(part: TextPart): void {
    if (part.text === '') return;
    const { doc } = this;
    doc.setFont(FONT, part.bold ? 'bold' : 'normal');
    doc.setFontSize(part.sizeMm * POINTS_PER_MM);
    doc.setTextColor(part.color);
    // The start is computed here, along the line's own direction.
    const width = part.anchor === 'start' ? 0 : doc.getTextWidth(part.text);
    const back = part.anchor === 'middle' ? width / 2 : width;
    const turn = (part.turnDeg * Math.PI) / 180;
    const x = part.at[0] - back * Math.cos(turn);
    const y = part.at[1] + back * Math.sin(turn);
    const turned = part.turnDeg === 0 ? {} : { angle: part.turnDeg };
    if (part.halo) {
      this.tell('color', part.halo, () => doc.setDrawColor(part.halo!));
      const width = 2 * HALO_EM * part.sizeMm;
      this.tell('width', String(width), () => doc.setLineWidth(width));
      this.tell('dash', '', () => doc.setLineDashPattern([], 0));
      this.tell('cap', 'round', () => doc.setLineCap('round'));
      doc.text(part.text, x, y, { ...turned, renderingMode: 'stroke' });
    }
    doc.text(part.text, x, y, { ...turned, renderingMode: 'fill' });
    // Text sets the fill colour of its own.
    this.told.delete('fill');
  }

  private picture(part: PicturePart): void {
    const picture = this.pictures.get(part.pictureId);
    if (!picture) return this.instead(part, 'The site photo is missing.');
    const format = FORMATS[picture.mediaType];
    if (!format) {
      return this.instead(part, `The site photo (${picture.mediaType}) is neither a JPEG nor a PNG picture.`);
    }
    try {
      this.apart(() => {
        const k = POINTS_PER_MM;
        const turn = (part.turnDeg * Math.PI) / 180;
        const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
        // Page points, y up: the picture stands with its lower left corner in the origin, then is turned about
        // its upper left corner and brought to its place.
        const [w, h] = [part.widthMm * k, part.heightMm * k];
        const [x, y] = [part.at[0] * k, (this.heightMm - part.at[1]) * k];
        this.doc.setGState(new this.State({ opacity: part.opacity }));
        const placed = this.doc.Matrix(cos, sin, -sin, cos, x + h * sin, y - h * cos);
        this.doc.setCurrentTransformationMatrix(placed);
        const top = this.heightMm - part.heightMm;
        this.doc.addImage(picture.bytes, format, 0, top, w / k, h / k, part.pictureId, 'FAST');
      });
    } catch {
      this.instead(part, 'The site photo cannot be read.');
    }
  }

  /** The outline of a picture that cannot be shown, and why. */
  private instead({ at, widthMm: w, heightMm: h, turnDeg }: PicturePart, why: string): void {
    const turn = (turnDeg * Math.PI) / 180;
    const put = (u: number, v: number): [number, number] => [
      at[0] + u * Math.cos(turn) + v * Math.sin(turn),
      at[1] - u * Math.sin(turn) + v * Math.cos(turn),
    ];
    const pen = { color: '#a6abad', widthMm: 0.18 } as const;
    const ring = [put(0, 0), put(w, 0), put(w, h), put(0, h)];
    this.path({ kind: 'path', lines: [ring], closed: true, pen });
    this.text(lettered(put(3, 6), why, 3, { ink: 'soft', turnDeg }));
  }
}

const FORMATS: Readonly<Record<string, string>> = { 'image/jpeg': 'JPEG', 'image/png': 'PNG' };
