import { expect, test } from '@playwright/test';
import {
  drag,
  drawBed,
  figure,
  ground,
  metric,
  openDemo,
  openEmpty,
  press,
  pressGround,
  section,
  tool,
} from './canvas.ts';

test('one slope arrow: figures, contours, tints and a cross-section follow from it', async ({ page }) => {
  await openEmpty(page);
  await page.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await metric(page);
  const card = section(page, 'Ground');
  await expect(card).toContainText('No heights yet');
  await drawBed(page, [3, 3]);
  await tool(page, 'Select');
  await page.keyboard.press('Escape');

  await card.getByRole('button', { name: 'Draw a fall' }).click();
  await pressGround(page, [2, 7]);
  await pressGround(page, [2, 1]);
  const form = section(page, 'measured fall S1');
  await form.getByLabel('Measured as').selectOption('slope in percent');
  await form.getByLabel('Slope', { exact: true }).fill('12');
  await form.getByLabel('Slope', { exact: true }).press('Enter');
  await expect(figure(page, 'Drop', 'measured fall S1')).toHaveText('0.72 m');
  await expect(figure(page, 'Mean slope of the beds', 'Ground')).toHaveText('12.0%');
  await expect(figure(page, 'Highest above lowest', 'Ground')).toHaveText('0.72 m');
  await expect(card.getByRole('row', { name: '8–12 %' })).toContainText('100%');

  // Its lower end dragged to half the way: the percent stays, the drop is half.
  await tool(page, 'Select');
  await drag(page, await ground(page, [2, 1]), await ground(page, [2, 4]));
  await expect(figure(page, 'Drop', 'measured fall S1')).toHaveText('0.36 m');
  await expect(page.getByTestId('ground-outside')).toContainText('1 bed reaches beyond the levels');
  await page.keyboard.press('Control+z');

  const intervals = card.getByRole('group', { name: 'Contours every' }).getByRole('button');
  await intervals.first().click();
  await expect(card.getByLabel('Contours every').first()).not.toHaveValue('');
  await expect(intervals.first()).toHaveAttribute('aria-pressed', 'true');
  await card.getByLabel('Contours every').first().fill('0.01');
  await card.getByLabel('Contours every').first().press('Enter');
  await expect(card).toContainText('Every fifth line is bolder');
  await card.getByLabel('Tint beds by slope').check();

  await tool(page, 'Cross-section');
  await press(page, await ground(page, [4, 1.5]));
  await press(page, await ground(page, [4, 6.5]));
  await expect(figure(page, 'From A to B', 'Cross-section A–B')).toHaveText('rises 12.0% (0.60 m)');
  await page.getByRole('button', { name: 'Swap A and B' }).click();
  await expect(figure(page, 'From A to B', 'Cross-section A–B')).toHaveText('falls 12.0% (0.60 m)');
  await expect(page.getByRole('img', { name: /Ground from A to B/ })).toBeVisible();
  await section(page, 'Cross-section A–B').getByRole('button', { name: 'Close' }).click();
  await expect(page.getByRole('heading', { name: 'Cross-section A–B' })).toHaveCount(0);
});

test('two chosen levels tell drop and slope between them; a fall that contradicts them is told', async ({
  page,
}) => {
  await openDemo(page);
  await metric(page);
  await pressGround(page, [0.6, 13.3]);
  await page.keyboard.down('Shift');
  await pressGround(page, [0.6, 6.5]);
  await page.keyboard.up('Shift');
  const form = section(page, '2 × level');
  await expect(form).toContainText('0.55 m (L1 → L7)');
  await expect(form).toContainText('8.1%');

  await page.keyboard.press('a');
  await pressGround(page, [0.6, 13.3]);
  await pressGround(page, [0.6, 6.5]);
  const fall = section(page, 'measured fall S2');
  await fall.getByLabel('Drop', { exact: true }).fill('0.60 m');
  await fall.getByLabel('Drop', { exact: true }).press('Enter');
  await expect(section(page, 'Ground')).toContainText('Fall S2 does not come out with the levels');
});
