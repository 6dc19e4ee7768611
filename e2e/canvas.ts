import { readFileSync } from 'node:fs';
import { expect, type Locator, type Page } from '@playwright/test';

/** The app as a person handles it: places are pixels of the page, of the site photo, or metres on the ground. */

export type Spot = readonly [x: number, y: number];

export const stage = (page: Page): Locator => page.locator('.canvas-stage');

/** Opens the app and waits until a plan is on the screen. */
export async function open(page: Page): Promise<void> {
  await page.goto('/');
  await page.locator('[data-ready="true"]').waitFor();
}

/** The demo plan as a first visit finds it, all of it in view. */
export async function openDemo(page: Page): Promise<void> {
  await open(page);
  await page.getByRole('button', { name: 'Show all' }).click();
}

/** An empty plan, with the card that says how to begin. */
export async function openEmpty(page: Page): Promise<void> {
  await open(page);
  await menu(page, 'New plan on a blank grid');
  await expect(page.getByRole('heading', { name: 'Begin with the site' })).toBeVisible();
}

export async function menu(page: Page, item: string): Promise<void> {
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: item }).click();
}

export async function view(page: Page, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Views' }).getByRole('button', { name, exact: true }).click();
}

/** Presses the tool's button as a mouse user does. */
export async function tool(page: Page, name: string): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Tools' })
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .click();
}

/** Where a share of the canvas lies on the page. */
export async function at(page: Page, [x, y]: Spot): Promise<Spot> {
  const box = (await stage(page).boundingBox())!;
  return [box.x + x * box.width, box.y + y * box.height];
}

/** Which part of the plan is in view, as the page keeps it for the next visit. */
export async function camera(page: Page): Promise<{ center: Spot; pixelsPerMetre: number }> {
  const prefs = await page.evaluate(() => localStorage.getItem('dripwright.prefs'));
  return (JSON.parse(prefs!) as { camera: { center: Spot; pixelsPerMetre: number } }).camera;
}

/** Where a place on the ground, in metres, lies on the page. */
export async function ground(page: Page, [x, y]: Spot): Promise<Spot> {
  const { center, pixelsPerMetre } = await camera(page);
  const box = (await stage(page).boundingBox())!;
  return [
    box.x + box.width / 2 + (x - center[0]) * pixelsPerMetre,
    box.y + box.height / 2 - (y - center[1]) * pixelsPerMetre,
  ];
}

export const shifted = ([x, y]: Spot, dx: number, dy: number): Spot => [x + dx, y + dy];

/** Drags with the left button; `whileDown` looks at the page before the button is let go. */
export async function drag(page: Page, from: Spot, to: Spot, whileDown?: () => Promise<void>): Promise<void> {
  await page.mouse.move(from[0], from[1], { steps: 2 });
  await page.mouse.down();
  await page.mouse.move(to[0], to[1], { steps: 8 });
  await whileDown?.();
  await page.mouse.up();
}

export async function press(page: Page, spot: Spot): Promise<void> {
  await page.mouse.move(spot[0], spot[1], { steps: 3 });
  await page.mouse.down();
  await page.mouse.up();
}

/** A picture made in the page, dropped on the plan as a file. */
export async function dropPicture(
  page: Page,
  widthPx: number,
  heightPx: number,
  type = 'image/jpeg',
): Promise<void> {
  await page.evaluate(
    async ([width, height, mediaType]) => {
      const canvas = new OffscreenCanvas(width, height);
      const context = canvas.getContext('2d')!;
      context.fillStyle = '#cbb89a';
      context.fillRect(0, 0, width, height);
      context.fillStyle = '#8f9f7c';
      for (let x = 0; x < width; x += 80) for (let y = 0; y < height; y += 80) context.fillRect(x, y, 40, 40);
      const blob = await canvas.convertToBlob({ type: mediaType });
      const transfer = new DataTransfer();
      transfer.items.add(new File([blob], 'yard.jpg', { type: mediaType }));
      const target = document.querySelector('.screen')!;
      target.dispatchEvent(new DragEvent('dragover', { bubbles: true, dataTransfer: transfer }));
      target.dispatchEvent(new DragEvent('drop', { bubbles: true, dataTransfer: transfer }));
    },
    [widthPx, heightPx, type] as const,
  );
}

/** What a plan file holds, as far as tests look at it. */
export interface SavedPlan {
  readonly version: number;
  readonly site: { readonly name: string; readonly notes: string };
  readonly photo: { readonly name: string; readonly widthPx: number; readonly heightPx: number } | null;
  readonly picture: { readonly mediaType: string; readonly base64: string } | null;
  readonly areas: readonly { readonly outline: readonly Spot[] }[];
  readonly runs: readonly { readonly path: readonly Spot[] }[];
}

/** Saves the plan file by its key and gives back its text. */
export async function savedText(page: Page): Promise<string> {
  const downloading = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  return readFileSync(await (await downloading).path(), 'utf8');
}
export const saved = async (page: Page): Promise<SavedPlan> => JSON.parse(await savedText(page)) as SavedPlan;

/** Opens a file through the app's file dialog. */
export async function chooseFile(
  page: Page,
  name: string,
  content: string | Buffer,
  mimeType = 'application/json',
): Promise<void> {
  const choosing = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  const buffer = typeof content === 'string' ? Buffer.from(content) : content;
  await (await choosing).setFiles({ name, mimeType, buffer });
}

/** A section of the panel by its title. */
export const section = (page: Page, title: string | RegExp): Locator =>
  page.locator('section').filter({ has: page.getByRole('heading', { name: title, exact: true }) });

/** What the next undo would take back, as its button says. */
export const undoTitle = (page: Page): Locator => page.getByRole('button', { name: 'Undo' });

/** A figure of the panel by its name, in the section of a title or in the first that has it. */
export function figure(page: Page, name: string, title?: string): Locator {
  const place = title ? section(page, title) : page;
  return place
    .locator('.figures > div')
    .filter({ has: page.locator('dt', { hasText: name }) })
    .locator('dd')
    .first();
}
