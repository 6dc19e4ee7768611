import type { SitePhoto } from '../plan/records.ts';
import type { Mark } from './marks.ts';

/** The site photo in its place; nothing without a photo, at no strength, or without a usable scale. */
export function photoMarks(photo: SitePhoto | null, metresPerPixel: number): Mark[] {
  if (!photo || photo.strength <= 0) return [];
  if (!Number.isFinite(metresPerPixel) || metresPerPixel <= 0) return [];
  return [
    {
      kind: 'photo',
      pictureId: photo.pictureId,
      corner: photo.corner,
      turnDeg: photo.turnDeg,
      metresPerPixel,
      widthPx: photo.widthPx,
      heightPx: photo.heightPx,
      strength: Math.min(1, photo.strength),
    },
  ];
}
