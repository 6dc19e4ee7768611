import { expect, test, type Page } from '@playwright/test';
import {
  camera,
  drag,
  drawBed,
  figure,
  ground,
  metric,
  openEmpty,
  pressGround,
  savedText,
  section,
  stage,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

interface Saved {
  readonly areas: readonly {
    readonly id: string;
    readonly name: string;
    readonly outline: readonly Spot[];
  }[];
  readonly runs: readonly { readonly id: string; readonly path: readonly Spot[] }[];
  readonly fills: readonly { readonly areaId: string; readonly byHand: boolean }[];
  readonly checkValves: readonly { readonly runId: string }[];
  readonly lineParts: readonly { readonly kind: string; readonly runId: string }[];
  readonly plants: readonly unknown[];
  readonly climate: { readonly lowestWinterC: number | null };
}
const plan = async (page: Page): Promise<Saved> => JSON.parse(await savedText(page)) as Saved;

/** Levels on ground that rises by 1 m a metre to the east. */
async function setLevels(page: Page): Promise<void> {
  for (const [at, height] of [
    [[1, 1], '0'],
    [[9, 1], '8'],
    [[1, 6], '0'],
    [[9, 6], '8'],
  ] as const) {
    await tool(page, 'Level');
    const field = page.getByLabel('Height', { exact: true }).first();
    await field.fill(`${height} m`);
    await field.press('Enter');
    await pressGround(page, at);
  }
}

const chooseBed = async (page: Page): Promise<void> => {
  await view(page, 'Lay out');
  await stage(page).focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await section(page, 'Fill the bed with dripline').getByRole('button', { name: /^Bed/ }).first().click();
};

test('a bed on a slope: its bands, what is advised, split and taken back', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [3, 2]);
  const card = section(page, 'Slope');

  await test.step('without heights the card says where to go', async () => {
    await chooseBed(page);
    await expect(card).toContainText('Nothing says how this bed slopes');
    await card.getByRole('button', { name: 'Go to Survey' }).click();
    await expect(section(page, 'Ground')).toBeVisible();
  });

  await setLevels(page);
  await test.step('rows without water say so', async () => {
    await chooseBed(page);
    await page.getByTestId('fill-draw').click();
    await chooseBed(page);
    await expect(card).toContainText('No water reaches these rows yet');
    await page.keyboard.press('Control+z');
    await view(page, 'Survey');
  });
  await tool(page, 'Supply');
  await pressGround(page, [2.4, 3]);
  await view(page, 'Lay out');
  await tool(page, 'Control set');
  await pressGround(page, [2.4, 3]);

  await test.step('figures of 3 m of rise, two bands', async () => {
    await chooseBed(page);
    await expect(figure(page, 'Lowest to highest place', 'Slope')).toHaveText('3.00 m');
    await expect(figure(page, 'Mean slope', 'Slope')).toHaveText('100.0%');
    await expect(figure(page, 'Lift, bottom to top', 'Slope')).toHaveText('0.29 bar');
    const table = card.getByRole('table', { name: '2 bands' });
    await expect(table.getByRole('row', { name: /^1, lowest/ })).toContainText('1.50 m');
    await expect(card).toContainText('Draw tubing in this bed first');
  });

  await test.step('a band may rise less; what cannot be is said and nothing is lost', async () => {
    const most = card.getByLabel('A band rises at most');
    await most.fill('1 m');
    await most.press('Enter');
    await expect(card.getByRole('table', { name: '3 bands' })).toBeVisible();
    await most.fill('0.1 m');
    await most.press('Enter');
    await expect(card.getByRole('alert')).toContainText('It would take 30 bands');
    await most.fill('');
    await most.press('Enter');
    await expect(card.getByRole('table', { name: '2 bands' })).toBeVisible();
  });

  await test.step('what is advised: one by one by pointer, all by the keyboard, one undo each', async () => {
    await page.getByTestId('fill-draw').click();
    await chooseBed(page);
    const winter = card.getByLabel('Lowest winter temperature');
    await winter.fill('-5 C');
    await winter.press('Enter');
    expect((await plan(page)).climate.lowestWinterC).toBe(-5);
    const list = page.getByTestId('slope-advised');
    await expect(list).toContainText('before the first row');
    await expect(list).toContainText('air gets in here when the water is shut off');
    await expect(list).toContainText('water gets out here before frost');
    const before = await list.getByRole('listitem').count();
    await list
      .getByRole('button', { name: /^Set: Air relief/ })
      .first()
      .click();
    await expect(page.locator('.hint')).toContainText('1 part set');
    await expect(list.getByRole('listitem')).toHaveCount(before - 1);
    expect((await plan(page)).lineParts.map(({ kind }) => kind)).toEqual(['air relief']);
    await page.getByTestId('slope-set').focus();
    await page.keyboard.press('Enter');
    await expect(card).toContainText('Nothing is missing');
    const set = await plan(page);
    expect(set.checkValves.length + set.lineParts.length).toBe(before);
    expect(set.fills).toMatchObject([{ areaId: 'A1', byHand: false }]);
    await page.keyboard.press('Control+z');
    expect((await plan(page)).lineParts).toHaveLength(1);
    await page.keyboard.press('Control+Shift+z');
  });

  await test.step('split: two beds with rows of their own, one step', async () => {
    const before = await plan(page);
    await page.getByTestId('slope-split').click();
    await expect(undoTitle(page)).toHaveAttribute('title', /Split into bands/);
    const after = await plan(page);
    expect(after.areas.map(({ name }) => name)).toEqual([
      expect.stringMatching(/, band 1 \(lowest\)$/),
      expect.stringMatching(/, band 2 \(highest\)$/),
    ]);
    expect(after.fills.map(({ byHand }) => byHand)).toEqual([false, false]);
    // The boundary runs along the contour half way up: at 4.5 m east.
    expect(Math.max(...after.areas[0]!.outline.map(([x]) => x))).toBeCloseTo(4.5, 3);
    expect(after.checkValves.length).toBe(before.checkValves.length);
    await page.keyboard.press('Control+z');
    expect(await plan(page)).toEqual(before);
  });
});

