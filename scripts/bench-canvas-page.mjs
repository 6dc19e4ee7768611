/**
 * What the canvas bench does inside of the page. Each function is handed to the page as text, so none uses anything
 * around it.
 */

/** Lets synthetic pointers be captured, and stops the clock's even beat from hiding differences. */
export function preparePage() {
  Element.prototype.setPointerCapture = () => {};
  Element.prototype.releasePointerCapture = () => {};
}

/**
 * Drives the app by pointer and wheel events, one each frame, and gives the time of each frame, ms.
 * @param kind `pan`: the view is dragged to and fro; `zoom`: the wheel turns in and out; `drag`: the corner at `from` is
 * dragged round
 */
export async function appFrames({ kind, count, from }) {
  const stage = document.querySelector('.canvas-stage');
  const box = stage.getBoundingClientRect();
  const send = (type, [x, y], more = {}) =>
    stage.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        cancelable: true,
        pointerId: 7,
        pointerType: 'mouse',
        clientX: box.left + x,
        clientY: box.top + y,
        button: 0,
        buttons: 1,
        ...more,
      }),
    );
  const middle = [box.width / 2, box.height / 2];
  const start = kind === 'drag' ? from : middle;
  const step = {
    pan: (i) => send('pointermove', [middle[0] + 60 * Math.sin(i / 6), middle[1] + 40 * Math.sin(i / 9)]),
    drag: (i) => send('pointermove', [start[0] + 12 * Math.sin(i / 5), start[1] + 12 * Math.cos(i / 5)]),
    zoom: (i) =>
      stage.dispatchEvent(
        new WheelEvent('wheel', {
          bubbles: true,
          cancelable: true,
          deltaY: Math.floor(i / 15) % 2 === 0 ? -40 : 40,
          clientX: box.left + middle[0],
          clientY: box.top + middle[1],
        }),
      ),
  }[kind];
  if (kind === 'pan') send('pointerdown', start, { button: 1, buttons: 4 });
  if (kind === 'drag') send('pointerdown', start);
  const times = [];
  let last = await new Promise(requestAnimationFrame);
  for (let i = 0; i < count; i++) {
    step(i);
    const now = await new Promise(requestAnimationFrame);
    times.push(now - last);
    last = now;
  }
  if (kind === 'pan') send('pointerup', middle, { button: 1, buttons: 0 });
  if (kind === 'drag') send('pointerup', start, { buttons: 0 });
  return times;
}

/** Puts a canvas of the app's size over the page, hides the app, and keeps the scene for `bareFrames`. */
export async function layBare({ scene, pictureUrl, width, height }) {
  const app = document.querySelector('#root') ?? document.body.firstElementChild;
  const canvas = document.createElement('canvas');
  const ratio = devicePixelRatio;
  canvas.width = width * ratio;
  canvas.height = height * ratio;
  canvas.style.cssText = `position:fixed;left:0;top:0;width:${width}px;height:${height}px;z-index:99999`;
  document.body.append(canvas);
  canvas.style.display = 'none';
  let picture = null;
  if (pictureUrl) {
    const blob = await (await fetch(pictureUrl)).blob();
    const whole = await createImageBitmap(blob);
    // As large as it is shown, as any program would keep it.
    const shown = scene.photo.widthPx * scene.photo.metresPerPixel * scene.camera.scale * 2;
    const share = Math.min(1, shown / whole.width);
    picture = await createImageBitmap(whole, {
      resizeWidth: Math.round(whole.width * share),
      resizeHeight: Math.round(whole.height * share),
      resizeQuality: 'medium',
    });
  }
  window.bare = { app, canvas, picture, scene, ratio };
}

