import { expect, test, type Locator, type Page } from '@playwright/test';
import { openDemo, openEmpty, view } from './canvas.ts';

const card = (page: Page): Locator =>
  page.locator('section.section', { has: page.getByRole('heading', { name: 'Soil', exact: true }) });
const row = (page: Page, name: string): Locator =>
  card(page)
    .locator('.figures > div', { has: page.getByText(name, { exact: true }) })
    .locator('dd');

async function type(page: Page, label: string, text: string): Promise<void> {
  const field = card(page).getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
}

test('a soil by its jar test: class, tables, measured intake, and back', async ({ page }) => {
  await openEmpty(page);
  await view(page, 'Survey');
  await expect(card(page)).toContainText('Nothing is known of the soil yet');
  await expect(card(page)).toContainText('No table can be read without a texture');

  await type(page, 'Sand, jar test', '33');
  await type(page, 'Silt, jar test', '33');
  await expect(row(page, 'Texture taken')).toHaveText('clay loam, by the jar test');
  await type(page, 'Clay, jar test', '44');
  await expect(row(page, 'Sum of the jar test')).toHaveText('110%');
  await expect(card(page)).toContainText('Sand, silt and clay add up to 110 percent');
  await type(page, 'Clay, jar test', '34');
  await expect(row(page, 'Texture taken')).toHaveText('clay loam, by the jar test');
  await expect(card(page).getByRole('img', { name: /Texture triangle: clay loam/ })).toBeVisible();

  // USDA, heavy clay or clay loam on level ground: 0.15 in/h bare, 0.20 covered.
  await expect(row(page, 'Intake taken')).toHaveText('0.15 in/h');
  await expect(card(page)).toContainText('The cover is not known: taken as bare');
  await card(page).getByLabel('Cover', { exact: true }).selectOption('mulch');
  await expect(row(page, 'Intake taken')).toHaveText('0.20 in/h');
  await card(page).getByLabel('Table to use').selectOption({ label: 'Texture chart with slope factor' });
  await expect(row(page, 'Intake taken')).toHaveText('0.25 in/h');
  await type(page, 'Intake, measured', '3 mm/h');
  await expect(row(page, 'Intake taken')).toHaveText('0.12 in/h');
  await type(page, 'Intake through fabric', '0.1');
  await expect(row(page, 'Intake taken')).toHaveText('0.10 in/h, held back by the fabric');

  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(row(page, 'Intake taken')).toHaveText('0.20 in/h');
});

test('the slope of the beds and the sprays’ rate come from the plan', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Survey');
  await expect(row(page, 'Texture taken')).toHaveText('loam, by the jar test');
  await expect(row(page, 'Slope of the beds')).toHaveText(/^\d+\.\d%/);
  await expect(row(page, 'Water stands after')).toHaveText(/^\d+(\.\d)? (min|h)$/);
  await type(page, 'Ribbon', '2 1/2 in');
  await expect(card(page)).toContainText('The jar test says loam, the ribbon test clays.');
  await type(page, 'Sand, jar test', '120');
  await expect(card(page).getByRole('alert')).toHaveText('At most 100%.');
});
