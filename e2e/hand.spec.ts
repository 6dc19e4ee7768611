import { expect, test, type CDPSession, type Page } from '@playwright/test';
import {
  camera,
  drag,
  drawBed,
  figure,
  ground,
  metric,
  openDemo,
  openEmpty,
  pressGround,
  saved,
  section,
  stage,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

const plants = async (page: Page): Promise<number> => (await saved(page)).plants.length;
const hint = (page: Page) => page.locator('.hint');

/** Sets a field of the panel by its label. */
async function field(page: Page, label: string, value: string): Promise<void> {
  // What the next thing will be like stands below what is chosen.
  const input = page.getByLabel(label, { exact: true }).last();
  await input.fill(value);
  await input.press('Enter');
}

test.describe('with a mouse', () => {
  test('a row, a grid and the brush plant in one step each', async ({ page }) => {
    await openEmpty(page);
    await metric(page);
    await drawBed(page, [2, 2]);
    await view(page, 'Lay out');

    await test.step('a row is counted before it is set', async () => {
      await tool(page, 'Row of plants');
      await field(page, 'Plant spacing', '50 cm');
      await pressGround(page, [2.2, 2.2]);
      await pressGround(page, [4.7, 2.2]);
      await page.getByRole('button', { name: 'Finish' }).click();
      await expect(hint(page)).toContainText('6 plants set');
      expect(await plants(page)).toBe(6);
      await page.keyboard.press('Control+z');
      expect(await plants(page)).toBe(0);
    });

    await test.step('a press in the bed fills it with triangles', async () => {
      await tool(page, 'Grid of plants');
      await field(page, 'Plant spacing', '50 cm');
      await field(page, 'Away from edges and paving', '20 cm');
      await pressGround(page, [3, 3]);
      await expect(hint(page)).toContainText('plants set');
      // 2.6 m by 1.6 m: four rows of 0.433 m between, six and five plants in turn.
      expect(await plants(page)).toBe(22);
      await expect(undoTitle(page)).toHaveAttribute('title', /Plant a grid of 22/);
    });

    await test.step('the brush takes plants away, and one undo brings them back', async () => {
      await tool(page, 'Brush');
      await page.getByLabel('Take plants away').check();
      await drag(page, await ground(page, [2, 3]), await ground(page, [5, 3]));
      expect(await plants(page)).toBe(0);
      await page.keyboard.press('Control+z');
      expect(await plants(page)).toBe(22);
    });
  });

  test('the tape reads distances and area in views that only look', async ({ page }) => {
    await openDemo(page);
    await metric(page);
    const before = await saved(page);
    await view(page, 'Prove');
    await tool(page, 'Tape');
    await page.keyboard.down('Alt');
    for (const at of [
      [2, 2],
      [5, 2],
      [5, 6],
    ] as const)
      await pressGround(page, at);
    await page.keyboard.up('Alt');
    const card = page.getByTestId('tape');
    await expect(card).toContainText('Distance in plan');
    await expect(card).toContainText('On the ground');
    await pressGround(page, [2, 2]);
    await expect(figure(page, 'Area in plan')).toHaveText(/^6\.0\d* m²$/);
    await page.keyboard.press('Escape');
    await expect(section(page, 'Tape')).toContainText('Press at two places');
    expect(await saved(page)).toEqual(before);
  });

  test('copies go by keys to the pointer and by the list into another bed', async ({ page }) => {
    await openEmpty(page);
    await metric(page);
    await drawBed(page, [1, 1]);
    await drawBed(page, [6, 5]);
    await tool(page, 'Plant');
    for (const at of [
      [2, 2],
      [3, 2],
    ] as const)
      await pressGround(page, at);
    await tool(page, 'Lasso');
    await page.getByLabel('Draw', { exact: true }).selectOption('box');
    await drag(page, await ground(page, [1.5, 1.5]), await ground(page, [3.5, 2.5]));
    await expect(page.getByRole('heading', { name: '2 × plant' })).toBeVisible();
    await stage(page).focus();
    await page.keyboard.press('Control+c');
    await expect(hint(page)).toContainText('2 things copied');
    await page.mouse.move(...(await ground(page, [10, 3])));
    await page.keyboard.press('Control+v');
    expect(await plants(page)).toBe(4);

    await page.getByLabel('Copy to bed').selectOption({ index: 1 });
    await expect(undoTitle(page)).toHaveAttribute('title', /Copy to bed/);
    expect(await plants(page)).toBe(6);
    await page.getByRole('button', { name: 'All of this kind' }).click();
    await expect(page.getByRole('heading', { name: '6 × plant' })).toBeVisible();
  });

  test('a run along the contour keeps its height', async ({ page }) => {
    await openEmpty(page);
    await metric(page);
    for (const [at, height] of [
      [[1, 1], '0'],
      [[9, 1], '4'],
      [[1, 6], '0'],
      [[9, 6], '4'],
    ] as const) {
      await tool(page, 'Level');
      await field(page, 'Height', `${height} m`);
      await pressGround(page, at);
    }
    await view(page, 'Lay out');
    await tool(page, 'Tubing');
    await page.getByLabel('Follow the contour').check();
    await pressGround(page, [4, 2]);
    await page.mouse.move(...(await ground(page, [4.06, 5])), { steps: 3 });
    await stage(page).focus();
    await page.keyboard.press('2');
    await page.getByLabel('Length', { exact: true }).fill('2 m');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Finish' }).click();
    const { path } = (await saved(page)).runs[0]!;
    expect(path).toHaveLength(2);
    expect(path[1]![0]).toBeCloseTo(path[0]![0], 4);
    expect(path[1]![1] - path[0]![1]).toBeCloseTo(2, 4);
  });
});

test('a bed and its plants are drawn with keys alone', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await stage(page).focus();
  await page.keyboard.press('b');
  await page.keyboard.press('Enter');
  const fields = page.getByRole('group', { name: 'Pen held by keys' });
  await expect(fields).toBeVisible();
  await fields.getByLabel('East').fill('2 m');
  await fields.getByLabel('North').fill('3 m');
  await fields.getByLabel('North').press('Enter');
  await expect(stage(page)).toBeFocused();
  const { pixelsPerMetre } = await camera(page);
  for (const key of ['ArrowRight', 'ArrowUp', 'ArrowLeft']) {
    for (let i = 0; i < 3; i++) await page.keyboard.press(`Shift+${key}`);
    await page.keyboard.press('Space');
  }
  await page.keyboard.press('Enter');
  const { areas } = await saved(page);
  expect(areas).toHaveLength(1);
  const side = 150 / pixelsPerMetre;
  const corners = [
    [2, 3],
    [2 + side, 3],
    [2 + side, 3 + side],
    [2, 3 + side],
  ];
  areas[0]!.outline.forEach(([x, y], i) => {
    expect(x).toBeCloseTo(corners[i]![0]!, 6);
    expect(y).toBeCloseTo(corners[i]![1]!, 6);
  });
  await page.keyboard.press('v');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Space');
  await expect(hint(page)).toContainText('set.');
  expect(await plants(page)).toBeGreaterThan(0);
  await page.keyboard.press('Escape');
  await expect(fields).toHaveCount(0);
});

