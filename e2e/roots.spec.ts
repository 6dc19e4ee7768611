import { expect, test, type Page } from '@playwright/test';
import {
  figure,
  ground,
  openDemo,
  openEmpty,
  pressGround,
  saved,
  section,
  savedText,
  view,
  type Spot,
} from './canvas.ts';

const TITLE = 'Roots and wetted soil';

interface Placed {
  readonly plants: readonly { readonly id: string; readonly at: Spot; readonly canopyMatureM: number }[];
  readonly emitters: readonly { readonly plantId: string | null; readonly at: Spot }[];
}
const plan = async (page: Page) => (await saved(page)) as unknown as Placed;
/** Whether anything is drawn at a place of the page, above the photo. */
const inkAt = (page: Page, at: Spot): Promise<string> =>
  page.evaluate(([x, y]) => {
    const canvas = document.querySelectorAll<HTMLCanvasElement>('.canvas-stage canvas')[0]!;
    const box = canvas.getBoundingClientRect();
    const scale = canvas.width / box.width;
    const spot = [(x - box.left) * scale, (y - box.top) * scale] as const;
    return String([...canvas.getContext('2d')!.getImageData(...spot, 1, 1).data]);
  }, at);
const percentOf = async (page: Page, name: string): Promise<number> =>
  Number((await figure(page, name, TITLE).textContent())!.replace(/[^\d.]/g, ''));

test('wet soil and root zones are shown when asked for, in Lay out only, and never saved', async ({
  page,
}) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const before = await savedText(page);
  const card = section(page, TITLE);
  const emitter = (await plan(page)).emitters[0]!;
  const spot = async (): Promise<Spot> => {
    const [x, y] = await ground(page, emitter.at);
    return [x + 6, y + 6];
  };
  const dry = await inkAt(page, await spot());

  await test.step('off at first', async () => {
    await expect(card.getByLabel('Show wetted soil')).not.toBeChecked();
    await expect(page.getByTestId('roots-legend')).toHaveCount(0);
  });
  await test.step('wet soil by pointer', async () => {
    await card.getByLabel('Show wetted soil').click();
    await expect(page.getByTestId('roots-legend')).toContainText('soil that gets wet');
    await expect.poll(async () => inkAt(page, await spot())).not.toBe(dry);
  });
  await test.step('root zones by keys', async () => {
    await card.getByLabel('Root zones').focus();
    await page.keyboard.press('ArrowDown');
    await expect(page.getByTestId('roots-legend')).toContainText('root zone now');
    await page.keyboard.press('ArrowDown');
    await expect(page.getByTestId('roots-legend')).toContainText('grown plant');
    await expect(card.getByLabel('Root zones')).toHaveValue('mature');
  });
  await test.step('another view leaves it off, and back it is there', async () => {
    await view(page, 'Prove');
    await expect.poll(async () => inkAt(page, await spot())).toBe(dry);
    await view(page, 'Lay out');
    await expect(card.getByLabel('Show wetted soil')).toBeChecked();
  });
  await test.step('wet soil off by key', async () => {
    await card.getByLabel('Show wetted soil').focus();
    await page.keyboard.press('Space');
    await expect.poll(async () => inkAt(page, await spot())).toBe(dry);
  });
  expect(await savedText(page)).toBe(before);
});

test('figures of a plant, and the driest plants by key', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Lay out');
  const card = section(page, TITLE);
  const { plants } = await plan(page);
  await expect(card).toContainText('Choose a plant');
  await expect(page.getByTestId('roots-soil')).toContainText('Wet width at');

  await card.getByText('Plants with the least wet roots').focus();
  await page.keyboard.press('Enter');
  const list = page.getByTestId('roots-driest').getByRole('button');
  await expect(list).toHaveCount(Math.min(10, plants.length));
  const shares = (await list.allTextContents()).map((text) => Number(/(\d+)\s*%$/.exec(text)![1]));
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));

  await test.step('fewer outlets, a smaller share', async () => {
    const { emitters } = await plan(page);
    const texts = await list.allTextContents();
    const watered = emitters.find(({ plantId }) => texts.some((text) => text.startsWith(`${plantId} `)))!;
    const entry = page
      .getByTestId('roots-driest')
      .getByRole('button', { name: new RegExp(`^${watered.plantId} `) });
    const shareOf = async () => Number(/(\d+)\s*%$/.exec((await entry.textContent())!)![1]);
    const share = await shareOf();
    expect(share).toBeGreaterThan(0);
    await pressGround(page, watered.at);
    await page.keyboard.press('Delete');
    await expect.poll(shareOf).toBeLessThan(share);
    await page.keyboard.press('Control+z');
    await expect.poll(shareOf).toBe(share);
  });

  await test.step('one is shown by key, with what is proposed for it', async () => {
    await list.first().focus();
    await page.keyboard.press('Enter');
    await expect(figure(page, 'Root zone wet when grown', TITLE)).toBeVisible();
    // Of what is proposed, which may be fewer emitters than the plant has.
    expect(await percentOf(page, 'Root zone wet when grown')).toBeGreaterThan(0);
    await expect(section(page, TITLE)).toContainText(/proposed/i);
    await expect(figure(page, 'Outlets in the root zone', TITLE)).toHaveText(/^\d+$/);
    await expect(section(page, TITLE)).toContainText('Southern Nevada Water Authority');
  });
});

test('an empty plan says what to do', async ({ page }) => {
  await openEmpty(page);
  await view(page, 'Lay out');
  await expect(section(page, TITLE)).toContainText('Nothing gets wet yet');
  await expect(section(page, TITLE)).toContainText('There are no plants yet');
});
