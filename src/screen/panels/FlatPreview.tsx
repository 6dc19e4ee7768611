import { useEffect, useMemo, useReducer, useRef, type ReactElement } from 'react';
import { mapped } from '../../base/homography.ts';
import type { Point } from '../../base/point.ts';
import { atSize, warpRows, type Flattening } from '../../derive/index.ts';
import { levelsFor, type PixelGrid } from '../../derive/photo-rectify/index.ts';
import { colorOf } from '../../drawing/index.ts';
import type { SitePhoto } from '../../plan/records.ts';
import { useServices } from '../services.ts';
import { useWords } from '../words/index.ts';

/** The picture of the photo at about a width, as it arrives; null while it is loading. */
export function useBitmap(photo: SitePhoto, widthPx: number): ImageBitmap | null {
  const { pictures } = useServices();
  const [, look] = useReducer((count: number) => count + 1, 0);
  useEffect(() => pictures.subscribe(look), [pictures]);
  return pictures.bitmapFor(photo.pictureId, widthPx / photo.widthPx);
}

/** Width from which the preview is drawn: enough for its size, little enough to be drawn while a mark is dragged. */
const SOURCE_PX = 600;
const WIDTH_PX = 286;
const HEIGHT_PX = 300;

interface Props {
  readonly photo: SitePhoto;
  readonly flattening: Flattening;
}

/** What the photo would look like laid flat, small, with the marks' figure. */
export function FlatPreview({ photo, flattening }: Props): ReactElement {
  const words = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const bitmap = useBitmap(photo, SOURCE_PX);
  const levels = useMemo(() => bitmap && levelsFor(pixelsOf(bitmap), 3), [bitmap]);
  const { flat, rectification } = flattening;
  const shown = Math.min(WIDTH_PX / flat.widthPx, HEIGHT_PX / flat.heightPx);
  const [width, height] = [flat.widthPx, flat.heightPx].map((px) => Math.max(1, Math.round(px * shown)));

  useEffect(() => {
    const pen = canvas.current?.getContext('2d');
    if (!pen || !levels || !width || !height) return;
    const image = pen.createImageData(width, height);
    const map = atSize(flat.toSource, shown, levels[0]!.widthPx / photo.widthPx);
    warpRows(levels, map, width, 0, new Uint32Array(image.data.buffer));
    pen.putImageData(image, 0, 0);
    pen.strokeStyle = colorOf('accent');
    pen.lineWidth = 1.5;
    pen.beginPath();
    for (const mark of rectification.marks) {
      const [x, y]: Point = mapped(flat.toFlat, mark);
      pen.lineTo(x * shown, y * shown);
    }
    pen.closePath();
    pen.stroke();
  }, [levels, flat, rectification, photo.widthPx, shown, width, height]);

  return levels ? (
    <canvas
      ref={canvas}
      className="flat-preview"
      role="img"
      aria-label={words.rectify.preview}
      width={width}
      height={height}
    />
  ) : (
    <p className="quiet-text">{words.rectify.loading}</p>
  );
}

function pixelsOf(bitmap: ImageBitmap): PixelGrid {
  const surface = document.createElement('canvas');
  surface.width = bitmap.width;
  surface.height = bitmap.height;
  const pen = surface.getContext('2d', { willReadFrequently: true })!;
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, surface.width, surface.height);
  pen.drawImage(bitmap, 0, 0);
  const { data } = pen.getImageData(0, 0, surface.width, surface.height);
  return { widthPx: surface.width, heightPx: surface.height, pixels: new Uint32Array(data.buffer) };
}

const LOUPE = { widthPx: 286, heightPx: 120, zoom: 4 } as const;

/** The photo round a pixel of it, enlarged, with a cross on the pixel. */
export function PhotoLoupe({ photo, at }: { readonly photo: SitePhoto; readonly at: Point }): ReactElement {
  const words = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const bitmap = useBitmap(photo, photo.widthPx);
  useEffect(() => {
    const pen = canvas.current?.getContext('2d');
    if (!pen || !bitmap) return;
    const { widthPx, heightPx, zoom } = LOUPE;
    const scale = bitmap.width / photo.widthPx;
    const [across, down] = [(widthPx / zoom) * scale, (heightPx / zoom) * scale];
    pen.imageSmoothingEnabled = false;
    pen.clearRect(0, 0, widthPx, heightPx);
    pen.drawImage(
      bitmap,
      at[0] * scale - across / 2,
      at[1] * scale - down / 2,
      across,
      down,
      0,
      0,
      widthPx,
      heightPx,
    );
    pen.strokeStyle = colorOf('accent');
    pen.lineWidth = 1;
    pen.beginPath();
    pen.moveTo(widthPx / 2, 0);
    pen.lineTo(widthPx / 2, heightPx);
    pen.moveTo(0, heightPx / 2);
    pen.lineTo(widthPx, heightPx / 2);
    pen.stroke();
  }, [bitmap, photo.widthPx, at]);
  return (
    <canvas
      ref={canvas}
      className="flat-preview"
      role="img"
      aria-label={words.rectify.loupe}
      width={LOUPE.widthPx}
      height={LOUPE.heightPx}
    />
  );
}
