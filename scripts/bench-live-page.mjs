/** What the bench of live answers does inside of the page; each function is handed over as text. */

/** Notes what is posted to the study worker and what comes back. */
export function watchStudies() {
  const Real = window.Worker;
  window.studies = { posts: 0, replies: 0, open: 0, onReply: null };
  window.Worker = class extends Real {
    constructor(address, options) {
      super(address, options);
      this.studies = options?.name === 'study';
      if (!this.studies) return;
      // Set first, so heard before the app hears it.
      this.addEventListener('message', () => {
        window.studies.replies += 1;
        window.studies.open -= 1;
        window.studies.onReply?.();
      });
    }
    postMessage(...message) {
      if (this.studies && message[0]?.type === 'APPLY') {
        window.studies.posts += 1;
        window.studies.open += 1;
        window.studies.lastPost = message[0].path?.[0] ?? '';
      }
      return super.postMessage(...message);
    }
  };
}

/** Moves the corner once at a time, and waits for the picture with the answer. */
export async function latencies({ corner, moves }) {
  const stage = document.querySelector('.canvas-stage');
  Element.prototype.setPointerCapture = () => {};
  Element.prototype.releasePointerCapture = () => {};
  const send = (type, x, y) =>
    stage.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        cancelable: true,
        pointerId: 7,
        pointerType: 'mouse',
        clientX: x,
        clientY: y,
        button: 0,
        buttons: type === 'pointerup' ? 0 : 1,
      }),
    );
  const rest = (ms) => new Promise((done) => setTimeout(done, ms));
  const frame = () => new Promise(requestAnimationFrame);
  /** After the picture of the next frame was made. */
  const painted = async () => {
    await frame();
    await new Promise((done) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = done;
      port2.postMessage(0);
    });
  };
  const figures = { wholeMs: [], replyMs: [], paintMs: [] };
  send('pointerdown', ...corner);
  for (let i = 0; i < moves + 5; i++) {
    const angle = i * 0.7;
    const started = performance.now();
    const reply = new Promise((done) => {
      window.studies.onReply = () => {
        if (window.studies.lastPost === 'study') done(performance.now());
      };
    });
    send('pointermove', corner[0] + 30 * Math.cos(angle), corner[1] + 30 * Math.sin(angle));
    const replied = await Promise.race([reply, rest(5000)]);
    if (!replied) throw new Error('The move was not answered within 5 s.');
    window.studies.onReply = null;
    await painted();
    const ended = performance.now();
    // The first ones warm up the compiler.
    if (i >= 5) {
      figures.wholeMs.push(ended - started);
      figures.replyMs.push(replied - started);
      figures.paintMs.push(ended - replied);
    }
    while (window.studies.open > 0) await rest(5);
    await rest(120);
  }
  send('pointerup', ...corner);
  return figures;
}

/** Drags without a pause, one move a frame. */
export async function drag({ corner, frames }) {
  const stage = document.querySelector('.canvas-stage');
  const send = (type, x, y) =>
    stage.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        cancelable: true,
        pointerId: 7,
        pointerType: 'mouse',
        clientX: x,
        clientY: y,
        button: 0,
        buttons: type === 'pointerup' ? 0 : 1,
      }),
    );
  const tasks = [];
  const watcher = new PerformanceObserver((list) => tasks.push(...list.getEntries().map((e) => e.duration)));
  watcher.observe({ entryTypes: ['longtask'] });
  const before = window.studies.replies;
  const frameMs = [];
  send('pointerdown', ...corner);
  let last = await new Promise(requestAnimationFrame);
  for (let i = 0; i < frames; i++) {
    send('pointermove', corner[0] + 25 * Math.cos(i / 9), corner[1] + 25 * Math.sin(i / 9));
    const now = await new Promise(requestAnimationFrame);
    frameMs.push(now - last);
    last = now;
  }
  send('pointerup', ...corner);
  await new Promise((done) => setTimeout(done, 600));
  watcher.disconnect();
  return { frameMs, tasks, answers: window.studies.replies - before };
}

/** Moves what is chosen by a key and takes it back; how long each key holds up the page. */
export async function edits({ count }) {
  const stage = document.querySelector('.canvas-stage');
  stage.focus();
  const key = (name, more = {}) => {
    const started = performance.now();
    stage.dispatchEvent(
      new KeyboardEvent('keydown', { key: name, code: name, bubbles: true, cancelable: true, ...more }),
    );
    return performance.now() - started;
  };
  const figures = { editMs: [], undoMs: [] };
  for (let i = 0; i < count; i++) {
    figures.editMs.push(key('ArrowRight'));
    await new Promise((done) => setTimeout(done, 500));
    figures.undoMs.push(key('z', { ctrlKey: true }));
    await new Promise((done) => setTimeout(done, 500));
  }
  return figures;
}
