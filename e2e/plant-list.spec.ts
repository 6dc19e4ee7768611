import { readFileSync } from 'node:fs';
import { expect, test, type Page } from '@playwright/test';
import {
  chooseFile,
  dropFile,
  ground,
  menu,
  openEmpty,
  press,
  savedText,
  section,
  undoTitle,
} from './canvas.ts';

interface PlantPlan {
  readonly plants: readonly {
    readonly id: string;
    readonly name: string;
    readonly at: readonly [number, number];
    readonly canopyMatureM: number;
  }[];
  readonly planting: { readonly kinds: readonly { readonly name: string; readonly count: number | null }[] };
}
const plan = async (page: Page): Promise<PlantPlan> => JSON.parse(await savedText(page)) as PlantPlan;
const fixture = (name: string): Buffer => readFileSync(new URL(`../tests/fixtures/${name}`, import.meta.url));
const dialog = (page: Page) => page.getByRole('dialog');
const status = (page: Page) => dialog(page).getByRole('status');
const list = (page: Page) => section(page, 'Plant list');
const line = (page: Page, name: string) => list(page).getByRole('listitem').filter({ hasText: name });

/** The text of a file that a press hands out. */
async function textFrom(page: Page, act: () => Promise<void>): Promise<string> {
  const downloading = page.waitForEvent('download');
  await act();
  return readFileSync(await (await downloading).path(), 'utf8');
}

test('a list with three bad rows: the good ones come in, the bad ones are told and can be mended', async ({
  page,
}) => {
  await openEmpty(page);
  await expect(list(page)).toContainText('No plants yet');
  await chooseFile(page, 'plants-bad-rows.csv', fixture('plants-bad-rows.csv'), 'text/csv');
  await expect(status(page)).toHaveText(
    '3 plants with a place, 2 kinds without one, 3 rows that cannot be read.',
  );
  const bad = dialog(page).getByRole('region', { name: 'Rows that cannot be read' });
  await expect(bad.locator('code')).toHaveText([
    'row 6, column B (class)',
    'row 7, column D (mature canopy (ft))',
    'row 8, column I (y (ft))',
  ]);
  await expect(bad.getByRole('listitem')).toHaveText([
    /Desert willow.*the class is missing/,
    /Buckwheat.*"wide" does not begin with a number/,
    /Fescue.*x is "21" but y is empty/,
  ]);
  const text = await textFrom(page, () => bad.getByRole('button', { name: 'Save these rows…' }).click());

  await dialog(page).getByRole('button', { name: 'Take in 3 plants and 2 kinds' }).click();
  // What was kept back stays on the screen until it is seen off.
  await expect(bad.locator('code')).toHaveCount(3);
  await dialog(page).getByRole('button', { name: 'Close' }).click();
  await expect(dialog(page)).toHaveCount(0);
  await expect(line(page, 'Manzanita')).toContainText('2 placed');
  await expect(line(page, 'Manzanita')).toContainText('low water');
  await expect(line(page, 'Sedge')).toContainText('0 of 30');
  await expect(list(page).getByRole('row', { name: 'All plants' }).getByRole('cell').last()).toHaveText('78');
  const first = await plan(page);
  expect(first.plants.map(({ id, name, at }) => [id, name, ...at])).toEqual([
    ['P1', 'Manzanita', expect.closeTo(3.048, 6), expect.closeTo(2.4384, 6)],
    ['P2', 'Manzanita', expect.closeTo(5.1816, 6), expect.closeTo(2.4384, 6)],
    ['P3', 'Coffeeberry', expect.closeTo(3.9624, 6), expect.closeTo(4.2672, 6)],
  ]);
  expect(first.planting.kinds.map(({ name, count }) => [name, count])).toEqual([
    ['Sedge', 30],
    ['Strawberry', 45],
  ]);

  // The rows that were saved, mended in a spreadsheet, in another system of units.
  await page.getByRole('button', { name: 'm · bar' }).click();
  const mended = text
    .replace('Desert willow,,', 'Desert willow,tree,')
    .replace(',wide,', ',3,')
    .replace(',21,,', ',21,2,');
  expect(mended).not.toBe(text);
  await chooseFile(page, 'plants to correct.csv', mended, 'text/csv');
  await expect(status(page)).toHaveText('2 plants with a place, 1 kind without one.');
  await dialog(page).getByRole('button', { name: 'Take in 2 plants and 1 kind' }).click();
  await expect(dialog(page)).toHaveCount(0);
  const second = await plan(page);
  expect(second.plants.slice(3).map(({ name, canopyMatureM }) => [name, canopyMatureM])).toEqual([
    ['Buckwheat', expect.closeTo(0.9144, 6)],
    ['Fescue', expect.closeTo(0.3048, 6)],
  ]);

  // One list is one step.
  await expect(undoTitle(page)).toHaveAttribute('title', /Open plant list/);
  await undoTitle(page).click();
  expect(await plan(page)).toEqual(first);
  await undoTitle(page).click();
  expect(await plan(page)).toMatchObject({ plants: [], planting: { kinds: [] } });
  await expect(list(page)).toContainText('No plants yet');
});

