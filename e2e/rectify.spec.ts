import { expect, test, type Browser, type Page } from '@playwright/test';
import {
  chooseFile,
  openEmpty,
  pictureBytes,
  press,
  savedText,
  section,
  stage,
  tool,
  undoTitle,
  type Spot,
} from './canvas.ts';

/*
 * The browser itself takes the slanted photo: a yard of 10 m by 8 m at 60 px a metre, seen in perspective. Discs of
 * known places, each of its own colour, are looked for on the flat picture that the app makes.
 */
const VIEW = { width: 1440, height: 900 };
const PX_PER_M = 60;
const YARD: Spot = [10, 8];
/** Corners of the figure that is marked, metres from the yard's upper left corner. */
const MARKS: readonly Spot[] = [
  [1, 7],
  [9, 6.5],
  [8, 1.5],
  [1.5, 1],
];
const RECTANGLE: readonly Spot[] = [
  [1, 7],
  [9, 7],
  [9, 1],
  [1, 1],
];
const DISCS = {
  '#ff0000': [2, 2],
  '#00a000': [8, 2.5],
  '#0000ff': [7.5, 6],
  '#ff00ff': [2.5, 6.5],
} as const satisfies Record<string, Spot>;
type Colour = keyof typeof DISCS;

const apart = (a: Spot, b: Spot) => Math.hypot(a[0] - b[0], a[1] - b[1]);

interface Photo {
  readonly png: Buffer;
  /** Where places of the yard show on the picture, pixels. */
  readonly spots: readonly Spot[];
}

/** The yard at a slant, and where the marks show on it. */
async function takePhoto(browser: Browser, transform: string, marks: readonly Spot[]): Promise<Photo> {
  const context = await browser.newContext({ viewport: VIEW, deviceScaleFactor: 1 });
  const page = await context.newPage();
  const [width, depth] = YARD.map((m) => m * PX_PER_M) as [number, number];
  const at = ([x, y]: Spot, size: number) =>
    `position:absolute;width:${size}px;height:${size}px;left:${x * PX_PER_M - size / 2}px;top:${y * PX_PER_M - size / 2}px;`;
  await page.setContent(`
    <body style="margin:0;background:#d8e4ee;overflow:hidden">
      <div style="position:absolute;left:${(VIEW.width - width) / 2}px;top:${(VIEW.height - depth) / 2}px;
        width:${width}px;height:${depth}px;transform:${transform};
        background:repeating-linear-gradient(0deg,#555 0 1px,transparent 1px ${PX_PER_M}px),
          repeating-linear-gradient(90deg,#555 0 1px,#e4dcc8 1px ${PX_PER_M}px)">
        ${Object.entries(DISCS)
          .map(([colour, spot]) => `<i style="${at(spot, 30)}border-radius:50%;background:${colour}"></i>`)
          .join('')}
        ${marks.map((spot) => `<b style="${at(spot, 1)}background:#000"></b>`).join('')}
      </div>
    </body>`);
  const spots = await page.locator('b').evaluateAll((marked) =>
    marked.map((mark): [number, number] => {
      const box = mark.getBoundingClientRect();
      return [box.left + box.width / 2, box.top + box.height / 2];
    }),
  );
  const png = await page.screenshot();
  await context.close();
  return { png, spots };
}

/** Where a pixel of the photo lies on the page while all of it is shown: in the middle, with room round it. */
async function photoSpot(page: Page, [px, py]: Spot): Promise<Spot> {
  const box = (await stage(page).boundingBox())!;
  const scale = Math.min(box.width / VIEW.width, box.height / VIEW.height) * 0.84;
  return [
    box.x + box.width / 2 + (px - VIEW.width / 2) * scale,
    box.y + box.height / 2 + (py - VIEW.height / 2) * scale,
  ];
}

async function openPhoto(page: Page, photo: Photo): Promise<void> {
  await openEmpty(page);
  await chooseFile(page, 'slanted.png', photo.png, 'image/png');
  await expect(page.getByText('slanted.png')).toBeVisible();
}

async function mark(page: Page, photo: Photo): Promise<void> {
  await tool(page, 'Flatten photo');
  for (const spot of photo.spots) await press(page, await photoSpot(page, spot));
}

const card = (page: Page) => section(page, 'Flatten the photo');
async function type(page: Page, label: string, lengthM: number): Promise<void> {
  const field = card(page).getByLabel(label, { exact: true });
  await field.fill(`${lengthM.toFixed(3)} m`);
  await field.press('Enter');
}
const residual = async (page: Page) =>
  Number.parseFloat((await page.getByTestId('flat-residual').textContent())!.replace(/^.*?: /, ''));