/** The same scene drawn by a loop over its marks, nothing else in the page; time of each frame, ms. */
export async function bareFrames({ kind, count }) {
  const { app, canvas, picture, scene, ratio } = window.bare;
  app.style.visibility = 'hidden';
  canvas.style.display = 'block';
  const pen = canvas.getContext('2d');
  const draw = (camera, moved) => {
    pen.setTransform(ratio, 0, 0, ratio, 0, 0);
    pen.clearRect(0, 0, canvas.width, canvas.height);
    const k = camera.scale;
    const x0 = camera.width / 2 - camera.x * k;
    const y0 = camera.height / 2 + camera.y * k;
    if (picture) {
      const { corner, widthPx, heightPx, metresPerPixel, strength } = scene.photo;
      pen.globalAlpha = strength;
      pen.drawImage(
        picture,
        x0 + corner[0] * k,
        y0 - corner[1] * k,
        widthPx * metresPerPixel * k,
        heightPx * metresPerPixel * k,
      );
      pen.globalAlpha = 1;
    }
    pen.lineJoin = 'round';
    for (const mark of scene.marks) {
      if (mark.kind === 'path') {
        pen.beginPath();
        for (const line of mark.lines) {
          for (let i = 0; i < line.length; i++) {
            const shift = moved !== 0 && mark === scene.marks[0] && i === 0 ? moved : 0;
            const x = x0 + line[i][0] * k + shift;
            const y = y0 - line[i][1] * k;
            if (i === 0) pen.moveTo(x, y);
            else pen.lineTo(x, y);
          }
          if (mark.closed) pen.closePath();
        }
        if (mark.fill) {
          pen.globalAlpha = mark.opacity;
          pen.fillStyle = mark.fill;
          pen.fill('evenodd');
          pen.globalAlpha = 1;
        }
      } else if (mark.kind === 'circle') {
        pen.beginPath();
        pen.arc(x0 + mark.at[0] * k, y0 - mark.at[1] * k, mark.radiusM * k, 0, 7);
        if (mark.fill) {
          pen.globalAlpha = mark.opacity;
          pen.fillStyle = mark.fill;
          pen.fill();
          pen.globalAlpha = 1;
        }
      } else if (mark.kind === 'square') {
        pen.fillStyle = mark.fill;
        pen.fillRect(x0 + mark.at[0] * k - 1.25, y0 - mark.at[1] * k - 1.25, 2.5, 2.5);
        continue;
      } else if (mark.kind === 'shape') {
        const x = x0 + mark.at[0] * k;
        const y = y0 - mark.at[1] * k;
        for (const piece of mark.pieces) {
          pen.beginPath();
          if (piece.circle) pen.arc(x + piece.circle[0], y + piece.circle[1], piece.circle[2], 0, 7);
          else piece.points.forEach(([u, v], i) => (i ? pen.lineTo(x + u, y + v) : pen.moveTo(x + u, y + v)));
          if (piece.closed) pen.closePath();
          if (piece.fill) {
            pen.fillStyle = piece.fill;
            pen.fill();
          }
          if (piece.stroke) {
            pen.strokeStyle = piece.stroke;
            pen.lineWidth = piece.width;
            pen.setLineDash([]);
            pen.stroke();
          }
        }
        continue;
      } else {
        pen.save();
        pen.translate(x0 + mark.at[0] * k, y0 - mark.at[1] * k);
        pen.rotate(mark.turn);
        pen.font = mark.font;
        pen.textAlign = mark.align;
        pen.lineWidth = 3;
        pen.setLineDash([]);
        pen.strokeStyle = mark.halo;
        pen.globalAlpha = 0.85;
        pen.strokeText(mark.text, mark.shift[0], mark.shift[1]);
        pen.globalAlpha = 1;
        pen.fillStyle = mark.fill;
        pen.fillText(mark.text, mark.shift[0], mark.shift[1]);
        pen.restore();
        continue;
      }
      if (mark.stroke) {
        pen.strokeStyle = mark.stroke;
        pen.lineWidth = mark.width;
        pen.setLineDash(mark.kind === 'circle' && mark.radiusM * k < 10 ? [] : (mark.dash ?? []));
        pen.stroke();
      }
    }
  };
  const still = scene.camera;
  const cameraAt = {
    pan: (i) => ({
      ...still,
      x: still.x - (60 * Math.sin(i / 6)) / still.scale,
      y: still.y + (40 * Math.sin(i / 9)) / still.scale,
    }),
    zoom: (i) => {
      const turn = i % 30;
      const notches = turn < 15 ? turn + 1 : 30 - turn;
      return { ...still, scale: still.scale * Math.exp(0.06 * notches) };
    },
    drag: () => still,
  }[kind];
  const times = [];
  let last = await new Promise(requestAnimationFrame);
  for (let i = 0; i < count; i++) {
    draw(cameraAt(i), kind === 'drag' ? 12 * Math.sin(i / 5) : 0);
    const now = await new Promise(requestAnimationFrame);
    times.push(now - last);
    last = now;
  }
  canvas.style.display = 'none';
  app.style.visibility = '';
  return times;
}
