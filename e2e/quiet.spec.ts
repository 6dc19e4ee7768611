import { expect, test } from '@playwright/test';
import {
  chooseFile,
  figure,
  ground,
  menu,
  openDemo,
  pictureBytes,
  press,
  savedText,
  tool,
  view,
} from './canvas.ts';

test('nothing leaves the page, and nothing goes wrong unseen', async ({ page, context, baseURL }) => {
  const asked: string[] = [];
  const wrong: string[] = [];
  context.on('request', (request) => asked.push(request.url()));
  page.on('websocket', (socket) => asked.push(socket.url()));
  page.on('requestfailed', (request) => wrong.push(`${request.url()} ${request.failure()?.errorText}`));
  page.on('response', (answer) => {
    if (answer.status() >= 400) wrong.push(`${answer.url()} ${answer.status()}`);
  });
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') wrong.push(message.text());
  });

  await openDemo(page);
  await page.evaluate(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      (window as unknown as { refused: string[] }).refused.push(
        `${event.effectiveDirective} ${event.blockedURI}`,
      );
    });
    Object.assign(window, { refused: [] });
  });
  for (const name of ['Decide', 'Lay out', 'Prove', 'Water', 'Build', 'Teach', 'Survey'])
    await view(page, name);
  await tool(page, 'Plant');
  await press(page, await ground(page, [8, 8]));

  await test.step('save, open, photo', async () => {
    const text = await savedText(page);
    await chooseFile(page, 'yard.webp', await pictureBytes(page, 800, 600, 'image/webp'), 'image/webp');
    await expect(page.getByText('yard.webp')).toBeVisible();
    await chooseFile(page, 'plan.json', text);
    await expect(page.getByText('site.png')).toBeVisible();
    await page.keyboard.press('Escape');
  });

  await test.step('print, with a picture that has to be made anew', async () => {
    await chooseFile(page, 'yard.webp', await pictureBytes(page, 800, 600, 'image/webp'), 'image/webp');
    await expect(page.getByText('yard.webp')).toBeVisible();
    await page.keyboard.press('Control+p');
    const dialog = page.getByRole('dialog', { name: 'Print the plan' });
    await expect(dialog.getByRole('img')).toBeVisible();
    const downloading = page.waitForEvent('download');
    await dialog.getByRole('button', { name: 'Make PDF' }).click();
    expect((await downloading).suggestedFilename()).toMatch(/\.pdf$/);
    await page.keyboard.press('Escape');
  });

  await test.step('reload, new plan, demo again', async () => {
    await expect(page.locator('.save-state')).toHaveText('Saved on this device');
    expect(await page.evaluate(() => (window as unknown as { refused: string[] }).refused)).toEqual([]);
    await page.reload();
    await page.locator('[data-ready="true"]').waitFor();
    await expect(page.getByText('yard.webp')).toBeVisible();
    await menu(page, 'New plan on a blank grid');
    await menu(page, 'Open the demo plan');
    await view(page, 'Prove');
    await expect(figure(page, 'Outlets', 'Pressure and flow')).not.toHaveText('0');
  });

  expect(wrong).toEqual([]);
  const own = new URL(baseURL!).origin;
  expect(asked.filter((url) => !/^(blob|data):/.test(url) && new URL(url).origin !== own)).toEqual([]);
  // The record is worth something: page, worker, demo picture and the print's letters are in it.
  for (const part of [/\/$/, /worker.*\.js$/, /site\.png$/, /NotoSans-Bold\.ttf$/])
    expect(asked.some((url) => part.test(url))).toBe(true);

  await test.step('the page’s own rule holds it to that', async () => {
    const policy = page.locator('meta[http-equiv="Content-Security-Policy"]');
    await expect(policy).toHaveAttribute('content', /default-src 'self'/);
    await expect(policy).not.toHaveAttribute('content', /https?:|unsafe-eval|\*/);
    const refused = await page.evaluate(async () => {
      const refusal = new Promise<string>((done) =>
        document.addEventListener('securitypolicyviolation', (event) => done(event.effectiveDirective)),
      );
      const answer = await fetch('http://127.0.0.1:9/elsewhere').catch(() => null);
      return answer ? 'went out' : refusal;
    });
    expect(refused).toBe('connect-src');
  });
});
