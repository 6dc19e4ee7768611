import { expect, test, type Page } from '@playwright/test';
import { drag, figure, ground, openDemo, pressGround, view, type Spot } from './canvas.ts';

const FLOW = 'Pressure and flow';
/** Free end of the dripline along the wall, and where its emitters are gone once it was pulled in. */
const END: Spot = [2, 11.2];
const PULLED: Spot = [5.1, 11.2];
const STRETCH: readonly [Spot, Spot] = [
  [2.6, 11.2],
  [4.4, 11.2],
];

interface Held {
  hold: boolean;
  readonly messages: (() => void)[];
}
declare global {
  interface Window {
    heldStudies: Held;
  }
}

/** Lets a test keep back what the study worker says. */
async function withHold(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const held: Held = { hold: false, messages: [] };
    window.heldStudies = held;
    const Real = window.Worker;
    window.Worker = class extends Real {
      readonly #studies: boolean;
      constructor(address: string | URL, options?: WorkerOptions) {
        super(address, options);
        this.#studies = options?.name === 'study';
      }
      override addEventListener(
        type: string,
        listener: EventListenerOrEventListenerObject,
        options?: boolean | AddEventListenerOptions,
      ): void {
        if (!this.#studies || type !== 'message' || typeof listener !== 'function')
          return super.addEventListener(type, listener, options);
        super.addEventListener(type, (event) => {
          if (held.hold) held.messages.push(() => listener(event));
          else listener(event);
        });
      }
    };
  });
}
const hold = (page: Page) => page.evaluate(() => void (window.heldStudies.hold = true));
const heldCount = (page: Page) => page.evaluate(() => window.heldStudies.messages.length);
const letGo = (page: Page) =>
  page.evaluate(() => {
    window.heldStudies.hold = false;
    window.heldStudies.messages.splice(0).forEach((deliver) => deliver());
  });

/** How many pixels of the drawing are painted along a stretch of the ground. */
async function inked(page: Page, [from, to]: readonly [Spot, Spot]): Promise<number> {
  const [[x1, y1], [x2]] = [await ground(page, from), await ground(page, to)];
  return page.evaluate(
    ([left, y, right]) => {
      let strong = 0;
      // The lowest canvas holds the picture of the site.
      for (const canvas of [...document.querySelectorAll<HTMLCanvasElement>('.canvas-stage canvas')].slice(
        1,
      )) {
        const box = canvas.getBoundingClientRect();
        const scale = canvas.width / box.width;
        const { data } = canvas
          .getContext('2d')!
          .getImageData((left - box.left) * scale, (y - box.top) * scale - 3, (right - left) * scale, 6);
        for (let i = 0; i < data.length; i += 4) {
          const [r, g, b, a] = [data[i]!, data[i + 1]!, data[i + 2]!, data[i + 3]!];
          // Emitters are dots in strong colours; the ground below the line is pale.
          if (a > 200 && Math.max(r, g, b) - Math.min(r, g, b) > 60) strong += 1;
        }
      }
      return strong;
    },
    [x1, y1, x2] as const,
  );
}

test('a dragged corner shows new emitters and figures before the button is let go', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const flow = page.getByTestId('total-flow');
  await expect(figure(page, 'Outlets', FLOW)).not.toHaveText('0');
  await pressGround(page, [7.5, 11.2]);
  const before = await flow.innerText();
  const dots = await inked(page, STRETCH);
  expect(dots).toBeGreaterThan(10);
  let whileDown = '';
  await drag(page, await ground(page, END), await ground(page, PULLED), async () => {
    const moved = Date.now();
    await expect(flow).not.toHaveText(before, { timeout: 5000 });
    console.log(`from the last move to the new figures: ${Date.now() - moved} ms at most`);
    await expect.poll(() => inked(page, STRETCH)).toBeLessThan(dots / 4);
    whileDown = await flow.innerText();
  });
  await expect(flow).toHaveText(whileDown);
  await page.keyboard.press('Control+z');
  await expect(flow).toHaveText(before);
  await expect.poll(() => inked(page, STRETCH)).toBeGreaterThan(dots / 2);
});

test('the answer to a plan that was undone, or that another took the place of, never shows', async ({
  page,
}) => {
  await withHold(page);
  await openDemo(page);
  await view(page, 'Lay out');
  const flow = page.getByTestId('total-flow');
  await expect(figure(page, 'Outlets', FLOW)).not.toHaveText('0');
  await pressGround(page, [7.5, 11.2]);
  await expect(page.getByRole('heading', { name: 'run R2' })).toBeVisible();
  const before = await flow.innerText();
  const texts = await page.evaluateHandle(() => {
    const seen: string[] = [];
    const note = () => seen.push(document.querySelector('[data-testid="total-flow"]')?.textContent ?? '');
    new MutationObserver(note).observe(document.body, {
      subtree: true,
      childList: true,
      characterData: true,
    });
    return seen;
  });
  await hold(page);
  await page.keyboard.press('Delete');
  await expect.poll(() => heldCount(page)).toBeGreaterThan(0);
  await page.keyboard.press('Control+z');
  await page.waitForTimeout(100);
  await letGo(page);
  await page.waitForTimeout(800);
  await expect(flow).toHaveText(before);
  expect([...new Set(await texts.jsonValue())].filter((text) => text !== '' && text !== before)).toEqual([]);

  await test.step('deleted for good, the figure does change', async () => {
    await pressGround(page, [7.5, 11.2]);
    await page.keyboard.press('Delete');
    await expect(flow).not.toHaveText(before);
  });
});

test('a study that is lost is started again, and figures follow as before', async ({ page }) => {
  await page.addInitScript(() => {
    const Real = window.Worker;
    window.Worker = class extends Real {
      constructor(address: string | URL, options?: WorkerOptions) {
        super(address, options);
        if (options?.name === 'study')
          (window as unknown as { studyWorkers: Worker[] }).studyWorkers = [
            ...((window as unknown as { studyWorkers?: Worker[] }).studyWorkers ?? []),
            this,
          ];
      }
    };
  });
  await openDemo(page);
  await view(page, 'Lay out');
  const flow = page.getByTestId('total-flow');
  await expect(figure(page, 'Outlets', FLOW)).not.toHaveText('0');
  const before = await flow.innerText();
  await page.evaluate(() => {
    const [worker] = (window as unknown as { studyWorkers: Worker[] }).studyWorkers;
    worker!.dispatchEvent(new ErrorEvent('error', { message: 'out of memory', cancelable: true }));
  });
  await pressGround(page, [7.5, 11.2]);
  await page.keyboard.press('Delete');
  await expect(flow).not.toHaveText(before);
  const workers = await page.evaluate(
    () => (window as unknown as { studyWorkers: Worker[] }).studyWorkers.length,
  );
  expect(workers).toBe(2);
  await page.keyboard.press('Control+z');
  await expect(flow).toHaveText(before);
});