test('by keys alone: columns set, list taken in', async ({ page }) => {
  await openEmpty(page);
  const text = 'what;sort;size;a;b\nRush;perennial;2;3;4\nRush;perennial;2;5;4\nBay;tree;20;8;4\n';
  await chooseFile(page, 'odd.csv', text, 'text/csv');
  await expect(dialog(page)).toBeVisible();
  const focused = () =>
    page.evaluate(() => {
      const element = document.activeElement as HTMLElement | null;
      return {
        inside: !element || element === document.body || element.closest('dialog') !== null,
        name: (element as HTMLSelectElement | null)?.labels?.[0]?.textContent ?? element?.textContent ?? '',
      };
    });
  const tabTo = async (name: string | RegExp) => {
    for (let presses = 0; presses < 60; presses++) {
      const at = await focused();
      expect(at.inside).toBe(true);
      if (typeof name === 'string' ? at.name === name : name.test(at.name)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${name}`);
  };
  await tabTo('Headings');
  await page.keyboard.press('i');
  await expect(page.getByLabel('Headings')).toHaveValue('0');
  for (const [field, letter] of [
    ['Name, species', 'a'],
    ['Class', 'b'],
    ['Canopy, mature', 'c'],
    ['x, to the east', 'd'],
    ['y, to the north', 'e'],
  ] as const) {
    await tabTo(field);
    await page.keyboard.press(letter);
  }
  await expect(status(page)).toHaveText('3 plants with a place, 0 kinds without one.');
  await expect(dialog(page).getByRole('row', { name: '4 plant Bay tree' })).toBeVisible();
  await tabTo(/^Take in 3 plants/);
  await page.keyboard.press('Enter');
  await expect(dialog(page)).toHaveCount(0);
  expect((await plan(page)).plants.map(({ name }) => name)).toEqual(['Rush', 'Rush', 'Bay']);

  // Escape drops a list, and nothing has changed.
  await chooseFile(page, 'odd.csv', text, 'text/csv');
  await expect(dialog(page)).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(dialog(page)).toHaveCount(0);
  expect((await plan(page)).plants).toHaveLength(3);
});

test('the list in the panel: select, place, change, save and open again', async ({ page }) => {
  await openEmpty(page);
  await dropFile(page, 'plants.csv', fixture('plants-comma.csv'), 'text/csv');
  await dialog(page)
    .getByRole('button', { name: /^Take in/ })
    .click();
  await expect(line(page, 'Yarrow')).toContainText('0 of 24');

  // The kind's own choices go with the plant tool.
  await line(page, 'Yarrow')
    .getByRole('button', { name: /^Place/ })
    .click();
  await press(page, await ground(page, [1, 3.5]));
  await page.keyboard.press('Escape');
  await expect(line(page, 'Yarrow')).toContainText('1 of 24');
  const placed = (await plan(page)).plants.at(-1)!;
  expect(placed).toMatchObject({ name: 'Yarrow', canopyMatureM: expect.closeTo(0.762, 6) });

  // A change holds for all of a kind, in one step.
  await line(page, 'Sage, white')
    .getByRole('button', { name: /^Change/ })
    .click();
  const form = list(page).getByRole('group', { name: /Sage/ });
  await form.getByLabel('Species or note').fill('Black sage');
  await form.getByLabel('Species or note').press('Enter');
  await expect(line(page, 'Black sage')).toContainText('2 placed');
  expect((await plan(page)).plants.filter(({ name }) => name === 'Black sage')).toHaveLength(2);

  // Its name selects the placed ones.
  await line(page, 'Black sage').getByRole('button', { name: 'Black sage', exact: true }).click();
  await page.keyboard.press('Delete');
  expect((await plan(page)).plants.filter(({ name }) => name === 'Black sage')).toHaveLength(0);
  await undoTitle(page).click();

  const before = await plan(page);
  const text = await textFrom(page, () => list(page).getByRole('button', { name: 'Save as CSV' }).click());
  // A second time into the same plan: what stands is left out unless it is asked for.
  await chooseFile(page, 'plants.csv', text, 'text/csv');
  await expect(dialog(page).getByLabel(/Leave out 5 plants/)).toBeChecked();
  await dialog(page).getByRole('button', { name: 'Cancel' }).click();
  await menu(page, 'New plan on a blank grid');
  await chooseFile(page, 'plants.csv', text, 'text/csv');
  await dialog(page)
    .getByRole('button', { name: /^Take in/ })
    .click();
  const after = await plan(page);
  const figures = (given: PlantPlan) =>
    given.plants.map(({ name, at, canopyMatureM }) => [
      name,
      ...[...at, canopyMatureM].map((metres) => expect.closeTo(metres, 6) as unknown),
    ]);
  expect(after.plants.map(({ name, at, canopyMatureM }) => [name, ...at, canopyMatureM])).toEqual(
    figures(before),
  );
  expect(after.planting.kinds.map(({ name, count }) => [name, count])).toEqual(
    before.planting.kinds.map(({ name, count }) => [name, count]),
  );
});

test('a kind is added by hand, counted and deleted', async ({ page }) => {
  await openEmpty(page);
  const add = list(page).getByRole('button', { name: 'Add a kind…' });
  await add.click();
  const form = list(page).getByRole('group', { name: 'New kind' });
  await form.getByLabel('Species or note').fill('Rush');
  await form.getByLabel('Count').fill('12');
  await form.getByRole('button', { name: 'Add to the list' }).click();
  await expect(line(page, 'Rush')).toContainText('0 of 12');
  // The same name and class a second time is refused.
  await add.click();
  await form.getByLabel('Species or note').fill(' RUSH');
  await form.getByLabel('Species or note').press('Enter');
  await expect(form.getByRole('alert')).toContainText('in the list already');
  await expect(form.getByRole('button', { name: 'Add to the list' })).toBeDisabled();
  await form.getByRole('button', { name: 'Drop it' }).click();

  await line(page, 'Rush')
    .getByRole('button', { name: /^Change/ })
    .click();
  await list(page).getByLabel('Count').fill('many');
  await list(page).getByLabel('Count').press('Enter');
  await expect(list(page).getByRole('alert')).toBeVisible();
  await list(page).getByLabel('Count').fill('20');
  await list(page).getByLabel('Count').press('Enter');
  await expect(line(page, 'Rush')).toContainText('0 of 20');
  await list(page).getByRole('button', { name: 'Delete from the list' }).click();
  await expect(list(page)).toContainText('No plants yet');
  await undoTitle(page).click();
  await expect(line(page, 'Rush')).toContainText('0 of 20');
});

test('cells copied from a spreadsheet are pasted as a list', async ({ page }) => {
  await openEmpty(page);
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', 'name\tclass\tqty\nThyme\tGC\t40\n');
    // Spreadsheets put a picture of the cells beside them.
    data.items.add(new File([Uint8Array.of(0x89, 0x50, 0x4e, 0x47)], 'image.png', { type: 'image/png' }));
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true }));
  });
  await expect(status(page)).toHaveText('0 plants with a place, 1 kind without one.');
  // The usual size is told with where it comes from.
  await expect(dialog(page)).toContainText(/usual ground cover of 3' 0".*common practice/);
  await dialog(page).getByRole('button', { name: 'Take in 1 kind' }).click();
  await expect(line(page, 'Thyme')).toContainText('0 of 40');
});

test('files that are no list are refused with a way out', async ({ page }) => {
  await openEmpty(page);
  for (const [name, content, what] of [
    ['plants.xlsx', Buffer.from('PK\u0003\u0004'), /workbook.*save or export the sheet as CSV/s],
    ['plants.csv', Buffer.from(''), /empty/],
    ['plants.csv', Buffer.from('a,b\n'.repeat(20_001)), /20,000 rows.*Split it/s],
  ] as const) {
    await chooseFile(page, name, content, 'text/csv');
    await expect(dialog(page)).toContainText('The plant list was not read; your plan is as it was');
    await expect(dialog(page).getByRole('listitem')).toHaveText(what);
    await page.keyboard.press('Escape');
    await expect(dialog(page)).toHaveCount(0);
  }
});
