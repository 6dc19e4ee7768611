import { readFileSync } from 'node:fs';
import { expect, test, type Page } from '@playwright/test';
import {
  chooseFile,
  figure,
  ground,
  groundColour,
  menu,
  openDemo,
  openEmpty,
  pictureBytes,
  pressGround,
  saved,
  savedText,
  section,
  stage,
  view,
} from './canvas.ts';

const report = (page: Page) => page.getByRole('dialog');
const figures = (page: Page) => section(page, 'Pressure and flow').locator('.figures').innerText();

async function closeReport(page: Page): Promise<void> {
  await page.keyboard.press('Escape');
  await expect(report(page)).toHaveCount(0);
}

/** The picture that a saved plan carries, and what colour it has at shares of its width and height. */
async function embedded(page: Page) {
  const { photo, picture } = await saved(page);
  const colourAt = (x: number, y: number) =>
    page.evaluate(
      async ([address, shareX, shareY]) => {
        const bitmap = await createImageBitmap(await (await fetch(address)).blob());
        const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
        const context = canvas.getContext('2d')!;
        context.drawImage(bitmap, 0, 0);
        return [...context.getImageData(bitmap.width * shareX, bitmap.height * shareY, 1, 1).data];
      },
      [`data:${picture!.mediaType};base64,${picture!.base64}`, x, y] as const,
    );
  return { photo: photo!, picture: picture!, bytes: Buffer.from(picture!.base64, 'base64'), colourAt };
}
const isRed = ([r, g, b]: readonly number[]) => r! > 150 && g! < 90 && b! < 90;

test('a saved plan opens as it was, photo and figures too', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const outlets = figure(page, 'Outlets', 'Pressure and flow');
  await expect(outlets).not.toHaveText('0');
  const before = await figures(page);
  const spots = [await ground(page, [19, 5]), await ground(page, [24, 14])] as const;
  const colours = async () =>
    JSON.stringify(await Promise.all(spots.map((spot) => groundColour(page, spot))));
  const photoColours = await colours();
  const text = await savedText(page);
  expect((JSON.parse(text) as { picture: unknown }).picture).not.toBeNull();

  await pressGround(page, [7.5, 11.2]);
  await page.keyboard.press('Delete');
  await expect.poll(() => figures(page)).not.toBe(before);
  await menu(page, 'New plan on a blank grid');
  await expect.poll(colours).not.toBe(photoColours);
  // Opening is a step like any other: what was open before is not lost.
  await page.keyboard.press('Control+z');
  await expect(page.locator('.plan-name')).toHaveText('Sample front yard');
  await page.keyboard.press('Control+y');
  await expect(page.locator('.plan-name')).toHaveText('Unnamed site');

  await chooseFile(page, 'Front yard.dripwright.json', text);
  await view(page, 'Prove');
  await expect(outlets).not.toHaveText('0');
  await expect.poll(() => figures(page)).toBe(before);
  await expect.poll(colours).toBe(photoColours);
  await expect(report(page)).toHaveCount(0);
  expect(JSON.parse(await savedText(page))).toEqual(JSON.parse(text));
});

