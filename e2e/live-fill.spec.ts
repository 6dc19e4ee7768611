import { expect, test, type Page } from '@playwright/test';
import {
  drag,
  drawBed,
  figure,
  ground,
  metric,
  openEmpty,
  pressGround,
  saved,
  section,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

const DRAW = 'Fill the bed with dripline';
const LIVE = 'Rows of this bed';

interface Drip {
  readonly areas: readonly { readonly outline: readonly Spot[] }[];
  readonly runs: readonly { readonly id: string; readonly name: string; readonly path: readonly Spot[] }[];
  readonly fills: readonly {
    readonly runIds: readonly string[];
    readonly byHand: boolean;
    readonly leadIds?: readonly string[];
  }[];
}
const plan = async (page: Page): Promise<Drip> => (await saved(page)) as unknown as Drip;

async function openBed(page: Page): Promise<void> {
  await openEmpty(page);
  await page.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await metric(page);
  await drawBed(page, [1, 1]);
  await view(page, 'Lay out');
  await tool(page, 'Select');
}

const dragGround = async (page: Page, from: Spot, to: Spot, whileDown?: () => Promise<void>): Promise<void> =>
  drag(page, await ground(page, from), await ground(page, to), whileDown);

/** Chooses the bed by the button of the panel: on the plan a bed that is full of rows is hard to press. */
const chooseBed = async (page: Page): Promise<void> => {
  await page.keyboard.press('Escape');
  await section(page, DRAW).getByRole('button', { name: /^Bed/ }).click();
  await expect(section(page, LIVE)).toBeVisible();
};

test('rows follow their bed, and one undo brings both back', async ({ page }) => {
  await openBed(page);

  await test.step('filled by the keyboard', async () => {
    await section(page, DRAW).getByRole('button', { name: /^Bed/ }).focus();
    await page.keyboard.press('Enter');
    await page.getByTestId('fill-draw').focus();
    await page.keyboard.press('Enter');
    await chooseBed(page);
    await expect(figure(page, 'Rows', LIVE)).toHaveText('4');
  });
  const before = await plan(page);
  expect(before.fills).toMatchObject([{ byHand: false }]);

  await test.step('a corner that is dragged takes the rows along', async () => {
    await dragGround(page, [4, 3], [4.6, 3.9]);
    await expect(undoTitle(page)).toHaveAttribute('title', /Move corner/);
    const after = await plan(page);
    expect(after.areas[0]!.outline[2]![1]).toBeGreaterThan(3.5);
    expect(after.fills[0]!.byHand).toBe(false);
    const highest = ({ runs }: Drip) => Math.max(...runs.flatMap(({ path }) => path.map(([, y]) => y)));
    expect(highest(after)).toBeGreaterThan(highest(before) + 0.3);
    expect(after.fills[0]!.runIds.slice(0, before.runs.length).toSorted()).toEqual(
      expect.arrayContaining(before.runs.map(({ id }) => id).slice(0, 4)),
    );
  });

  await test.step('one undo brings both back, redo both forth', async () => {
    await page.keyboard.press('Control+z');
    const back = await plan(page);
    expect(back.areas).toEqual(before.areas);
    expect(back.runs).toEqual(before.runs);
    await page.keyboard.press('Control+Shift+z');
    expect((await plan(page)).areas).not.toEqual(before.areas);
    await page.keyboard.press('Control+z');
  });

  await test.step('a value on the card changes the rows as one step', async () => {
    await page.getByLabel('Between rows').fill('30 cm');
    await page.getByLabel('Between rows').press('Enter');
    await expect(figure(page, 'Rows', LIVE)).toHaveText('6');
    await expect(undoTitle(page)).toHaveAttribute('title', /Change rows/);
    expect((await plan(page)).runs).toHaveLength(8);
  });

  await test.step('what cannot be is not done, and says why', async () => {
    await page.getByText('Tubing, edge, spread').click();
    await page.getByLabel('From the edge').fill('1.2 m');
    await page.getByLabel('From the edge').press('Enter');
    await expect(section(page, LIVE).getByRole('alert')).toContainText('no room for a row');
    expect((await plan(page)).runs).toHaveLength(8);
  });
});

test('a row that is bent by hand ends the following until the rows are drawn anew', async ({ page }) => {
  await openBed(page);
  await pressGround(page, [2.5, 2]);
  await page.getByTestId('fill-draw').click();
  const before = await plan(page);
  const row = before.runs[1]!;
  const middle: Spot = [(row.path[0]![0] + row.path[1]![0]) / 2, row.path[0]![1]];

  await test.step('bent', async () => {
    await pressGround(page, middle);
    await dragGround(page, middle, [middle[0], middle[1] + 0.2]);
    await expect(page.getByText('Rows of Bed 1 were changed by hand')).toBeVisible();
    expect((await plan(page)).runs[1]!.path).toHaveLength(3);
    await chooseBed(page);
    await expect(page.getByTestId('by-hand')).toContainText(
      'changed by hand, so they no longer follow the bed',
    );
  });

  await test.step('the bed no longer takes the rows along', async () => {
    const bent = await plan(page);
    await dragGround(page, [4, 3], [4.6, 3.9]);
    const after = await plan(page);
    expect(after.areas).not.toEqual(bent.areas);
    expect(after.runs).toEqual(bent.runs);
    await page.keyboard.press('Control+z');
  });

  await test.step('drawn anew', async () => {
    await page.getByRole('button', { name: 'Draw the rows anew' }).click();
    const anew = await plan(page);
    expect(anew.runs).toEqual(before.runs);
    expect(anew.fills[0]!.byHand).toBe(false);
    await expect(figure(page, 'Rows', LIVE)).toHaveText('4');
  });

  await test.step('forgotten, they are plain runs', async () => {
    await section(page, LIVE).getByRole('button', { name: 'Let go of the rows' }).click();
    const plain = await plan(page);
    expect(plain.fills).toHaveLength(0);
    expect(plain.runs).toEqual(before.runs);
  });
});

test('a header is led from the control set, and follows it', async ({ page }) => {
  await openBed(page);
  await tool(page, 'Control set');
  await pressGround(page, [0.5, 0.5]);
  await tool(page, 'Select');
  await page.keyboard.press('Escape');
  await section(page, DRAW).getByRole('button', { name: /^Bed/ }).click();
  await expect(page.getByLabel(/^Lead a header from/)).toBeChecked();
  await page.getByTestId('fill-draw').click();
  const led = await plan(page);
  const lead = (on: Drip) => on.runs.find(({ id }) => id === on.fills[0]!.leadIds?.[0]);
  expect(lead(led)!.path[0]![0]).toBeCloseTo(0.5, 1);

  await test.step('the control set is moved', async () => {
    const from = lead(led)!.path[0]!;
    await dragGround(page, from, [4.5, 0.6]);
    const moved = await plan(page);
    expect(moved.fills[0]!.byHand).toBe(false);
    expect(lead(moved)!.path[0]![0]).toBeGreaterThan(4);
    expect(lead(moved)!.path.at(-1)![0]).toBeGreaterThan(3);
  });

  await test.step('without it the lead goes', async () => {
    await chooseBed(page);
    await page.getByLabel(/^Lead a header from/).uncheck();
    const bare = await plan(page);
    expect(bare.fills[0]!.leadIds).toBeUndefined();
    expect(bare.runs).toHaveLength(led.runs.length - 1);
  });
});

test('rings round a tree are shown, drawn, and follow it', async ({ page }) => {
  await openEmpty(page);
  await page.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await metric(page);
  await view(page, 'Lay out');
  await tool(page, 'Plant');
  await page.getByLabel('Class').selectOption('tree');
  await pressGround(page, [3, 3]);
  await tool(page, 'Select');
  await page.keyboard.press('Escape');
  await pressGround(page, [3, 3]);
  await page.getByLabel('Water the tree with').selectOption('rings');
  await expect(page.getByTestId('rings-draw')).toBeEnabled();
  await expect(figure(page, 'Rings', 'Rings round the tree')).toHaveText('2');
  expect((await plan(page)).runs).toHaveLength(0);

  await page.getByTestId('rings-draw').focus();
  await page.keyboard.press('Enter');
  const drawn = await plan(page);
  expect(drawn.runs.length).toBeGreaterThanOrEqual(2);
  expect(drawn.fills).toHaveLength(1);

  await test.step('the tree is moved by the keys', async () => {
    await pressGround(page, [3, 3]);
    for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowRight');
    const moved = await plan(page);
    expect(moved.runs.map(({ id }) => id)).toEqual(drawn.runs.map(({ id }) => id));
    expect(moved.runs[0]!.path[0]![0]).toBeGreaterThan(drawn.runs[0]!.path[0]![0]);
    expect(moved.fills[0]!.byHand).toBe(false);
  });

  await test.step('a value on the card', async () => {
    await page.getByLabel('As', { exact: true }).selectOption('spiral');
    await expect(undoTitle(page)).toHaveAttribute('title', /Change rows/);
    expect((await plan(page)).runs.length).toBeLessThan(drawn.runs.length);
  });
});
