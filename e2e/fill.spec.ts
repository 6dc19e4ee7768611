import { expect, test, type Page } from '@playwright/test';
import {
  drawBed,
  figure,
  metric,
  openEmpty,
  pressGround,
  saved,
  section,
  tool,
  undoTitle,
  view,
} from './canvas.ts';

const CARD = 'Fill the bed with dripline';

async function chooseBed(page: Page): Promise<void> {
  await openEmpty(page);
  await page.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await metric(page);
  await drawBed(page, [1, 1]);
  await view(page, 'Lay out');
  await expect(section(page, CARD)).toContainText('Choose a bed to fill it with dripline.');
  await tool(page, 'Select');
  await pressGround(page, [2.5, 2]);
  await expect(page.getByTestId('fill-draw')).toBeEnabled();
}

test('a bed is filled with rows of dripline', async ({ page }) => {
  await chooseBed(page);

  await test.step('figures of a bed of 3 m by 2 m', async () => {
    // (2 m - 8 in) / 18 in = 3.9: four rows of 2.80 m with six emitters of 0.6 gph each, spread over the width.
    await expect(figure(page, 'Rows', CARD)).toHaveText('4');
    await expect(figure(page, 'Row spacing as laid', CARD)).toHaveText(
      '59.9 cm, spread evenly (45.7 cm asked)',
    );
    await expect(figure(page, 'Dripline, on the ground', CARD)).toHaveText('11.19 m');
    await expect(figure(page, 'Emitters', CARD)).toHaveText('24');
    await expect(figure(page, 'Flow, all', CARD)).toHaveText('55 L/h');
  });

  await test.step('a value that is changed changes the preview, not the plan', async () => {
    await page.getByLabel('Between rows').fill('30 cm');
    await page.getByLabel('Between rows').press('Enter');
    await expect(figure(page, 'Rows', CARD)).toHaveText('6');
    expect((await saved(page)).runs).toHaveLength(0);
  });

  await test.step('what cannot be says so, and keeps the rest', async () => {
    await page.getByText('Tubing, edge, spread').click();
    await page.getByLabel('From the edge').fill('1.2 m');
    await page.getByLabel('From the edge').press('Enter');
    await expect(section(page, CARD).getByRole('alert')).toContainText('no room for a row');
    await expect(page.getByTestId('fill-draw')).toBeDisabled();
    await page.getByRole('button', { name: 'Back to the usual values' }).click();
    await expect(figure(page, 'Rows', CARD)).toHaveText('4');
  });

  await test.step('drawn as one step by the keyboard', async () => {
    await page.getByTestId('fill-draw').scrollIntoViewIfNeeded();
    await page.getByTestId('fill-draw').focus();
    await page.keyboard.press('Enter');
    expect((await saved(page)).runs).toHaveLength(6);
    await expect(undoTitle(page)).toHaveAttribute('title', /Rows in/);
    await expect(section(page, CARD)).toContainText('Choose a bed');
  });
});

test('rows replace those that lie in the bed, and undo brings them back', async ({ page }) => {
  await chooseBed(page);
  await page.getByTestId('fill-draw').click();
  const before = (await saved(page)).runs;

  await test.step('a live bed changes its rows at once', async () => {
    await section(page, CARD).getByRole('button', { name: /^Bed/ }).click();
    await page.getByLabel('Fed by').selectOption('serpentine');
    expect((await saved(page)).runs).toHaveLength(1);
    await page.keyboard.press('Control+z');
    expect((await saved(page)).runs).toEqual(before);
  });

  await test.step('rows that follow nothing are replaced', async () => {
    await page.getByRole('button', { name: 'Let go of the rows' }).click();
    await section(page, CARD).getByRole('button', { name: /^Bed/ }).click();
    await expect(page.getByLabel('Replace what lies in the bed (6 runs)')).toBeChecked();
    await page.getByLabel('Fed by').selectOption('serpentine');
    await page.getByTestId('fill-draw').click();
    expect((await saved(page)).runs).toHaveLength(1);
    await page.keyboard.press('Control+z');
    expect((await saved(page)).runs).toEqual(before);
  });

  await test.step('without it they are added', async () => {
    await pressGround(page, [2.5, 1.4]);
    await page.getByLabel('Replace what lies in the bed (6 runs)').uncheck();
    await page.getByTestId('fill-draw').click();
    expect((await saved(page)).runs).toHaveLength(7);
  });
});
