import { expect, test, type Page } from '@playwright/test';
import {
  drag,
  drawBed,
  figure,
  ground,
  metric,
  openDemo,
  openEmpty,
  piece,
  press,
  pressGround,
  saved,
  section,
  shifted,
  staticPressure,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

const FLOW = 'Pressure and flow';
const areas = (page: Page, count: number) =>
  page.getByRole('heading', { name: `${count} × area`, exact: true });

test('figures follow the pointer, undo brings back the same ones', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const flow = page.getByTestId('total-flow');
  const outlets = figure(page, 'Outlets', FLOW);
  await expect(outlets).not.toHaveText('0');

  // The free end of the dripline along the wall.
  await pressGround(page, [7.5, 11.2]);
  await expect(page.getByRole('heading', { name: 'run R2' })).toBeVisible();
  const figures = () => section(page, FLOW).locator('.figures').innerText();
  const length = figure(page, 'Length on the ground');
  const before = { figures: await figures(), length: await length.innerText(), flow: await flow.innerText() };

  const end = await ground(page, [2, 11.2]);
  let whileDown = '';
  await drag(page, end, await ground(page, [5.1, 11.2]), async () => {
    await expect(flow).not.toHaveText(before.flow);
    await expect(length).not.toHaveText(before.length);
    // Nothing is kept yet: there is nothing to take back.
    await expect(undoTitle(page)).toBeDisabled();
    whileDown = await outlets.innerText();
  });
  await expect(undoTitle(page)).toHaveAttribute('title', 'Undo: Move corner (Ctrl+Z)');
  await expect(outlets).toHaveText(whileDown);
  const after = { figures: await figures(), length: await length.innerText() };

  await page.keyboard.press('Control+z');
  await expect(length).toHaveText(before.length);
  await expect.poll(figures).toBe(before.figures);
  await page.keyboard.press('Control+Shift+z');
  await expect(length).toHaveText(after.length);
  await expect.poll(figures).toBe(after.figures);

  await test.step('Escape while the button is down drops the drag', async () => {
    await drag(page, await ground(page, [5.1, 11.2]), await ground(page, [3, 11.2]), async () => {
      await expect(length).not.toHaveText(after.length);
      await page.keyboard.press('Escape');
      await expect(length).toHaveText(after.length);
    });
    await expect.poll(figures).toBe(after.figures);
  });
});

test('typed lengths, right angles and vertices give exact corners', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [2, 4]);
  const area = figure(page, 'Area');
  await expect(area).toHaveText('6.00 m²');

  await test.step('a second bed on two corners of the first', async () => {
    await tool(page, 'Bed');
    await press(page, shifted(await ground(page, [5, 4]), 4, -3));
    await press(page, shifted(await ground(page, [5, 6]), -3, 4));
    // The pointer is not quite square to the last side; the corner is. Units may change under way.
    await page.mouse.move(...shifted(await ground(page, [6, 6]), 0, 3), { steps: 3 });
    await page.getByRole('button', { name: 'ft · psi' }).click();
    await page.mouse.move(...shifted(await ground(page, [6.2, 6]), 0, 3), { steps: 3 });
    await page.locator('.canvas-stage').focus();
    await piece(page, '1.5 m');
    await metric(page);
    await page.mouse.move(...shifted(await ground(page, [6.5, 5]), 4, 0), { steps: 3 });
    await page.locator('.canvas-stage').focus();
    await piece(page, '2');
    // Closed by a press near the first corner.
    await press(page, shifted(await ground(page, [5, 4]), 3, 3));
    await expect(area).toHaveText('3.00 m²');
  });

  const plan = await saved(page);
  const [first, second] = plan.areas.map(({ outline }) => outline);
  expect(second!.slice(0, 2)).toEqual(first!.slice(1, 3));
  const side = (outline: readonly Spot[], i: number) => {
    const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
    return [b[0] - a[0], b[1] - a[1]];
  };
  const wanted = [
    [0, 2],
    [1.5, 0],
    [0, -2],
    [-1.5, 0],
  ];
  wanted.forEach((vector, i) =>
    side(second!, i).forEach((part, axis) => expect(part).toBeCloseTo(vector[axis]!, 9)),
  );
});

test('corners are put in, pulled out and taken away', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [2, 4]);
  const area = figure(page, 'Area');
  await page.keyboard.press('s');

  await test.step('double click on an edge', async () => {
    await page.mouse.dblclick(...(await ground(page, [2.75, 4])));
    await expect(undoTitle(page)).toHaveAttribute('title', /Insert corner/);
    await expect(area).toHaveText('6.00 m²');
    expect((await saved(page)).areas[0]!.outline).toHaveLength(5);
    // Square below its place: a triangle of 3 m by 1 m more.
    await drag(page, await ground(page, [2.75, 4]), await ground(page, [2.75, 3]));
    await expect(area).not.toHaveText('6.00 m²');
    expect(Number.parseFloat((await area.textContent())!)).toBeCloseTo(7.5, 0);
  });

  await test.step('Delete takes the chosen corner', async () => {
    await pressGround(page, [2.75, 3]);
    await page.keyboard.press('Delete');
    await expect(undoTitle(page)).toHaveAttribute('title', /Delete corner/);
    await expect(area).toHaveText('6.00 m²');
    expect((await saved(page)).areas[0]!.outline).toHaveLength(4);
  });

  await test.step('the handle in the middle of an edge', async () => {
    await drag(page, await ground(page, [3.5, 6]), await ground(page, [3.5, 7]), async () => {
      await expect(area).not.toHaveText('6.00 m²');
    });
    await expect(undoTitle(page)).toHaveAttribute('title', /Insert corner/);
    expect((await saved(page)).areas[0]!.outline).toHaveLength(5);
    await pressGround(page, [3.5, 7]);
    await page.keyboard.press('Delete');
    await expect(area).toHaveText('6.00 m²');
  });

  await test.step('a triangle keeps its three corners until it is deleted whole', async () => {
    await pressGround(page, [2, 6]);
    await page.keyboard.press('Delete');
    await expect(area).toHaveText('3.00 m²');
    await pressGround(page, [5, 6]);
    await page.keyboard.press('Delete');
    await expect(page.getByRole('status').filter({ hasText: 'needs all the corners' })).toBeVisible();
    await expect(area).toHaveText('3.00 m²');
    await page.keyboard.press('Delete');
    await expect(area).toBeHidden();
    expect((await saved(page)).areas).toHaveLength(0);
  });
});

