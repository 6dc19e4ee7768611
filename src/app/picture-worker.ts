import * as Comlink from 'comlink';
import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';
import { determinant, type Homography } from '../base/homography.ts';
import { levelsFor, warpRows, type PixelGrid } from '../derive/photo-rectify/index.ts';
import { pictureIdOf } from './content-id.ts';
import { HEADER_BYTES, readPictureHeader } from './picture-bytes.ts';
import { LEVELS, levelSize, storedSize } from './picture-levels.ts';

/** JPEG quality of the stored copy: no visible loss under a plan. */
const QUALITY = 0.85;
/** Pictures with transparent parts stay PNG up to this size; larger ones go on white as JPEG. */
const LARGEST_PNG_PIXELS = 4e6;

export interface PreparedPicture {
  readonly pictureId: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** The stored copy. */
  readonly blob: Blob;
  /** Whole, half, quarter, eighth. */
  readonly levels: readonly ImageBitmap[];
}

/** How a picture is to be laid flat. */
export interface FlatOrder {
  /** From a pixel of the flat picture to one of the stored copy. */
  readonly toSource: Homography;
  /** Size of the flat picture. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Size of the stored copy for which the order was made. */
  readonly source: { readonly widthPx: number; readonly heightPx: number };
  /** Names this piece of work, to call it off. */
  readonly job: string;
}

/** Work that was called off while it was under way. */
const calledOff = new Set<string>();
class CalledOff extends Error {}

/** Pixels drawn between two looks at the post, about 30 ms of work. */
const BAND_PIXELS = 1e6;
/** Shares of the work by time, as measured: decoding and reading, drawing; the rest is for the stored copy. */
const READ_SHARE = 0.2;
const DRAWN_SHARE = 0.6;

const api = {
  /**
   * Makes the upright copy that is stored with the plan, and its smaller levels for drawing.
   *
   * The copy is always encoded anew: the turn that the camera noted is applied once (the decoder does it) and the
   * camera's notes, the position among them, stay behind. So a shared plan does not tell where the photo was taken.
   */
  prepare(file: Blob, name: string): Promise<Result<PreparedPicture>> {
    return decoded(file, name, async (bitmap) => {
      const size = storedSize({ widthPx: bitmap.width, heightPx: bitmap.height });
      const whole = scaled(bitmap, size.widthPx, size.heightPx);
      const levels = levelsOf(whole.transferToImageBitmap());
      const transparent = hasTransparency(levels.at(-1)!);
      const png = transparent && size.widthPx * size.heightPx <= LARGEST_PNG_PIXELS;
      const blob = await encoded(levels[0]!, png);
      const drawn = transparent && !png ? levelsOf(await createImageBitmap(blob)) : levels;
      return { ...size, blob, levels: drawn, pictureId: await idOf(blob) };
    });
  },

  /**
   * Makes the flat picture of a stored copy, white where the copy shows nothing of it.
   * @param progress hears the share of the work that is done, 0 to 1
   */
  flatten(
    blob: Blob,
    name: string,
    order: FlatOrder,
    progress: (share: number) => void,
  ): Promise<Result<PreparedPicture>> {
    const { toSource, widthPx, heightPx, source, job } = order;
    const goOn = async (share: number): Promise<void> => {
      progress(share);
      await nextTurn();
      if (calledOff.has(job)) throw new CalledOff();
    };
    return decoded(blob, name, async (bitmap) => {
      try {
        if (bitmap.width !== source.widthPx || bitmap.height !== source.heightPx) {
          throw new Error(
            `It is ${bitmap.width} by ${bitmap.height} pixels, the plan was drawn on one of ${source.widthPx} by ${source.heightPx}.`,
          );
        }
        if (!(Math.abs(determinant(toSource)) > 0)) throw new Error('Its marks give no flat picture.');
        await goOn(0);
        const levels = levelsFor(pixelsOf(bitmap), LEVELS);
        await goOn(READ_SHARE);
        const canvas = new OffscreenCanvas(widthPx, heightPx);
        const pen = penOf(canvas);
        const rows = Math.max(1, Math.ceil(BAND_PIXELS / widthPx));
        for (let row = 0; row < heightPx; row += rows) {
          const band = pen.createImageData(widthPx, Math.min(rows, heightPx - row));
          warpRows(levels, toSource, widthPx, row, new Uint32Array(band.data.buffer));
          pen.putImageData(band, 0, row);
          await goOn(READ_SHARE + (DRAWN_SHARE - READ_SHARE) * Math.min(1, (row + rows) / heightPx));
        }
        const flat = await canvas.convertToBlob({ type: 'image/jpeg', quality: QUALITY });
        const drawn = levelsOf(canvas.transferToImageBitmap());
        return { widthPx, heightPx, blob: flat, levels: drawn, pictureId: await idOf(flat) };
      } finally {
        calledOff.delete(job);
      }
    });
  },

  /** Calls off a piece of work; it ends at its next look at the post, with a problem. */
  callOff(job: string): void {
    calledOff.add(job);
  },

  /** Decodes a stored copy as it is. */
  load(blob: Blob, name: string): Promise<Result<PreparedPicture>> {
    return decoded(blob, name, async (bitmap) => {
      const { width: widthPx, height: heightPx } = bitmap;
      const whole = scaled(bitmap, widthPx, heightPx).transferToImageBitmap();
      return { widthPx, heightPx, blob, levels: levelsOf(whole), pictureId: await idOf(blob) };
    });
  },
};
export type PictureApi = typeof api;

