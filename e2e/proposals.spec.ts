import { expect, test, type Page } from '@playwright/test';
import {
  camera,
  drag,
  drawBed,
  ground,
  metric,
  openDemo,
  openEmpty,
  press,
  pressGround,
  shifted,
  stage,
  tool,
  view,
  type Spot,
} from './canvas.ts';

const offer = (page: Page) => page.getByTestId('offer');
const hint = (page: Page) => page.locator('.hint');

/** An empty plan with one bed, chosen in Lay out. */
async function bedInLayout(page: Page): Promise<Spot> {
  await openEmpty(page);
  await page.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await metric(page);
  const corner = (await camera(page)).center;
  await drawBed(page, corner);
  await view(page, 'Lay out');
  await page.getByRole('button', { name: 'Bed 1', exact: true }).click();
  return corner;
}

test('a proposal says on the plan that it is none yet, and is drawn or dropped there', async ({ page }) => {
  await bedInLayout(page);
  await expect(offer(page)).toContainText('Only proposed, not drawn yet');
  await expect(page.getByTestId('counts-offer')).toBeVisible();
  for (const button of await offer(page).getByRole('button').all()) {
    expect((await button.boundingBox())!.height).toBeGreaterThanOrEqual(44);
  }
  await page.getByTestId('offer-drop').click();
  await expect(offer(page)).toBeHidden();
  await expect(page.getByRole('button', { name: 'Undo' })).toHaveAttribute('title', /Draw bed/);
  await page.getByRole('button', { name: 'Bed 1', exact: true }).click();
  await page.getByTestId('offer-draw').click();
  await expect(offer(page)).toBeHidden();
  await expect(page.getByRole('button', { name: 'Undo' })).toHaveAttribute('title', /Rows in/);
  await expect(page.getByTestId('counts-offer')).toBeHidden();
});

test('Enter keeps the focus in a field, so Delete does not mean the plan; undo there does', async ({
  page,
}) => {
  await bedInLayout(page);
  const field = page.getByLabel('Between rows');
  await field.fill('30 cm');
  await field.press('Enter');
  await expect(field).toBeFocused();
  await page.keyboard.press('Delete');
  await page.keyboard.press('Escape');
  await expect(field).toHaveValue('30 cm');
  await expect(page.getByRole('heading', { name: /Bed 1/ })).toBeVisible();
  const name = page.getByLabel('Name', { exact: true });
  await name.fill('Slope');
  await name.press('Enter');
  await expect(page.getByRole('heading', { name: /^area A1 · Slope/ })).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(name).toHaveValue('Bed 1');
  await expect(hint(page)).toContainText('Taken back: Change area');
});

test('a value of live rows leaves the panel where it is', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 600 });
  await bedInLayout(page);
  await page.getByTestId('offer-draw').click();
  await page.getByRole('button', { name: 'Bed 1', exact: true }).click();
  const field = page.getByLabel('Between rows');
  const panel = page.locator('.panel');
  await panel.evaluate((element) => element.scrollTo({ top: 200 }));
  await field.fill('30 cm');
  const before = await panel.evaluate((element) => element.scrollTop);
  expect(before).toBeGreaterThan(0);
  await field.press('Enter');
  await expect(field).toBeFocused();
  await page.waitForTimeout(300);
  expect(await panel.evaluate((element) => element.scrollTop)).toBe(before);
});

test('the focus stays in the panel when a card goes', async ({ page }) => {
  await bedInLayout(page);
  expect(await page.evaluate(() => document.activeElement?.closest('.panel') !== null)).toBe(true);
  await page.getByTestId('fill-draw').focus();
  await page.keyboard.press('Enter');
  await expect(offer(page)).toBeHidden();
  expect(await page.evaluate(() => document.activeElement?.closest('.panel')?.className)).toBe('panel');
});

test('Space pans while nothing has the focus, and moves no plant', async ({ page }) => {
  const corner = await bedInLayout(page);
  await tool(page, 'Plant');
  await pressGround(page, shifted(corner, -1, -1));
  await tool(page, 'Select');
  const plant = await ground(page, shifted(corner, -1, -1));
  await press(page, plant);
  await page.evaluate(() => (document.activeElement as HTMLElement).blur());
  const before = (await camera(page)).center;
  await page.keyboard.down('Space');
  await drag(page, plant, shifted(plant, 80, 0));
  await page.keyboard.up('Space');
  expect((await camera(page)).center[0]).toBeLessThan(before[0]);
  await expect(page.getByRole('button', { name: 'Undo' })).toHaveAttribute('title', /plant/i);
  await expect(page.getByRole('button', { name: 'Undo' })).not.toHaveAttribute('title', /Move/);
});

test('the readout of an outlet goes with the pointer', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Prove');
  await page.getByRole('button', { name: 'Next outlet' }).click();
  const card = page.locator('.outlet-card');
  await expect(card).toBeVisible();
  const box = (await stage(page).boundingBox())!;
  const ring = await card.evaluate((element: HTMLElement) => [
    element.offsetLeft - 14,
    element.offsetTop - 12,
  ]);
  await page.mouse.move(box.x + ring[0]!, box.y + ring[1]!, { steps: 3 });
  await expect(card).toBeVisible();
  await page.mouse.move(4, 4, { steps: 2 });
  await expect(card).toBeHidden();
});

test('plants that differ say so, and only what is typed is set', async ({ page }) => {
  await bedInLayout(page);
  await tool(page, 'Plant');
  const panel = page.locator('.panel');
  await panel.getByLabel('Class').selectOption('tree');
  const [x, y] = (await camera(page)).center;
  await pressGround(page, [x - 1, y - 1]);
  await panel.getByLabel('Class').first().selectOption('shrub');
  await pressGround(page, [x - 2, y - 1]);
  await tool(page, 'Select');
  await press(page, await ground(page, [x - 1, y - 1]));
  await page.keyboard.down('Shift');
  await press(page, await ground(page, [x - 2, y - 1]));
  await page.keyboard.up('Shift');
  await expect(page.getByRole('heading', { name: '2 × plant' })).toBeVisible();
  await expect(panel.getByLabel('Class')).toHaveValue('');
  const mature = panel.getByLabel('Canopy, mature');
  await expect(mature).toHaveAttribute('placeholder', 'mixed');
  await panel.getByLabel('Species or note').fill('Rosella');
  await panel.getByLabel('Species or note').press('Enter');
  await expect(hint(page)).toContainText('2 plants changed.');
  await expect(panel.getByLabel('Class')).toHaveValue('');
  await expect(mature).toHaveAttribute('placeholder', 'mixed');
});
