import { expect, test, type Page } from '@playwright/test';
import {
  drag,
  drawBed,
  ground,
  metric,
  openEmpty,
  piece,
  pressGround,
  saved,
  section,
  shifted,
  stage,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

interface Pipe {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly a: Spot;
  readonly b: Spot;
  readonly size: string | null;
  readonly fate: string;
}
interface OldHead {
  readonly id: string;
  readonly at: Spot;
  readonly flowLph: number | null;
  readonly pattern: { readonly radiusM: number; readonly startDeg: number; readonly sweepDeg: number } | null;
  readonly fate: string;
}
const pipesOf = async (page: Page) => (await saved(page)).laterals as readonly Pipe[];
const headsOf = async (page: Page) => (await saved(page)).heads as readonly OldHead[];
const namesOf = (pipes: readonly Pipe[]) => pipes.map(({ from, to }) => `${from}-${to}`);

async function chain(page: Page, ...path: Spot[]): Promise<void> {
  await tool(page, 'Old pipe');
  for (const place of path) await pressGround(page, place);
  await page.keyboard.press('Enter');
}

/** A bed, its valve, a header of typed length with three teeth of 1.5 m, a head on each tooth. */
async function drawComb(page: Page): Promise<void> {
  await openEmpty(page);
  await metric(page);
  await drawBed(page, [3, 4]);
  await tool(page, 'Supply');
  await pressGround(page, [2, 3.5]);
  await tool(page, 'Old pipe');
  await pressGround(page, [2, 3.5]);
  await page.mouse.move(...(await ground(page, [4, 3.6])), { steps: 3 });
  await piece(page, '4 m', '0');
  await page.keyboard.press('Enter');
  await tool(page, 'Spray head');
  for (const x of [3.5, 4.5, 6]) await pressGround(page, [x, 5]);
  // A few pixels off: the pointer catches on pipe and heads.
  await chain(page, [3.5, 3.52], [3.52, 5]);
  await chain(page, [4.5, 3.48], [4.48, 5.02]);
  await chain(page, [6.02, 3.5], [6, 5]);
}

test('a comb entered by hand has its joints, and a tie-in tells its pieces apart', async ({ page }) => {
  await drawComb(page);
  const pipes = await pipesOf(page);
  expect(namesOf(pipes)).toEqual(['V1-N2', 'N2-N3', 'N2-H1', 'N3-N1', 'N3-H2', 'N1-H3']);
  expect(pipes[0]!.a).toEqual([expect.closeTo(2, 1), expect.closeTo(3.5, 1)]);
  expect(pipes[3]!.b[0] - pipes[0]!.a[0]).toBeCloseTo(4, 9);
  expect(pipes[3]!.b[1]).toBeCloseTo(pipes[0]!.a[1], 9);

  await test.step('size and material for all pieces at once', async () => {
    await page.keyboard.press('s');
    await stage(page).focus();
    await pressGround(page, [2.7, 3.5]);
    await page.keyboard.down('Shift');
    const rest: Spot[] = [
      [4, 3.5],
      [5.2, 3.5],
      [3.5, 4.4],
      [4.5, 4.4],
      [6, 4.4],
    ];
    for (const spot of rest) await pressGround(page, spot);
    await page.keyboard.up('Shift');
    await expect(page.getByRole('heading', { name: '6 × old pipe' })).toBeVisible();
    await page.getByLabel('Size', { exact: true }).selectOption('3/4');
    await page.getByLabel('Material').first().selectOption('PVC Class 200');
    expect((await pipesOf(page)).map(({ size }) => size)).toEqual(Array(6).fill('3/4'));
  });

  await test.step('the tie-in', async () => {
    await view(page, 'Decide');
    await page.getByTestId('tie-in-H3').click();
    const legend = page.getByTestId('pipe-legend');
    await expect(legend).toContainText('carries drip water');
    expect((await pipesOf(page)).map(({ fate }) => fate)).toEqual(Array(6).fill('undecided'));
    await page.getByTestId('use-tie-in').click();
    await expect(undoTitle(page)).toHaveAttribute('title', /tie.?in/i);
    const fates = Object.fromEntries(
      (await pipesOf(page)).map(({ from, to, fate }) => [`${from}-${to}`, fate]),
    );
    for (const live of ['V1-N2', 'N2-N3', 'N3-N1', 'N1-H3']) expect(fates[live]).toBe('live');
    for (const left of ['N2-H1', 'N3-H2']) expect(['dead', 'cut off']).toContain(fates[left]);
    expect((await headsOf(page)).find(({ id }) => id === 'H3')!.fate).toBe('tie-in');
    for (const left of ['N2-H1', 'N3-H2']) {
      await expect(legend).toContainText(fates[left] === 'dead' ? 'joined but dead' : 'cut off');
    }
    await page.keyboard.press('Control+z');
    expect((await pipesOf(page)).map(({ fate }) => fate)).toEqual(Array(6).fill('undecided'));
  });
});

test('a head is pulled into its sector and reshaped by its handles', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await tool(page, 'Spray head');
  await page.getByRole('button', { name: 'Quarter circle' }).click();
  await drag(page, await ground(page, [4, 4]), await ground(page, [4, 7.048]));
  const [pulled] = await headsOf(page);
  expect(pulled!.pattern).toMatchObject({ startDeg: 45, sweepDeg: 90 });
  expect(pulled!.pattern!.radiusM).toBeCloseTo(3.048, 1);
  expect(pulled!.flowLph).toBeNull();

  const form = section(page, 'spray head H1');
  await test.step('fields and the usual flow, only when asked for', async () => {
    await form.getByLabel('Radius').fill('10 ft');
    await form.getByLabel('Radius').press('Enter');
    await form.getByRole('button', { name: /Usual for this radius/ }).click();
    const [head] = await headsOf(page);
    expect(head!.pattern!.radiusM).toBeCloseTo(3.048, 9);
    // A quarter of 1.58 gpm.
    expect(head!.flowLph! / 227.1247).toBeCloseTo(0.395, 4);
  });

  await test.step('the end of the sector by its handle', async () => {
    await page.keyboard.press('s');
    await stage(page).focus();
    // The sector runs from 45 to 135 degrees; its end is pulled to 180.
    const r = 3.048 * Math.SQRT1_2;
    await drag(page, await ground(page, [4 - r, 4 + r]), shifted(await ground(page, [1, 4]), 0, 2));
    const [head] = await headsOf(page);
    expect(head!.pattern).toMatchObject({ startDeg: 45, sweepDeg: 135 });
    await expect(form.getByLabel('Sweep')).toHaveValue('135°');
    await expect(form.getByRole('button', { name: 'Quarter circle' })).toHaveAttribute(
      'aria-pressed',
      'false',
    );
    await page.keyboard.press('Control+z');
    await expect(form.getByRole('button', { name: 'Quarter circle' })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
  });
});

test('a building is traced by its key, and old pipe follows the head that is moved', async ({ page }) => {
  await openEmpty(page);
  await metric(page);
  await page.keyboard.press('k');
  for (const spot of [
    [6, 6],
    [8, 6],
    [8, 8],
  ] as const)
    await pressGround(page, spot);
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Use', { exact: true })).toHaveValue('building');

  await page.keyboard.press('n');
  await pressGround(page, [3, 3]);
  await page.keyboard.press('j');
  await pressGround(page, [1, 3]);
  await pressGround(page, [3, 3]);
  await page.keyboard.press('Enter');
  await expect(section(page, 'old pipe L1')).toContainText('elbow at a head, end of line');
  await page.keyboard.press('s');
  await pressGround(page, [3, 3]);
  await drag(page, await ground(page, [3, 3]), await ground(page, [4, 4.5]));
  const [head] = await headsOf(page);
  const [pipe] = await pipesOf(page);
  expect(head!.at).toEqual([expect.closeTo(4, 1), expect.closeTo(4.5, 1)]);
  expect(pipe).toMatchObject({ to: 'H1', b: head!.at });
});