async function flatten(page: Page): Promise<void> {
  await card(page).getByRole('button', { name: 'Flatten', exact: true }).click();
  await expect(card(page)).toHaveCount(0);
  await expect(undoTitle(page)).toHaveAttribute('title', /Flatten photo/);
}

interface Saved {
  readonly photo: {
    readonly pictureId: string;
    readonly widthPx: number;
    readonly heightPx: number;
    readonly corner: Spot;
    readonly turnDeg: number;
    readonly measures: readonly {
      readonly a: Spot;
      readonly b: Spot;
      readonly lengthM: number;
      readonly role: string;
    }[];
    readonly rectification: {
      readonly source: { readonly pictureId: string };
      readonly marks: readonly Spot[];
    } | null;
  };
  readonly picture: { readonly mediaType: string; readonly base64: string };
}
const saved = async (page: Page): Promise<Saved> => JSON.parse(await savedText(page)) as Saved;

/** Middles of the discs on the plan's picture, in pixels, by their colours. */
async function findDiscs(page: Page, { picture }: Saved): Promise<Record<Colour, Spot>> {
  const found = await page.evaluate(
    async ([address, colours]) => {
      const bitmap = await createImageBitmap(await (await fetch(address)).blob());
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const pen = canvas.getContext('2d')!;
      pen.drawImage(bitmap, 0, 0);
      const { data } = pen.getImageData(0, 0, bitmap.width, bitmap.height);
      return colours.map((colour) => {
        const wanted = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
        let [x, y, count] = [0, 0, 0];
        for (let at = 0; at < data.length; at += 4) {
          if (wanted.some((value, i) => Math.abs(value - data[at + i]!) > 60)) continue;
          x += ((at / 4) % bitmap.width) + 0.5;
          y += Math.floor(at / 4 / bitmap.width) + 0.5;
          count++;
        }
        return [x / count, y / count] as [number, number];
      });
    },
    [`data:${picture.mediaType};base64,${picture.base64}`, Object.keys(DISCS)] as const,
  );
  const spots = Object.keys(DISCS).map((colour, i) => [colour, found[i]!] as const);
  return Object.fromEntries<Spot>(spots) as Record<Colour, Spot>;
}

/** Ground per pixel by the lines that set the scale, as the app reckons it: least squares of the relative errors. */
function metresPerPixel({ photo }: Saved): number {
  const ratios = photo.measures
    .filter(({ role }) => role === 'fit')
    .map(({ a, b, lengthM }) => apart(a, b) / lengthM);
  return ratios.reduce((sum, r) => sum + r, 0) / ratios.reduce((sum, r) => sum + r * r, 0);
}

/** The six distances between the four discs, on the flat picture against the ground: largest deviation, percent. */
async function worstOfSix(page: Page, plan: Saved): Promise<number> {
  const discs = await findDiscs(page, plan);
  const scale = metresPerPixel(plan);
  const colours = Object.keys(DISCS) as Colour[];
  const deviations = colours.flatMap((a, i) =>
    colours.slice(i + 1).map((b) => {
      const truly = apart(DISCS[a], DISCS[b]);
      return (100 * Math.abs(apart(discs[a], discs[b]) * scale - truly)) / truly;
    }),
  );
  expect(deviations).toHaveLength(6);
  return Math.max(...deviations);
}