test('what cannot be opened is told, and the plan stays', async ({ page }) => {
  await openDemo(page);
  const text = await savedText(page);
  const jpeg = await pictureBytes(page, 640, 480);
  const cases: readonly (readonly [string, string | Buffer, RegExp, RegExp])[] = [
    ['broken.json', text.slice(0, 200), /^broken\.json, line \d+, column \d+$/, /not JSON/],
    [
      'foreign.json',
      '{"type":"FeatureCollection","features":[]}',
      /^foreign\.json, format$/,
      /"type", "features"/,
    ],
    ['newer.json', text.replace(/"version": \d+/, '"version": 99'), /^newer\.json, version$/, /version 99/],
    ['letter.json', 'Dear neighbour', /^letter\.json, line 1, column 1$/, /not JSON/],
    ['letter.jpg', 'Dear neighbour, the valve is by the gate.', /^letter\.jpg$/, /not a picture/],
    ['phone.jpg', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'), /^phone\.jpg$/, /HEIC/],
    ['torn.jpg', jpeg.subarray(0, 300), /^torn\.jpg$/, /damaged or incomplete/],
    ['nothing.png', '', /^nothing\.png$/, /empty/],
  ];
  for (const [name, content, where, what] of cases) {
    await test.step(name, async () => {
      await chooseFile(page, name, content, name.endsWith('json') ? 'application/json' : 'image/jpeg');
      await expect(report(page).locator('code')).toHaveText(where);
      await expect(report(page).getByRole('listitem')).toHaveText(what);
      await expect(report(page).getByRole('heading')).toHaveText(/not/);
      // The line below the fault says what to do.
      await expect(report(page).getByRole('listitem').locator('p').last()).toHaveText(/\w+ \w+/);
      await closeReport(page);
    });
  }
  expect(await savedText(page)).toBe(text);
});

test('a survey file brings beds, heads, pipes and plants', async ({ page }) => {
  await openEmpty(page);
  const survey = readFileSync(new URL('../tests/fixtures/survey-small.json', import.meta.url), 'utf8');
  await chooseFile(page, 'survey-small.json', survey);
  await expect(page.locator('.plan-name')).toHaveText('Side yard on a bank');
  await expect(report(page)).toContainText('survey-small.json is open, with these remarks');
  await closeReport(page);
  await view(page, 'Decide');
  // 10 ft by 6 ft less a hole of 2 ft by 2 ft; 4 + 6 + 3 ft of pipe in plan, 14 ft up the bank.
  await expect(figure(page, 'Beds')).toHaveText('56 ft²');
  await expect(figure(page, 'Spray heads')).toHaveText('4');
  await expect(figure(page, 'Old pipe, on the ground')).toHaveText(/^14' /);
  await expect(figure(page, 'Plants')).toHaveText('2');
  const { areas, heads, laterals, plants, supplies } = await saved(page);
  expect([areas, heads, laterals, plants, supplies].map(({ length }) => length)).toEqual([3, 4, 3, 2, 2]);
});

test('pictures come pasted, as WebP, and upright', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openEmpty(page);

  await test.step('a pasted PNG', async () => {
    await page.evaluate(async () => {
      const canvas = new OffscreenCanvas(300, 200);
      const pen = canvas.getContext('2d')!;
      pen.fillStyle = '#406040';
      pen.fillRect(0, 0, 300, 200);
      await navigator.clipboard.write([new ClipboardItem({ 'image/png': await canvas.convertToBlob() })]);
    });
    await stage(page).focus();
    await page.keyboard.press('Control+v');
    await expect(page.getByRole('button', { name: 'Mark a line' })).toBeVisible();
    const { photo } = await saved(page);
    expect(photo).toMatchObject({ widthPx: 300, heightPx: 200 });
  });

  await test.step('a WebP', async () => {
    await chooseFile(page, 'yard.webp', await pictureBytes(page, 320, 240, 'image/webp'), 'image/webp');
    await expect(page.getByText('yard.webp')).toBeVisible();
    const { photo, colourAt } = await embedded(page);
    expect(photo).toMatchObject({ name: 'yard.webp', widthPx: 320, heightPx: 240 });
    expect(isRed(await colourAt(0.25, 0.25))).toBe(true);
    expect(isRed(await colourAt(0.75, 0.75))).toBe(false);
  });

  await test.step('a JPEG that lies on its side', async () => {
    await chooseFile(page, 'lying.jpg', turned(await pictureBytes(page, 300, 200), 6), 'image/jpeg');
    await expect(page.getByText('lying.jpg')).toBeVisible();
    const { photo, bytes, colourAt } = await embedded(page);
    expect(photo).toMatchObject({ widthPx: 200, heightPx: 300 });
    // A quarter turn to the right takes the upper left quarter to the upper right.
    expect(isRed(await colourAt(0.75, 0.25))).toBe(true);
    expect(isRed(await colourAt(0.25, 0.25))).toBe(false);
    // The camera's notes, where it stood among them, are not passed on.
    expect(bytes.includes('Exif')).toBe(false);
  });
});

/**
 * A JPEG with a note of how the camera was held: an APP1 segment behind the start marker, in it a TIFF header and
 * one entry, 0x0112, orientation (CIPA DC-008, Exif 2.32, 4.5.4 and 4.6.4).
 */
function turned(jpeg: Buffer, orientation: number): Buffer {
  const tiff = Buffer.from(
    '4d4d002a00000008' + '0001' + '0112' + '0003' + '00000001' + '00000000' + '00000000',
    'hex',
  );
  tiff.writeUInt16BE(orientation, 18);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
}

test('a photo of 12 megapixels is taken in beside the work', async ({ page }) => {
  await openEmpty(page);
  const photo = await pictureBytes(page, 4000, 3000);
  await page.evaluate(() => {
    const tasks: number[] = [];
    Object.assign(window, { longTasks: tasks });
    new PerformanceObserver((list) =>
      tasks.push(...list.getEntries().map((entry) => entry.duration)),
    ).observe({
      type: 'longtask',
    });
  });
  await chooseFile(page, 'large.jpg', photo, 'image/jpeg');
  await expect(page.getByText('large.jpg')).toBeVisible();
  const middle = await stage(page).boundingBox();
  const spot = [middle!.x + middle!.width / 2 - 100, middle!.y + middle!.height / 2 - 100] as const;
  await expect.poll(async () => isRed(await groundColour(page, spot))).toBe(true);
  const tasks = await page.evaluate(() => (window as unknown as { longTasks: number[] }).longTasks);
  // Decoding and scaling this takes longer than that; it is done in a worker.
  expect(Math.max(0, ...tasks)).toBeLessThan(400);
  expect((await saved(page)).photo).toMatchObject({ widthPx: 4000, heightPx: 3000 });
});
