import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';

/** Kinds of picture that the app reads. */
export type PictureKind = 'jpeg' | 'png' | 'webp';

/** What a file's first bytes say about it. */
export interface PictureHeader {
  readonly kind: PictureKind;
  /** Size as stored, before any turn that the camera asks for; `null` when the header does not tell it. */
  readonly stored: { readonly widthPx: number; readonly heightPx: number } | null;
}

/** Enough of a file's beginning to find the size of a picture behind a camera's notes. */
export const HEADER_BYTES = 1 << 20;
const MOST_MEGAPIXELS = 150;
const LARGEST_FILE_MB = 100;

/**
 * Looks at the bytes themselves, since file endings and types from other programs are often wrong.
 * @param head the file's first bytes, `HEADER_BYTES` of them if there are as many
 * @param fileBytes size of the whole file
 * @param name shown in problems
 */
export function readPictureHeader(head: Uint8Array, fileBytes: number, name: string): Result<PictureHeader> {
  if (fileBytes === 0) {
    return bad(name, 'The file is empty.', 'Copy it again from the camera or phone, then open the new copy.');
  }
  const kind = pictureKindOf(head);
  if (kind === null) {
    const other = otherKindOf(head);
    return bad(
      name,
      other
        ? `This is ${other.what}, which cannot be shown here.`
        : 'This is not a picture that is known here.',
      other?.todo ?? 'Open a JPEG, PNG or WebP picture.',
    );
  }
  if (fileBytes > LARGEST_FILE_MB * 1e6) {
    return bad(
      name,
      `The picture file has ${Math.round(fileBytes / 1e6)} MB; the limit is ${LARGEST_FILE_MB} MB.`,
      'Save a smaller copy, for instance as a JPEG at 4000 pixels on the long side, and open that.',
    );
  }
  const stored = sizeOf[kind](new DataView(head.buffer, head.byteOffset, head.byteLength));
  if (stored && stored.widthPx * stored.heightPx > MOST_MEGAPIXELS * 1e6) {
    const megapixels = Math.round((stored.widthPx * stored.heightPx) / 1e6);
    return bad(
      name,
      `The picture is ${stored.widthPx} by ${stored.heightPx} pixels (${megapixels} million); the limit is ${MOST_MEGAPIXELS} million.`,
      'Save a smaller copy, for instance at 4000 pixels on the long side, and open that.',
    );
  }
  return good({ kind, stored });
}

/** JPEG, PNG or WebP by signature; `null` for anything else. */
export function pictureKindOf(head: Uint8Array): PictureKind | null {
  if (startsWith(head, [0xff, 0xd8, 0xff])) return 'jpeg';
  if (startsWith(head, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'png';
  if (textAt(head, 0, 4) === 'RIFF' && textAt(head, 8, 4) === 'WEBP') return 'webp';
  return null;
}

const saveAsJpeg = 'Save or export it as JPEG, then open that copy.';

/** Names common files that are not read here, so that the person knows what to do with them. */
function otherKindOf(head: Uint8Array): { what: string; todo: string } | null {
  if (textAt(head, 4, 4) === 'ftyp') {
    const brand = textAt(head, 8, 4);
    if (['heic', 'heix', 'hevc', 'hevx', 'heim', 'heis', 'mif1', 'msf1'].includes(brand)) {
      return {
        what: 'a HEIC picture as phones make them',
        todo: `${saveAsJpeg} On a phone: share or mail it, or set the camera to its most compatible format.`,
      };
    }
    if (brand === 'avif' || brand === 'avis') return { what: 'an AVIF picture', todo: saveAsJpeg };
    return {
      what: 'a film or sound file',
      todo: 'Take a still picture from it, save that as JPEG, and open it.',
    };
  }
  if (textAt(head, 0, 4) === 'GIF8')
    return { what: 'a GIF picture', todo: 'Save it as PNG, then open that.' };
  if (textAt(head, 0, 4) === '%PDF') {
    return { what: 'a PDF document', todo: 'Export the page as a PNG or JPEG picture, then open that.' };
  }
  if (startsWith(head, [0x49, 0x49, 0x2a, 0x00]) || startsWith(head, [0x4d, 0x4d, 0x00, 0x2a])) {
    return { what: 'a TIFF picture or a camera raw file', todo: saveAsJpeg };
  }
  if (textAt(head, 0, 2) === 'BM') return { what: 'a BMP picture', todo: 'Save it as PNG, then open that.' };
  const opening = textAt(head, 0, 256).trimStart().toLowerCase();
  if (opening.startsWith('<svg') || (opening.startsWith('<?xml') && opening.includes('<svg'))) {
    return { what: 'an SVG drawing', todo: 'Export it as PNG, then open that.' };
  }
  if (opening.startsWith('{')) {
    return {
      what: 'a text file, perhaps a plan',
      todo: 'Open plans and surveys with Open, not as a picture.',
    };
  }
  return null;
}

function startsWith(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, i) => bytes[i] === byte);
}

function textAt(bytes: Uint8Array, from: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(from, from + length));
}

type SizeReader = (view: DataView) => PictureHeader['stored'];

const sizeOf: Record<PictureKind, SizeReader> = { jpeg: jpegSize, png: pngSize, webp: webpSize };

/** PNG: width and height open the IHDR chunk (W3C PNG specification, 11.2.2). */
function pngSize(view: DataView): PictureHeader['stored'] {
  if (view.byteLength < 24) return null;
  return { widthPx: view.getUint32(16), heightPx: view.getUint32(20) };
}

/** JPEG: the frame header SOFn carries height and width (ITU-T T.81, B.2.2); segments before it are skipped. */
function jpegSize(view: DataView): PictureHeader['stored'] {
  let at = 2;
  while (at + 9 < view.byteLength) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) return { widthPx: view.getUint16(at + 7), heightPx: view.getUint16(at + 5) };
    if (marker === 0xda || marker === 0xd9) return null;
    const alone = marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8);
    at += alone ? 2 : 2 + view.getUint16(at + 2);
  }
  return null;
}

/** WebP: lossy, lossless or extended first chunk (RFC 9649, 2.5 to 2.7). */
function webpSize(view: DataView): PictureHeader['stored'] {
  if (view.byteLength < 30) return null;
  const chunk = String.fromCharCode(...new Uint8Array(view.buffer, view.byteOffset + 12, 4));
  const at24 = (at: number) => view.getUint16(at, true) | (view.getUint8(at + 2) << 16);
  if (chunk === 'VP8X') return { widthPx: at24(24) + 1, heightPx: at24(27) + 1 };
  if (chunk === 'VP8L') {
    const bits = view.getUint32(21, true);
    return { widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >>> 14) & 0x3fff) + 1 };
  }
  if (chunk === 'VP8 ') {
    return { widthPx: view.getUint16(26, true) & 0x3fff, heightPx: view.getUint16(28, true) & 0x3fff };
  }
  return null;
}
