import { bad, good } from '../base/result.ts';
import type { Problem, Result } from '../base/result.ts';
import { openAnything, writePlan } from '../plan/file.ts';
import type { Picture } from '../plan/file.ts';
import type { Plan, SitePhoto } from '../plan/records.ts';
import { pictureKindOf } from './picture-bytes.ts';
import type { Pictures } from './pictures.ts';

/** A plan as it came from a file, with what was left out or repaired on the way. */
export interface OpenedFile {
  readonly kind: 'plan' | 'survey';
  readonly name: string;
  readonly plan: Plan;
  readonly notices: readonly Problem[];
}

const LARGEST_FILE_MB = 200;

/**
 * The plan as the text of a file that stands alone: its picture is embedded. A picture that cannot be had is
 * left out and told as a notice, since the drawing is worth more than the photo under it.
 */
export async function planFileText(
  plan: Plan,
  pictures: Pick<Pictures, 'blobFor'>,
): Promise<{ readonly text: string; readonly notices: readonly Problem[] }> {
  const { photo } = plan;
  if (!photo) return { text: writePlan(plan, null), notices: [] };
  const blob = await pictures.blobFor(photo.pictureId).catch(() => null);
  if (!blob) return { text: writePlan(plan, null), notices: [pictureMissing(photo)] };
  const base64 = await base64Of(blob);
  return { text: writePlan(plan, { mediaType: blob.type || 'image/jpeg', base64 }), notices: [] };
}

/** Saves the plan as a download; gives the file's name, and notices such as a missing picture. */
export async function savePlanFile(
  plan: Plan,
  pictures: Pick<Pictures, 'blobFor'>,
): Promise<Result<{ readonly name: string; readonly notices: readonly Problem[] }>> {
  const name = planFileName(plan.site.name);
  try {
    const { text, notices } = await planFileText(plan, pictures);
    download(new Blob([text], { type: 'application/json' }), name);
    return good({ name, notices });
  } catch (error) {
    return bad(
      name,
      `The plan could not be saved as a file. ${error instanceof Error ? error.message : String(error)}`,
      'Try again; the plan is still open here.',
    );
  }
}

/**
 * Reads a plan or survey file. The open plan is not touched: put the answer in its place only when it is good.
 */
export async function openPlanFile(
  file: File,
  pictures: Pick<Pictures, 'restore' | 'blobFor'>,
): Promise<Result<OpenedFile>> {
  if (file.size > LARGEST_FILE_MB * 1e6) {
    return bad(
      file.name,
      `The file has ${Math.round(file.size / 1e6)} MB; the limit is ${LARGEST_FILE_MB} MB.`,
      'Check that it is a plan file. A plan with its picture rarely takes more than 5 MB.',
    );
  }
  let text: string;
  try {
    text = await file.text();
  } catch (error) {
    return bad(
      file.name,
      `The file could not be read. ${error instanceof Error ? error.message : String(error)}`,
      'It may have been moved, or a drive may be away. Choose it again.',
    );
  }
  return openPlanText(text, file.name, pictures);
}

/** The same for text that is at hand already. */
export async function openPlanText(
  text: string,
  name: string,
  pictures: Pick<Pictures, 'restore' | 'blobFor'>,
): Promise<Result<OpenedFile>> {
  const opened = openAnything(text);
  if (!opened.ok) {
    const { where, what, todo } = opened.problem;
    return bad(where === 'file' ? name : `${name}, ${where}`, what, todo);
  }
  const { kind, plan, picture } = opened.value;
  const { photo } = plan;
  if (!photo) return good({ kind, name, plan, notices: opened.value.notices });
  if (!picture) {
    // The reader cannot know that the picture is stored in this browser.
    const stored = (await pictures.blobFor(photo.pictureId).catch(() => null)) !== null;
    const notices = opened.value.notices.filter((notice) => !stored || notice.where !== 'picture');
    return good({ kind, name, plan, notices });
  }
  const placed = await placePicture(photo, picture, pictures);
  return good({
    kind,
    name,
    plan: { ...plan, photo: placed.photo },
    notices: [...opened.value.notices, ...placed.notices],
  });
}

