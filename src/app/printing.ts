import { writePdf, type SheetFonts, type SheetPicture, type SheetSet } from '../sheet/index.ts';
import { download } from './files.ts';
import type { Pictures } from './pictures.ts';

const fontAddress = (style: 'Regular' | 'Bold') => `${import.meta.env.BASE_URL}fonts/NotoSans-${style}.ttf`;

async function bytesFrom(address: string): Promise<Uint8Array> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address} could not be loaded (${answer.status}).`);
  return new Uint8Array(await answer.arrayBuffer());
}

async function loadFonts(): Promise<SheetFonts> {
  const [regular, bold] = await Promise.all([
    bytesFrom(fontAddress('Regular')),
    bytesFrom(fontAddress('Bold')),
  ]);
  return { regular, bold };
}
let fonts: Promise<SheetFonts> | null = null;

/** A PDF holds JPEG and PNG only; anything else is drawn over as JPEG. */
async function printable(blob: Blob, bitmap: ImageBitmap): Promise<Blob> {
  if (blob.type === 'image/jpeg' || blob.type === 'image/png') return blob;
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  canvas.getContext('2d')!.drawImage(bitmap, 0, 0);
  return canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
}

/** The site photo as the sheets need it; an empty map when there is none. */
async function picturesFor(
  pictureId: string | undefined,
  pictures: Pictures,
): Promise<Map<string, SheetPicture>> {
  const found = new Map<string, SheetPicture>();
  const blob = pictureId ? await pictures.blobFor(pictureId) : null;
  if (!pictureId || !blob) return found;
  const bitmap = await createImageBitmap(blob);
  const ready = await printable(blob, bitmap);
  found.set(pictureId, {
    bytes: new Uint8Array(await ready.arrayBuffer()),
    mediaType: ready.type,
    widthPx: bitmap.width,
    heightPx: bitmap.height,
  });
  bitmap.close();
  return found;
}

/** Writes the sheets as a PDF and hands it over as a download. Rejects with an Error that says what failed. */
export async function printSheets(
  sheets: SheetSet,
  name: string,
  pictureId: string | undefined,
  pictures: Pictures,
): Promise<void> {
  fonts ??= loadFonts();
  try {
    const [loaded, found] = await Promise.all([fonts, picturesFor(pictureId, pictures)]);
    const bytes = await writePdf(sheets, loaded, found);
    download(new Blob([bytes as BlobPart], { type: 'application/pdf' }), name);
  } catch (error) {
    fonts = null;
    throw error;
  }
}