test.describe('with fingers', () => {
  test.use({ hasTouch: true });

  /** Draws with one finger. */
  async function stroke(session: CDPSession, path: readonly Spot[]): Promise<void> {
    const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', at: readonly Spot[]) =>
      session.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: at.map(([x, y], id) => ({ x, y, id })),
      });
    await send('touchStart', [path[0]!]);
    for (const at of path.slice(1)) await send('touchMove', [at]);
    await send('touchEnd', []);
  }

  test('the lasso chooses, the brush plants, and the view stays', async ({ page }) => {
    await openEmpty(page);
    await metric(page);
    await drawBed(page, [2, 2]);
    await view(page, 'Lay out');
    const session = await page.context().newCDPSession(page);
    const start = await camera(page);
    const places = async (spots: readonly Spot[]) => Promise.all(spots.map((spot) => ground(page, spot)));

    await page.getByRole('button', { name: /^Brush/ }).tap();
    await expect(hint(page)).toContainText('Drag with one finger');
    await field(page, 'Plant spacing', '50 cm');
    await field(page, 'Brush radius', '30 cm');
    await stroke(
      session,
      await places([
        [2.5, 3],
        [3, 3],
        [3.5, 3],
        [4, 3],
        [4.5, 3],
      ]),
    );
    const count = await plants(page);
    expect(count).toBeGreaterThan(3);

    await page.getByRole('button', { name: /^Lasso/ }).tap();
    await page.getByRole('button', { name: 'Done' }).tap();
    await stroke(
      session,
      await places([
        [2.1, 2.3],
        [3.2, 2.3],
        [3.2, 3.8],
        [2.1, 3.8],
      ]),
    );
    await expect(page.getByRole('heading', { name: /^\d+ × plant$/ })).toBeVisible();
    expect(await camera(page)).toEqual(start);
    expect(await plants(page)).toBe(count);
    // No hint speaks of keys where a finger works.
    for (const name of [
      'Select',
      'Lasso',
      'Row of plants',
      'Grid of plants',
      'Brush',
      'Tape',
      'Dripline',
      'Tubing',
    ]) {
      await page
        .getByRole('navigation', { name: 'Tools' })
        .getByRole('button', { name: new RegExp(`^${name}`) })
        .tap();
      await expect(hint(page).getByRole('status')).not.toContainText(/Enter|Shift|Esc|Ctrl|key/);
    }
  });
});