test('undo takes back a gesture under way before anything that was kept', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [2, 4]);
  const area = figure(page, 'Area');
  await tool(page, 'Lawn');
  for (const corner of [
    [6, 2],
    [9, 2],
    [9, 6],
    [11, 6],
  ] as const)
    await pressGround(page, corner);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Use', { exact: true })).toHaveValue('lawn');
  await expect(area).toHaveText('6.00 m²');
  expect((await saved(page)).areas.map(({ outline }) => outline.length)).toEqual([4, 3]);
  await page.keyboard.press('Control+z');
  expect((await saved(page)).areas).toHaveLength(1);
  await page.keyboard.press('s');
  await pressGround(page, [3, 5]);
  await drag(page, await ground(page, [3, 5]), await ground(page, [7, 5]), async () => {
    await page.keyboard.press('Control+z');
  });
  await expect(undoTitle(page)).toHaveAttribute('title', /Draw bed/);
});

test('duplicate, box, shift and delete', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [2, 4]);
  await page.keyboard.press('s');
  await page.keyboard.press('Control+d');
  await expect(page.getByRole('heading', { name: 'area A2' })).toBeVisible();
  // The copy is chosen: moved away in one drag.
  await drag(page, await ground(page, [4, 4.5]), await ground(page, [7.5, 4]));
  await expect(undoTitle(page)).toHaveAttribute('title', /Move/);

  await page.keyboard.press('Escape');
  await drag(page, await ground(page, [1.5, 6.5]), await ground(page, [9.5, 2.5]));
  await expect(areas(page, 2)).toBeVisible();
  await drag(page, await ground(page, [1.5, 6.5]), await ground(page, [5.2, 3.5]));
  await expect(page.getByRole('heading', { name: 'area A1' })).toBeVisible();

  await page.keyboard.down('Shift');
  await pressGround(page, [8, 4]);
  await expect(areas(page, 2)).toBeVisible();
  await pressGround(page, [3, 5]);
  await expect(page.getByRole('heading', { name: 'area A2' })).toBeVisible();
  await page.keyboard.up('Shift');

  await page.keyboard.press('Control+a');
  await expect(areas(page, 2)).toBeVisible();
  await view(page, 'Decide');
  await expect(figure(page, 'Beds')).toHaveText('12.0 m²');
  await view(page, 'Survey');
  await pressGround(page, [8, 4]);
  await page.getByRole('button', { name: 'Delete', exact: true }).click();
  expect((await saved(page)).areas).toHaveLength(1);
  await page.keyboard.press('Control+z');
  expect((await saved(page)).areas).toHaveLength(2);
});

test('either system may be typed at any time; what cannot be read is refused with the reason', async ({
  page,
}) => {
  await openDemo(page);
  const field = staticPressure(page);
  const type = async (text: string) => {
    await field.click();
    await field.fill(text);
    await field.press('Enter');
    await field.blur();
  };
  await expect(field).toHaveValue('62.0 psi');
  await type('2.8 bar');
  await expect(field).toHaveValue('40.6 psi');
  await metric(page);
  await expect(field).toHaveValue('2.80 bar');
  await type('40 psi');
  await expect(field).toHaveValue('2.76 bar');
  await page.getByRole('button', { name: 'ft · psi' }).click();
  await expect(field).toHaveValue('40.0 psi');

  const steps = await undoTitle(page).getAttribute('title');
  for (const [text, why] of [
    ['abc', '"abc" does not begin with a number'],
    ['1,234', '"1,234" may mean 1234 or 1.234'],
    ['40 gpm', '"gpm" is a unit of flow'],
    ['-5', 'below zero'],
  ] as const) {
    await type(text);
    await expect(page.getByRole('alert')).toContainText(why);
    await expect(page.getByRole('alert')).toContainText('Type ');
    await expect(field).toHaveValue(text);
    await expect(field).toHaveAttribute('aria-invalid', 'true');
    await expect(undoTitle(page)).toHaveAttribute('title', steps!);
    await field.press('Escape');
    await field.blur();
    await expect(field).toHaveValue('40.0 psi');
    await expect(page.getByRole('alert')).toHaveCount(0);
  }
  // Two changes were kept, no more.
  await undoTitle(page).click();
  await undoTitle(page).click();
  await expect(field).toHaveValue('62.0 psi');
  await expect(undoTitle(page)).toBeDisabled();
});