test('a slanted photo is laid flat from four sides and both diagonals', async ({ page, browser }) => {
  const photo = await takePhoto(browser, 'perspective(700px) rotateX(52deg) rotateZ(8deg)', MARKS);
  await openPhoto(page, photo);
  const before = await saved(page);
  // As taken it is far from true, or this test would show nothing.
  const slanted = await findDiscs(page, before);
  const far = apart(slanted['#ff0000'], slanted['#00a000']) / apart(DISCS['#ff0000'], DISCS['#00a000']);
  const near = apart(slanted['#0000ff'], slanted['#ff00ff']) / apart(DISCS['#0000ff'], DISCS['#ff00ff']);
  expect(near / far).toBeGreaterThan(1.3);

  await test.step('four marks, one of them put right by dragging', async () => {
    await tool(page, 'Flatten photo');
    for (const [i, spot] of photo.spots.entries()) {
      const [x, y] = await photoSpot(page, spot);
      await press(page, i === 1 ? [x + 30, y + 20] : [x, y]);
    }
    await expect(card(page).getByRole('status')).toHaveCount(0);
    const [x, y] = await photoSpot(page, photo.spots[1]!);
    await page.mouse.move(x + 30, y + 20);
    await page.mouse.down();
    await page.mouse.move(x, y, { steps: 4 });
    await page.mouse.up();
  });

  await test.step('lengths, what they say against each other, the preview', async () => {
    await expect(card(page)).toContainText('Type the four sides and at least one diagonal');
    const [a, b, c, d] = MARKS as [Spot, Spot, Spot, Spot];
    await type(page, 'Side 1–2', apart(a, b));
    await type(page, 'Side 2–3', apart(b, c));
    await type(page, 'Side 3–4', apart(c, d));
    await type(page, 'Side 4–1', apart(d, a));
    await type(page, 'Diagonal 1–3', 30);
    await expect(card(page).getByRole('alert')).toContainText('close no triangle');
    await expect(card(page).getByRole('button', { name: 'Flatten', exact: true })).toBeDisabled();
    await type(page, 'Diagonal 1–3', apart(a, c));
    await expect(card(page)).toContainText('No length is left over');
    await type(page, 'Diagonal 2–4', apart(b, d) * 1.05);
    expect(await residual(page)).toBeGreaterThan(1);
    await type(page, 'Diagonal 2–4', apart(b, d));
    await expect.poll(() => residual(page)).toBeLessThan(0.1);
    await expect(page.getByRole('img', { name: 'Preview of the flat picture' })).toBeVisible();
  });

  await flatten(page);
  const plan = await saved(page);
  expect(plan.photo.pictureId).not.toBe(before.photo.pictureId);
  expect(plan.photo.rectification?.source.pictureId).toBe(before.photo.pictureId);
  expect(plan.photo.measures).toHaveLength(6);
  expect(await worstOfSix(page, plan)).toBeLessThan(1);
  await expect(page.getByTestId('photo-residual')).toHaveAttribute('data-warn', 'false');

  await test.step('mark 1 and the way to mark 2 stay on the plan', async () => {
    const scale = metresPerPixel(plan);
    const was = before.photo;
    const onPlan = (corner: Spot, perPixel: number, [x, y]: Spot): Spot => [
      corner[0] + x * perPixel,
      corner[1] - y * perPixel,
    ];
    const marks = plan.photo.rectification!.marks;
    const [first, second] = [plan.photo.measures[0]!.a, plan.photo.measures[0]!.b];
    const [from, to] = [first, second].map((px) => onPlan(plan.photo.corner, scale, px)) as [Spot, Spot];
    const [wasFrom, wasTo] = [marks[0]!, marks[1]!].map((px) => onPlan(was.corner, 20 / was.widthPx, px)) as [
      Spot,
      Spot,
    ];
    expect(plan.photo.turnDeg).toBeCloseTo(0, 9);
    expect(apart(from, wasFrom)).toBeLessThan(1e-6);
    const way = (a: Spot, b: Spot) => Math.atan2(b[1] - a[1], b[0] - a[0]);
    expect(way(from, to)).toBeCloseTo(way(wasFrom, wasTo), 9);
  });

  await test.step('undo, redo, and back to the picture as taken', async () => {
    await page.keyboard.press('Control+z');
    expect((await saved(page)).photo).toEqual(before.photo);
    await page.keyboard.press('Control+y');
    expect((await saved(page)).photo).toEqual(plan.photo);
    await page.getByRole('button', { name: 'Back to the photo as taken' }).click();
    await expect(undoTitle(page)).toHaveAttribute('title', /Take back/);
    const back = await saved(page);
    expect(back.photo).toMatchObject({
      pictureId: before.photo.pictureId,
      rectification: null,
      measures: [],
    });
    expect(back.picture).toEqual(before.picture);
  });

  await test.step('the flat picture is there again after a reload', async () => {
    await page.keyboard.press('Control+z');
    await expect(page.locator('.save-state')).toHaveText('Saved on this device');
    await page.reload();
    await page.locator('[data-ready="true"]').waitFor();
    const again = await saved(page);
    expect(again.photo).toEqual(plan.photo);
    expect(again.picture).toEqual(plan.picture);
  });
});

