/**
 * Keeps what a painting gives as long as nothing that it depends on changes, for things that are slow to paint and lie
 * below what changes often. The first painting goes straight on to the canvas, so that panning and zooming pay nothing
 * for it; only when the same is asked for again is it kept.
 */
export class KeptPicture {
  private on: readonly unknown[] = [];
  private kept: HTMLCanvasElement | null = null;

  /** The next painting is made anew, e.g. as a picture has arrived. */
  forget(): void {
    this.on = [];
  }

  /** @param on all that the painting depends on, compared by identity */
  paint(
    context: CanvasRenderingContext2D,
    on: readonly unknown[],
    paint: (context: CanvasRenderingContext2D) => void,
  ): void {
    const { width, height } = context.canvas;
    const same = on.length === this.on.length && on.every((one, i) => Object.is(one, this.on[i]));
    const fits = !this.kept || (this.kept.width === width && this.kept.height === height);
    if (!same || !fits) {
      this.on = on;
      this.kept = null;
      paint(context);
      return;
    }
    this.kept ??= painted(context, paint);
    context.save();
    context.resetTransform();
    context.drawImage(this.kept, 0, 0);
    context.restore();
  }
}

function painted(
  like: CanvasRenderingContext2D,
  paint: (context: CanvasRenderingContext2D) => void,
): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = like.canvas.width;
  canvas.height = like.canvas.height;
  const context = canvas.getContext('2d')!;
  context.setTransform(like.getTransform());
  paint(context);
  return canvas;
}
