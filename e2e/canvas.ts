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
  const prefs = await page.evaluate(() => {
    // What has not been written yet is, as when the page is left.
    window.dispatchEvent(new Event('pagehide'));
    return localStorage.getItem('dripwright.prefs');
  });
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

export const pressGround = async (page: Page, at: Spot): Promise<void> => press(page, await ground(page, at));
export const metric = (page: Page): Promise<void> => page.getByRole('button', { name: 'm · bar' }).click();

/** Types the length, and perhaps the direction, of the piece being drawn. */
export async function piece(page: Page, length: string, direction?: string): Promise<void> {
  await page.keyboard.press(length[0]!);
  const field = page.getByLabel('Length', { exact: true });
  await expect(field).toHaveValue(length[0]!);
  await field.pressSequentially(length.slice(1));
  if (direction !== undefined) await page.getByLabel('Direction').fill(direction);
  await field.press('Enter');
}

/** A bed of 3 m by 2 m with its lower left corner at a place, by typed lengths. */
export async function drawBed(page: Page, at: Spot): Promise<void> {
  await tool(page, 'Bed');
  await pressGround(page, at);
  await page.mouse.move(...(await ground(page, shifted(at, 1.3, 0.9))), { steps: 3 });
  await piece(page, '3 m', '0');
  await piece(page, '2', '90');
  await piece(page, '3', '180');
  await page.keyboard.press('Enter');
}

/** The bytes of a picture made in the page: squares on sand, and its upper left quarter red. */
export async function pictureBytes(
  page: Page,
  widthPx: number,
  heightPx: number,
  type = 'image/jpeg',
): Promise<Buffer> {
  const address = await page.evaluate(
    async ([width, height, mediaType]) => {
      const canvas = new OffscreenCanvas(width, height);
      const context = canvas.getContext('2d')!;
      context.fillStyle = '#cbb89a';
      context.fillRect(0, 0, width, height);
      context.fillStyle = '#8f9f7c';
      for (let x = 0; x < width; x += 80) for (let y = 0; y < height; y += 80) context.fillRect(x, y, 40, 40);
      context.fillStyle = '#c02020';
      context.fillRect(0, 0, width / 2, height / 2);
      const blob = await canvas.convertToBlob({ type: mediaType });
      return new Promise<string>((done) => {
        const reader = new FileReader();
        reader.onload = () => done(reader.result as string);
        reader.readAsDataURL(blob);
      });
    },
    [widthPx, heightPx, type] as const,
  );
  expect(address).toContain(`data:${type};base64,`);
  return Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
}

/** A file dropped on the plan. */
export async function dropFile(page: Page, name: string, bytes: Buffer, type: string): Promise<void> {
  await page.evaluate(
    ([fileName, base64, mediaType]) => {
      const content = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const transfer = new DataTransfer();
      transfer.items.add(new File([content], fileName, { type: mediaType }));
      const target = document.querySelector('.screen')!;
      target.dispatchEvent(new DragEvent('dragover', { bubbles: true, dataTransfer: transfer }));
      target.dispatchEvent(new DragEvent('drop', { bubbles: true, dataTransfer: transfer }));
    },
    [name, bytes.toString('base64'), type] as const,
  );
}

/** A picture made in the page, dropped on the plan as `yard.jpg`. */
export async function dropPicture(page: Page, widthPx: number, heightPx: number): Promise<void> {
  await dropFile(page, 'yard.jpg', await pictureBytes(page, widthPx, heightPx), 'image/jpeg');
}

/** Colour of the ground layer, where the photo lies, at a place of the page. */
export async function groundColour(page: Page, at: Spot): Promise<readonly number[]> {
  return page.evaluate(([x, y]) => {
    const canvas = document.querySelector<HTMLCanvasElement>('.canvas-stage canvas')!;
    const box = canvas.getBoundingClientRect();
    const scale = canvas.width / box.width;
    return [
      ...canvas.getContext('2d')!.getImageData((x - box.left) * scale, (y - box.top) * scale, 1, 1).data,
    ];
  }, at);
}

/** What a plan file holds, as far as tests look at it. */
export interface SavedPlan {
  readonly version: number;
  readonly site: { readonly name: string; readonly notes: string };
  readonly photo: { readonly name: string; readonly widthPx: number; readonly heightPx: number } | null;
  readonly picture: { readonly mediaType: string; readonly base64: string } | null;
  readonly areas: readonly { readonly outline: readonly Spot[] }[];
  readonly runs: readonly { readonly path: readonly Spot[] }[];
  readonly heads: readonly unknown[];
  readonly laterals: readonly unknown[];
  readonly plants: readonly unknown[];
  readonly supplies: readonly unknown[];
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

/** The site's static pressure in the panel of Survey; what is chosen there may have one of its own above it. */
export const staticPressure = (page: Page): Locator =>
  page.getByLabel('Static pressure', { exact: true }).last();

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