test('a rectangle of known size will do, and an earlier line becomes the check', async ({
  page,
  browser,
}) => {
  const photo = await takePhoto(browser, 'perspective(1300px) rotateX(35deg) rotateY(20deg)', RECTANGLE);
  await openPhoto(page, photo);
  await tool(page, 'Photo line');
  await press(page, await photoSpot(page, photo.spots[0]!));
  await press(page, await photoSpot(page, photo.spots[2]!));
  const length = page.getByLabel('Length', { exact: true });
  await length.fill('10 m');
  await length.press('Enter');
  // All of the photo again: fitting its scale keeps it where it is on the screen.
  await mark(page, photo);
  await card(page).getByLabel('Known').selectOption('Rectangle');
  await type(page, 'Side 1–2', 8);
  await type(page, 'Side 2–3', 6);
  // The earlier line is the diagonal, and a good one.
  await expect.poll(() => residual(page)).toBeLessThan(1);
  await type(page, 'Diagonal 1–3', 10.5);
  await expect(page.getByTestId('flat-residual')).toHaveAttribute('data-warn', 'true');
  await expect(page.getByTestId('flat-residual')).toContainText('Diagonal 1–3');
  await type(page, 'Diagonal 1–3', 10);
  await flatten(page);
  const plan = await saved(page);
  expect(plan.photo.measures.map(({ role }) => role)).toEqual(['fit', 'fit', 'fit', 'fit', 'check', 'check']);
  expect(await worstOfSix(page, plan)).toBeLessThan(1);
});

test('marks in a wrong order are told, and without a photo the tool says so', async ({ page, browser }) => {
  const photo = await takePhoto(browser, 'perspective(1300px) rotateX(35deg)', RECTANGLE);
  await openEmpty(page);
  await page.keyboard.press('r');
  await expect(card(page)).toContainText('This tool needs a site photo');
  await openPhoto(page, photo);
  const [a, b, c, d] = photo.spots as [Spot, Spot, Spot, Spot];
  await mark(page, { ...photo, spots: [a, c, b, d] });
  await expect(card(page).getByRole('alert')).toContainText('Exchange marks 2 and 3');
  await page.keyboard.press('Backspace');
  await expect(card(page).getByRole('status')).toContainText('mark 4 of 4');
  await page.keyboard.press('Escape');
  await expect(card(page).getByRole('status')).toContainText('mark 1 of 4');
  await page.keyboard.press('Escape');
  await expect(card(page)).toHaveCount(0);
});

test('a photo of 12 megapixels: progress is shown, and what is called off changes nothing', async ({
  page,
}) => {
  await openEmpty(page);
  await chooseFile(page, 'yard.jpg', await pictureBytes(page, 4000, 3000), 'image/jpeg');
  await expect(page.getByText('yard.jpg')).toBeVisible();
  const before = (await saved(page)).photo;
  await tool(page, 'Flatten photo');
  const box = (await stage(page).boundingBox())!;
  const scale = Math.min(box.width / 4000, box.height / 3000) * 0.84;
  for (const [x, y] of [
    [400, 2600],
    [3600, 2600],
    [2900, 700],
    [1100, 700],
  ] as const) {
    const [middleX, middleY] = [box.x + box.width / 2, box.y + box.height / 2];
    await press(page, [middleX + (x - 2000) * scale, middleY + (y - 1500) * scale]);
  }
  await card(page).getByLabel('Known').selectOption('Rectangle');
  await type(page, 'Side 1–2', 10);
  await type(page, 'Side 2–3', 8);

  // Pressed by the page itself, a frame apart: the work takes many.
  const shown = await page.evaluate(async () => {
    const button = (name: string) =>
      [...document.querySelectorAll('section button')].find(({ textContent }) => textContent === name)!;
    const frame = () => new Promise((go) => requestAnimationFrame(go));
    (button('Flatten') as HTMLElement).click();
    await frame();
    const working = document.querySelector('progress') !== null;
    (button('Cancel') as HTMLElement).click();
    await frame();
    return [working, document.querySelector('progress') !== null];
  });
  expect(shown).toEqual([true, false]);
  // The marks and lengths are still there, to do it after all.
  const shares = await page.evaluate(async () => {
    const button = [...document.querySelectorAll('section button')].find(
      ({ textContent }) => textContent === 'Flatten',
    )!;
    (button as HTMLElement).click();
    const seen: number[] = [];
    for (const until = performance.now() + 30_000; performance.now() < until;) {
      await new Promise((go) => requestAnimationFrame(go));
      const bar = document.querySelector('progress');
      if (!bar) break;
      if (seen.at(-1) !== bar.value) seen.push(bar.value);
    }
    return seen;
  });
  expect(shares.length).toBeGreaterThan(3);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  await expect(undoTitle(page)).toHaveAttribute('title', /Flatten photo/);
  await page.keyboard.press('Control+z');
  await expect(undoTitle(page)).toHaveAttribute('title', /Place photo/);
  expect((await saved(page)).photo).toEqual(before);
});
