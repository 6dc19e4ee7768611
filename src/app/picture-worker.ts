import * as Comlink from 'comlink';
import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';
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

async function idOf(blob: Blob): Promise<string> {
  return pictureIdOf(new Uint8Array(await blob.arrayBuffer()));
}