async function placePicture(
  photo: SitePhoto,
  picture: Picture,
  pictures: Pick<Pictures, 'restore'>,
): Promise<{ readonly photo: SitePhoto; readonly notices: readonly Problem[] }> {
  const bytes = bytesOf(picture.base64);
  if (!bytes) {
    return {
      photo,
      notices: [
        {
          where: 'picture.base64',
          what: 'The embedded picture is damaged.',
          todo: 'Add the picture again; all else of the plan is there.',
        },
      ],
    };
  }
  const restored = await pictures.restore(new Blob([bytes], { type: picture.mediaType }), photo.name);
  if (!restored.ok) return { photo, notices: [restored.problem] };
  const { pictureId, widthPx, heightPx } = restored.value;
  const sameSize = widthPx === photo.widthPx && heightPx === photo.heightPx;
  return {
    // The id stands for the bytes; a file edited elsewhere may name another.
    photo: { ...photo, pictureId },
    notices: sameSize
      ? []
      : [
          {
            where: 'picture',
            what: `The picture is ${widthPx} by ${heightPx} pixels; the plan was drawn on one of ${photo.widthPx} by ${photo.heightPx}.`,
            todo: 'Check the scale against a length that you know.',
          },
        ],
  };
}

function pictureMissing(photo: SitePhoto): Problem {
  return {
    where: photo.name,
    what: 'The site photo is not stored here, so the file was saved without it.',
    todo: 'Add the photo again and save once more. Its scale is kept.',
  };
}

/** File name for a site: its name without what file systems refuse, at most 80 characters. */
export function planFileName(siteName: string): string {
  const plain = siteName
    .normalize('NFC')
    // eslint-disable-next-line no-control-regex
    .replace(/[\u0000-\u001f<>:"/\\|?*\u007f]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/^[.\s]+|[.\s]+$/g, '');
  const short = [...plain].slice(0, 80).join('').trim();
  // Some systems reserve these names whatever follows the dot.
  const reserved = /^(con|prn|aux|nul|com\d|lpt\d)$/i.test(short);
  return `${short === '' ? 'plan' : reserved ? `${short} plan` : short}.dripwright.json`;
}

/** Hands a file to the browser's download. */
export function download(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // Some browsers start the download only after this turn.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** Bytes as base64 (RFC 4648), in slices that keep the call stack small. */
export async function base64Of(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  // A multiple of three, so that the pieces join without padding between them.
  const slice = 3 * 8192;
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += slice) {
    pieces.push(btoa(String.fromCharCode(...bytes.subarray(at, at + slice))));
  }
  return pieces.join('');
}

/** The bytes of base64 text; `null` when it is none. */
export function bytesOf(base64: string): Uint8Array<ArrayBuffer> | null {
  try {
    const text = atob(base64);
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    return bytes;
  } catch {
    return null;
  }
}

/** Names and media types of plant lists. Workbooks go there too: the reader of lists says how to make text of them. */
const LIST_NAME = /\.(?:csv|tsv|tab|txt|xlsx?|xlsm|xlsb|ods|numbers)$/i;
const LIST_TYPE = /^text\/(?:csv|comma-separated-values|tab-separated-values)\b/i;

/**
 * Whether a dropped or pasted file is to be opened as a plan, taken in as a picture or read as a plant list, by its
 * first bytes, then by its name. A file named as JSON that is neither goes as a plan: its reader tells what is wrong
 * with the text.
 */
export async function kindOfFile(file: Blob): Promise<'plan' | 'picture' | 'plants'> {
  const head = new Uint8Array(await file.slice(0, 64).arrayBuffer());
  const text = new TextDecoder().decode(head).trimStart();
  if (text.startsWith('{') || text.startsWith('[')) return 'plan';
  const name = file instanceof File ? file.name : '';
  if (pictureKindOf(head) !== null) return 'picture';
  if (/\.json$/i.test(name)) return 'plan';
  return LIST_NAME.test(name) || LIST_TYPE.test(file.type) ? 'plants' : 'picture';
}
