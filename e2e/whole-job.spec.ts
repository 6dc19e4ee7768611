import { readFileSync } from 'node:fs';
import { expect, test, type Page } from '@playwright/test';
import { readPdf } from '../tests/sheet/read-pdf.ts';
import {
  dropPicture,
  figure,
  openEmpty,
  press,
  stage,
  staticPressure,
  tool,
  view,
  type Spot,
} from './canvas.ts';

const PHOTO = { width: 1600, height: 1200 };
/** The photo shows 40 ft across: 40 pixels to a foot. */
const PX_PER_FT = 40;

/** Where a pixel of the photo lies on the page while all is shown: in the middle, with room round it. */
async function photoSpot(page: Page, [px, py]: Spot): Promise<Spot> {
  const box = (await stage(page).boundingBox())!;
  const scale = Math.min(box.width / PHOTO.width, box.height / PHOTO.height) * 0.84;
  return [
    box.x + box.width / 2 + (px - PHOTO.width / 2) * scale,
    box.y + box.height / 2 + (py - PHOTO.height / 2) * scale,
  ];
}
const pressPhoto = async (page: Page, px: Spot) => press(page, await photoSpot(page, px));

async function measure(page: Page, from: Spot, to: Spot, typed: string): Promise<void> {
  await pressPhoto(page, from);
  await pressPhoto(page, to);
  const length = page.getByLabel('Length', { exact: true });
  await expect(length).toBeFocused();
  await length.fill(typed);
  await length.press('Enter');
}

const PLANTS: readonly Spot[] = [
  [400, 400],
  [640, 400],
  [880, 400],
  [400, 700],
  [880, 700],
];

test('from a photo to a printed plan', async ({ page }) => {
  await openEmpty(page);

  await test.step('drop a photo and fit its scale', async () => {
    await dropPicture(page, PHOTO.width, PHOTO.height);
    await expect(page.getByText('yard.jpg')).toBeVisible();
    await expect(page.getByText('The photo has no measured line yet')).toBeVisible();
    await tool(page, 'Photo line');
    await measure(page, [100, 100], [1300, 100], "30'");
    await measure(page, [100, 100], [100, 900], '6.096 m');
    await measure(page, [100, 900], [1300, 100], '36.06 ft');
    const residual = page.getByTestId('photo-residual');
    await expect(residual).toContainText('%');
    expect(Number.parseFloat((await residual.textContent())!.replace(/^.*?: /, ''))).toBeLessThan(1);
    await expect(residual).toHaveAttribute('data-warn', 'false');
  });

  await test.step('trace a bed and place five plants', async () => {
    await tool(page, 'Bed');
    for (const corner of [
      [200, 300],
      [1200, 300],
      [1200, 800],
      [200, 800],
    ] as const)
      await pressPhoto(page, corner);
    await page.keyboard.press('Enter');
    const area = await figure(page, 'Area').textContent();
    const feet = (1000 / PX_PER_FT) * (500 / PX_PER_FT);
    expect(Math.abs(Number.parseFloat(area!.replace(/[^\d.]/g, '')) / feet - 1)).toBeLessThan(0.02);
    await tool(page, 'Plant');
    for (const plant of PLANTS) await pressPhoto(page, plant);
    await view(page, 'Decide');
    await expect(figure(page, 'Plants')).toHaveText('5');
  });

  await test.step('set supply and control set', async () => {
    await view(page, 'Survey');
    await tool(page, 'Supply');
    await pressPhoto(page, [240, 550]);
    const pressure = staticPressure(page);
    await pressure.fill('60');
    await pressure.press('Enter');
    await view(page, 'Lay out');
    await tool(page, 'Control set');
    await pressPhoto(page, [241, 551]);
  });

  await test.step('draw tubing of exactly 10 ft, set emitters, draw dripline', async () => {
    await tool(page, 'Tubing');
    await pressPhoto(page, [240, 550]);
    await page.mouse.move(...(await photoSpot(page, [400, 540])), { steps: 3 });
    await page.keyboard.press('1');
    const length = page.getByLabel('Length', { exact: true });
    await expect(length).toHaveValue('1');
    await length.pressSequentially("0'");
    await page.getByLabel('Direction').fill('0');
    await length.press('Enter');
    await page.keyboard.press('Enter');
    await expect(figure(page, 'Length on the ground')).toHaveText('10\' 0"');

    await tool(page, 'Emitter');
    await pressPhoto(page, [400, 440]);
    await pressPhoto(page, [640, 430]);
    await pressPhoto(page, [400, 660]);

    await tool(page, 'Dripline');
    await pressPhoto(page, [240, 550]);
    await pressPhoto(page, [240, 760]);
    await pressPhoto(page, [1160, 760]);
    await page.keyboard.press('Enter');
  });

  await test.step('read a pressure', async () => {
    await view(page, 'Prove');
    await tool(page, 'Select');
    await expect(page.getByTestId('total-flow')).toContainText('gpm');
    await expect(figure(page, 'Outlets', 'Pressure and flow')).not.toHaveText('0');
    await page.mouse.move(...(await photoSpot(page, [640, 430])), { steps: 4 });
    const card = page.locator('.outlet-card');
    await expect(card).toContainText('psi');
    const psi = Number.parseFloat((await card.locator('strong').first().textContent())!);
    expect(psi).toBeGreaterThan(20);
    expect(psi).toBeLessThan(25.01);
  });

  await test.step('reload: all is still there', async () => {
    const outlets = await figure(page, 'Outlets', 'Pressure and flow').textContent();
    const flow = await page.getByTestId('total-flow').textContent();
    await expect(page.locator('.save-state')).toHaveText('Saved on this device');
    await page.reload();
    await page.locator('[data-ready="true"]').waitFor();
    await view(page, 'Prove');
    await expect(figure(page, 'Outlets', 'Pressure and flow')).toHaveText(outlets!);
    await expect(page.getByTestId('total-flow')).toHaveText(flow!);
    await view(page, 'Decide');
    await expect(figure(page, 'Plants')).toHaveText('5');
    await view(page, 'Survey');
    await expect(page.getByText('yard.jpg')).toBeVisible();
  });

  await test.step('print, and measure the print', async () => {
    await page.getByLabel('Site name').fill('Trial yard');
    await page.getByLabel('Site name').press('Enter');
    await page.keyboard.press('Control+p');
    const dialog = page.getByRole('dialog', { name: 'Print the plan' });
    await dialog.getByLabel('Paper').selectOption('tabloid');
    await dialog.getByLabel('Scale').selectOption('1in=10ft');
    await expect(dialog.getByRole('img')).toBeVisible();
    const downloading = page.waitForEvent('download');
    await dialog.getByRole('button', { name: 'Make PDF' }).click();
    const file = await downloading;
    expect(file.suggestedFilename()).toBe('Trial yard.pdf');
    const [sheet] = await readPdf(new Uint8Array(readFileSync(await file.path())));
    expect(sheet!.texts.map(({ text }) => text).join(' ')).toContain('Trial yard');
    expect([sheet!.widthPt, sheet!.heightPt].map(Math.round)).toEqual([17 * 72, 11 * 72]);
    expect(sheet!.pictures).toHaveLength(1);
    // The tubing of 10 ft is the one straight line of an inch, 72 points, to a tenth of a millimetre.
    const inches = sheet!.paths.filter(({ points }) => {
      const [a, b] = points;
      return (
        points.length === 2 && Math.abs(Math.hypot(b![0] - a![0], b![1] - a![1]) - 72) < (0.1 / 25.4) * 72
      );
    });
    expect(inches.length).toBeGreaterThanOrEqual(1);
  });
});