test('air reliefs and drains are set by hand, by key and by button', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await view(page, 'Lay out');
  await tool(page, 'Tubing');
  await pressGround(page, [2, 3]);
  await pressGround(page, [8, 3]);
  await page.getByRole('button', { name: 'Finish' }).click();
  await stage(page).focus();
  await page.keyboard.press('7');
  await expect(page.locator('.hint strong')).toHaveText('Air relief');
  await pressGround(page, [4, 5]);
  await expect(page.locator('.hint')).toContainText('Press on a run');
  await pressGround(page, [4, 3]);
  await expect(section(page, /^line part/)).toContainText('air relief');
  await expect(figure(page, 'From its start, on the ground')).toHaveText('2.00 m');
  await tool(page, 'Drain');
  await pressGround(page, [6, 3]);
  expect((await plan(page)).lineParts.map(({ kind }) => kind)).toEqual(['air relief', 'drain']);
  await page.keyboard.press('Control+z');
  expect((await plan(page)).lineParts).toHaveLength(1);

  await test.step('while a piece is drawn 8 is the start of its length', async () => {
    await tool(page, 'Tubing');
    await pressGround(page, [2, 5]);
    await page.mouse.move(...(await ground(page, [4, 5])), { steps: 3 });
    await page.keyboard.press('8');
    await expect(page.getByLabel('Length', { exact: true })).toHaveValue('8');
    await expect(page.locator('.hint strong')).toHaveText('Tubing');
  });
});

test('layers are hidden and locked; 9 shows what is chosen', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [2, 2]);
  await tool(page, 'Plant');
  await pressGround(page, [7, 4]);
  await stage(page).focus();
  await page.keyboard.press('s');
  await page.keyboard.press('Escape');
  const before = await plan(page);
  const layers = page.getByTestId('layers');
  const button = page.getByRole('button', { name: /^Layers/ });

  await test.step('hidden plants are neither seen nor caught', async () => {
    await pressGround(page, [7, 4]);
    await expect(page.getByRole('heading', { name: /^plant/ })).toBeVisible();
    await button.click();
    await layers.getByLabel('Show: Plants').uncheck();
    await page.keyboard.press('Escape');
    await expect(button).toContainText('1 hidden');
    // What was chosen there is let go.
    await expect(page.getByRole('heading', { name: /^plant/ })).toHaveCount(0);
    await pressGround(page, [7, 4]);
    await expect(page.getByRole('heading', { name: /^plant/ })).toHaveCount(0);
  });

  await test.step('a locked bed is not dragged, by keys neither', async () => {
    await button.focus();
    await page.keyboard.press('Enter');
    const lock = layers.getByLabel('Lock: Beds, paving, lawns');
    await lock.focus();
    await page.keyboard.press('Space');
    await expect(lock).toBeChecked();
    await page.keyboard.press('Escape');
    await expect(button).toContainText('1 hidden, 1 locked');
    await drag(page, await ground(page, [3, 3]), await ground(page, [5, 4]));
    expect((await plan(page)).areas).toEqual(before.areas);
  });

  await test.step('all shown and unlocked again, the bed moves', async () => {
    await button.click();
    await layers.getByRole('button', { name: 'Show and unlock all' }).click();
    await page.keyboard.press('Escape');
    await expect(button).toHaveText('Layers');
    await pressGround(page, [3, 3]);
    await drag(page, await ground(page, [3, 3]), await ground(page, [4, 3]));
    expect((await plan(page)).areas).not.toEqual(before.areas);
    await page.keyboard.press('Control+z');
  });

  await test.step('9 brings the chosen plant into the middle, 0 all of it', async () => {
    await pressGround(page, [7, 4]);
    await expect(page.getByRole('heading', { name: /^plant/ })).toBeVisible();
    await stage(page).focus();
    await page.keyboard.press('0');
    const all = await camera(page);
    await page.keyboard.press('9');
    const near = await camera(page);
    expect(near.center[0]).toBeCloseTo(7, 1);
    expect(near.center[1]).toBeCloseTo(4, 1);
    expect(near.pixelsPerMetre).toBeGreaterThan(all.pixelsPerMetre);
  });
});