Comlink.expose(api, self);

/** Checks and decodes a file, and turns every failure into a problem that names the file. */
async function decoded(
  file: Blob,
  name: string,
  work: (bitmap: ImageBitmap) => Promise<PreparedPicture>,
): Promise<Result<PreparedPicture>> {
  let bitmap: ImageBitmap | null = null;
  try {
    const head = new Uint8Array(await file.slice(0, HEADER_BYTES).arrayBuffer());
    const header = readPictureHeader(head, file.size, name);
    if (!header.ok) return header;
    try {
      bitmap = await createImageBitmap(file);
    } catch {
      return bad(
        name,
        `The ${header.value.kind.toUpperCase()} picture is damaged or incomplete and cannot be decoded.`,
        'Copy it again from where it came from, or open it in a picture viewer and save it as a new JPEG.',
      );
    }
    const picture = await work(bitmap);
    // The levels move to the page instead of being copied.
    return Comlink.transfer(good(picture), [...picture.levels]);
  } catch (error) {
    if (error instanceof CalledOff) return bad(name, 'The work was called off.', 'Start it again.');
    return bad(
      name,
      `The picture could not be read. ${error instanceof Error ? error.message : String(error)}`,
      'Close other windows if memory is short, or save a smaller copy as JPEG and open that.',
    );
  } finally {
    bitmap?.close();
  }
}

function scaled(source: ImageBitmap, widthPx: number, heightPx: number): OffscreenCanvas {
  const canvas = new OffscreenCanvas(widthPx, heightPx);
  const pen = penOf(canvas);
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(source, 0, 0, widthPx, heightPx);
  return canvas;
}

function levelsOf(whole: ImageBitmap): ImageBitmap[] {
  const levels = [whole];
  for (let level = 1; level < LEVELS; level++) {
    const size = levelSize({ widthPx: whole.width, heightPx: whole.height }, level);
    levels.push(scaled(levels[level - 1]!, size.widthPx, size.heightPx).transferToImageBitmap());
  }
  return levels;
}

function encoded(bitmap: ImageBitmap, png: boolean): Promise<Blob> {
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const pen = penOf(canvas);
  if (!png) {
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
  }
  pen.drawImage(bitmap, 0, 0);
  return canvas.convertToBlob(png ? { type: 'image/png' } : { type: 'image/jpeg', quality: QUALITY });
}

/** Looks at the smallest level, in which every transparent spot has left its trace. */
function hasTransparency(smallest: ImageBitmap): boolean {
  const canvas = new OffscreenCanvas(smallest.width, smallest.height);
  const pen = penOf(canvas);
  pen.drawImage(smallest, 0, 0);
  const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
  for (let at = 3; at < data.length; at += 4) if (data[at]! < 255) return true;
  return false;
}

function penOf(canvas: OffscreenCanvas): OffscreenCanvasRenderingContext2D {
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('There is no memory for a picture of this size.');
  return pen;
}

/** All pixels, on white where the picture lets something through. */
function pixelsOf(bitmap: ImageBitmap): PixelGrid {
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (!pen) throw new Error('There is no memory for a picture of this size.');
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(bitmap, 0, 0);
  const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
  return { widthPx: canvas.width, heightPx: canvas.height, pixels: new Uint32Array(data.buffer) };
}

/** Lets messages that have come meanwhile be read. */
function nextTurn(): Promise<void> {
  return new Promise((go) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      go();
    };
    port2.postMessage(null);
  });
}

async function idOf(blob: Blob): Promise<string> {
  return pictureIdOf(new Uint8Array(await blob.arrayBuffer()));
}
