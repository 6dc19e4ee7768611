import { expect, test, type CDPSession, type Page } from '@playwright/test';
import {
  camera,
  figure,
  ground,
  metric,
  openDemo,
  openEmpty,
  saved,
  shifted,
  stage,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

test.use({ hasTouch: true });

/** Fingers on the glass, each known by its place in the list. */
class Fingers {
  private readonly session: CDPSession;
  private down: Spot[] = [];
  constructor(session: CDPSession) {
    this.session = session;
  }
  static async on(page: Page): Promise<Fingers> {
    return new Fingers(await page.context().newCDPSession(page));
  }
  private async send(type: 'touchStart' | 'touchMove' | 'touchEnd'): Promise<void> {
    const touchPoints = this.down.map(([x, y], id) => ({ x, y, id }));
    await this.session.send('Input.dispatchTouchEvent', { type, touchPoints });
  }
  async put(at: Spot): Promise<void> {
    this.down.push(at);
    await this.send('touchStart');
  }
  /** Moves all fingers in small steps. */
  async move(...to: Spot[]): Promise<void> {
    const from = this.down;
    for (let step = 1; step <= 10; step++) {
      this.down = from.map(([x, y], i) => [
        x + ((to[i]![0] - x) * step) / 10,
        y + ((to[i]![1] - y) * step) / 10,
      ]);
      await this.send('touchMove');
    }
  }
  /** Lifts the finger put down last. */
  async lift(): Promise<void> {
    this.down.pop();
    await this.send('touchEnd');
  }
  async tap(at: Spot): Promise<void> {
    await this.put(at);
    await this.lift();
  }
}

test('a tap sets a point where the finger is lifted', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  const fingers = await Fingers.on(page);

  await tool(page, 'Plant');
  await fingers.put(await ground(page, [3, 3]));
  await fingers.move(await ground(page, [4, 5]));
  await fingers.lift();
  await expect(page.getByRole('heading', { name: 'plant P1' })).toBeVisible();

  await tool(page, 'Bed');
  for (const corner of [
    [2, 2],
    [6, 2],
    [6, 6],
  ] as const)
    await fingers.tap(await ground(page, corner));
  // Fingers are thick: near the first corner is on it.
  await fingers.tap(shifted(await ground(page, [2, 2]), 9, 9));
  await expect(figure(page, 'Area')).toHaveText(/^8\.\d+ m²$/);

  await test.step('what keys do while drawing has its buttons', async () => {
    await tool(page, 'Lawn');
    for (const corner of [
      [8, 2],
      [10, 2],
      [10, 4],
      [11, 5],
    ] as const)
      await fingers.tap(await ground(page, corner));
    await page.getByRole('button', { name: 'Take back' }).tap();
    await page.getByRole('button', { name: 'Finish' }).tap();
    await expect(figure(page, 'Area')).toHaveText(/^2\.\d+ m²$/);
    expect((await saved(page)).areas.map(({ outline }) => outline.length)).toEqual([3, 3]);
    await fingers.tap(await ground(page, [8, 6]));
    await page.getByRole('button', { name: 'Cancel', exact: true }).tap();
    await expect(page.getByRole('button', { name: 'Finish' })).toHaveCount(0);
    expect((await saved(page)).areas).toHaveLength(2);
  });

  await page
    .getByRole('navigation', { name: 'Tools' })
    .getByRole('button', { name: /^Select/ })
    .tap();
  await fingers.tap(await ground(page, [4, 5]));
  await expect(page.getByRole('heading', { name: 'plant P1' })).toBeVisible();
  await fingers.put(await ground(page, [4, 5]));
  await fingers.move(await ground(page, [9, 6]));
  await fingers.lift();
  await expect(undoTitle(page)).toHaveAttribute('title', /Move/);
  await view(page, 'Decide');
  await expect(figure(page, 'Plants')).toHaveText('1');
});

test('two fingers zoom about the place between them and set nothing', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const flow = page.getByTestId('total-flow');
  await expect(flow).toContainText('gpm');
  const before = await flow.innerText();
  const fingers = await Fingers.on(page);
  await tool(page, 'Emitter');

  // The first finger lies in a plant's root zone, where lifting it would set an emitter.
  const place = await ground(page, [10.2, 8.3]);
  const start = await camera(page);
  await fingers.put(place);
  await expect(flow).not.toHaveText(before);
  await fingers.put(shifted(place, 80, 0));
  await expect(flow).toHaveText(before);
  const middle: Spot = [10.2 + 40 / start.pixelsPerMetre, 8.3];
  const middlePx = shifted(place, 40, 0);
  const off = async (): Promise<Spot> => {
    const [x, y] = await ground(page, middle);
    return [x - middlePx[0], y - middlePx[1]];
  };
  await fingers.move(shifted(place, -40, 0), shifted(place, 120, 0));
  const zoom = async () => (await camera(page)).pixelsPerMetre / start.pixelsPerMetre;
  // Moves reach the page frame by frame.
  await expect.poll(zoom).toBeCloseTo(2, 6);
  expect(Math.hypot(...(await off()))).toBeLessThan(1);

  await test.step('both fingers together pan', async () => {
    await fingers.move(shifted(place, -40, 50), shifted(place, 120, 50));
    await expect.poll(async () => (await off())[1]).toBeCloseTo(50, 1);
    expect(Math.abs((await off())[0])).toBeLessThan(1);
    expect(await zoom()).toBeCloseTo(2, 6);
  });
  await fingers.lift();
  await fingers.move(shifted(place, -200, 100));
  await fingers.lift();
  await expect(undoTitle(page)).toBeDisabled();
  await expect(flow).toHaveText(before);
});

test('one finger pans where nothing is chosen, and reads an outlet', async ({ page }) => {
  await openDemo(page);
  const fingers = await Fingers.on(page);
  const plan = await saved(page);

  // Beside the driveway nothing lies; elsewhere there is the lawn, which is not chosen.
  for (const place of [
    [24, 14],
    [3, 2.5],
  ] as const) {
    const start = await camera(page);
    const from = await ground(page, place);
    await fingers.put(from);
    await fingers.move(shifted(from, -120, 60));
    await fingers.lift();
    const { center, pixelsPerMetre } = await camera(page);
    expect(pixelsPerMetre).toBe(start.pixelsPerMetre);
    expect(center[0] - start.center[0]).toBeCloseTo(120 / pixelsPerMetre, 3);
    expect(center[1] - start.center[1]).toBeCloseTo(60 / pixelsPerMetre, 3);
    await page.getByRole('button', { name: 'Show all' }).click();
  }
  await expect(undoTitle(page)).toBeDisabled();
  expect(await saved(page)).toEqual(plan);

  await fingers.tap(await ground(page, [2 + 0.1524, 11.2]));
  await expect(page.locator('.outlet-card')).toContainText('Front row');
  await fingers.tap(await ground(page, [24, 14]));
  await expect(page.locator('.outlet-card')).toHaveCount(0);
  await expect(stage(page)).toBeFocused();
});
