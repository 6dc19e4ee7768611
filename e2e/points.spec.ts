import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test, type Page } from '@playwright/test';
import {
  chooseFile,
  figure,
  openEmpty,
  pressGround,
  saved,
  section,
  tool,
  undoTitle,
  view,
  type Spot,
} from './canvas.ts';

const FIXTURE = fileURLToPath(new URL('../tests/fixtures/survey-tree.json', import.meta.url));
const TITLE = 'Point emitters at plants';

interface Drip {
  readonly plants: readonly { readonly id: string; readonly at: Spot }[];
  readonly runs: readonly { readonly id: string; readonly path: readonly Spot[]; readonly inline: unknown }[];
  readonly emitters: readonly {
    readonly runId: string;
    readonly plantId: string | null;
    readonly at: Spot;
    readonly ratedFlowLph: number;
    readonly id: string;
    readonly alsoPlantIds?: readonly string[];
    readonly onRun?: boolean;
    readonly fromEmitterId?: string;
  }[];
  readonly supplies: readonly { readonly at: Spot }[];
}
const plan = async (page: Page) => (await saved(page)) as unknown as Drip;

async function openTree(page: Page): Promise<void> {
  await openEmpty(page);
  await chooseFile(page, 'tree.json', readFileSync(FIXTURE));
  await expect(page.getByRole('button', { name: 'Show all' })).toBeVisible();
  const report = page.getByRole('dialog');
  if (await report.isVisible()) await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Show all' }).click();
  await view(page, 'Lay out');
}

test('emitters and tubing for all plants, shown first, placed in one step', async ({ page }) => {
  await openTree(page);
  const before = await plan(page);

  await test.step('a control set on the valve', async () => {
    await tool(page, 'Control set');
    await pressGround(page, before.supplies[0]!.at);
    await tool(page, 'Select');
    await page.keyboard.press('Escape');
  });

  await test.step('without a choice the card says what to do', async () => {
    await expect(section(page, TITLE)).toContainText('Choose plants');
    await page.getByTestId('points-choose').click();
    await expect(page.getByTestId('points-place')).toBeEnabled();
  });

  await test.step('figures, and nothing kept yet', async () => {
    await expect(figure(page, 'Rated flow', TITLE)).toContainText(/[\d.]+ gph, [\d.]+ gpm/);
    await expect(figure(page, 'Longest feeder', TITLE)).toHaveText(/^\d+'/);
    await expect(figure(page, 'Begins at', TITLE)).toHaveText('Control set 1');
    expect((await plan(page)).emitters).toHaveLength(0);
  });

  await test.step('choices change the figures at once', async () => {
    const count = Number(await figure(page, 'Emitters', TITLE).textContent());
    const field = section(page, TITLE).getByLabel('Emitters a plant');
    await field.fill('3');
    await field.press('Enter');
    await expect(figure(page, 'Emitters', TITLE)).toHaveText(String(3 * before.plants.length));
    await section(page, TITLE).getByRole('button', { name: 'Usual choices' }).click();
    await expect(figure(page, 'Emitters', TITLE)).toHaveText(String(count));
  });

  await test.step('placed by key, as one step', async () => {
    const count = Number(await figure(page, 'Emitters', TITLE).textContent());
    await page.getByTestId('points-place').focus();
    await page.keyboard.press('Enter');
    const after = await plan(page);
    expect(after.emitters).toHaveLength(count);
    expect(after.runs.length).toBeGreaterThan(0);
    expect(after.runs.every(({ inline }) => inline === null)).toBe(true);
    expect(new Set(after.emitters.map(({ plantId }) => plantId)).size).toBe(before.plants.length);
    const ids = new Set(after.runs.map(({ id }) => id));
    expect(after.emitters.every(({ runId }) => ids.has(runId))).toBe(true);
    await expect(page.getByTestId('total-flow')).toContainText('gpm');
    await expect(undoTitle(page)).toHaveAttribute('title', /Place emitters at plants/);
  });

  await test.step('a plant that is moved takes its emitters along', async () => {
    const now = await plan(page);
    const plant = now.plants[0]!;
    await pressGround(page, plant.at);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Escape');
    const moved = await plan(page);
    const at = moved.plants.find(({ id }) => id === plant.id)!.at;
    const dx = at[0] - plant.at[0];
    expect(dx).toBeGreaterThan(0);
    now.emitters.forEach((one, i) => {
      const shift = one.plantId === plant.id ? dx : 0;
      expect(moved.emitters[i]!.at[0] - one.at[0]).toBeCloseTo(shift, 6);
    });
  });
});

test('a bed offers its plants, and undo takes all back', async ({ page }) => {
  await openTree(page);
  const before = await plan(page);
  await page.getByTestId('points-choose').click();
  await expect(page.getByTestId('points-notes')).toContainText('control set');
  await page.getByTestId('points-place').click();
  expect((await plan(page)).emitters.length).toBeGreaterThan(0);
  await page.keyboard.press('Control+z');
  const back = await plan(page);
  expect(back.emitters).toHaveLength(0);
  expect(back.runs).toHaveLength(before.runs.length);
});

test('a feeder limit that cannot be is refused with its reason', async ({ page }) => {
  await openTree(page);
  await page.getByTestId('points-choose').click();
  const field = section(page, TITLE).getByLabel('Feeders at most');
  await field.fill('40 ft');
  await field.press('Enter');
  await expect(section(page, TITLE).getByRole('alert')).toContainText('At most');
  await expect(field).toHaveValue('40 ft');
});

/** Emitters at all plants of the entry bed, fed by a control set on its valve. */
async function placedTree(page: Page): Promise<Drip> {
  await openTree(page);
  const before = await plan(page);
  await tool(page, 'Control set');
  await pressGround(page, before.supplies[0]!.at);
  await tool(page, 'Select');
  await page.keyboard.press('Escape');
  await page.getByTestId('points-choose').click();
  await page.getByTestId('points-place').click();
  return plan(page);
}

/** Distance of a place from a path, metres. */
function farFrom(path: readonly Spot[], [x, y]: Spot): number {
  return path.slice(1).reduce((least, [bx, by], i) => {
    const [ax, ay] = path[i]!;
    const [dx, dy] = [bx - ax, by - ay];
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    return Math.min(least, Math.hypot(ax + t * dx - x, ay + t * dy - y));
  }, Infinity);
}

/** Chooses places on the plan, the second and further ones with Shift. */
async function chooseSpots(page: Page, spots: readonly Spot[]): Promise<void> {
  for (const [i, spot] of spots.entries()) {
    if (i > 0) await page.keyboard.down('Shift');
    await pressGround(page, spot);
    if (i > 0) await page.keyboard.up('Shift');
  }
}

test('two emitters on one feeder and apart again, by pointer', async ({ page }) => {
  const { emitters, plants, runs } = await placedTree(page);
  // Two of one plant that both have a feeder.
  const pairs = plants.map(({ id }) =>
    emitters.filter(
      ({ plantId, runId, at }) =>
        plantId === id && farFrom(runs.find((run) => run.id === runId)!.path, at) > 0.15,
    ),
  );
  const own = pairs.find(({ length }) => length > 1)!;
  await chooseSpots(
    page,
    own.slice(0, 2).map(({ at }) => at),
  );
  await page.getByTestId('emitters-one-feeder').click();
  const ids = own.slice(0, 2).map(({ id }) => id);
  const starts = async () =>
    (await plan(page)).emitters.flatMap(({ id, fromEmitterId }) =>
      fromEmitterId ? [[id, fromEmitterId]] : [],
    );
  const hung = await starts();
  expect(hung).toHaveLength(1);
  expect(hung[0]!.toSorted()).toEqual(ids.toSorted());
  await expect(undoTitle(page)).toHaveAttribute('title', /Hang on one feeder/);
  await page.keyboard.press('Escape');
  await pressGround(page, own.find(({ id }) => id === hung[0]![0])!.at);
  await expect(figure(page, 'Feeder starts')).toHaveText(`at emitter ${hung[0]![1]}`);
  await expect(figure(page, 'Its feeder tube')).toContainText('2 emitters');
  await page.getByTestId('emitters-apart').click();
  expect(await starts()).toEqual([]);
});

test('a plant shares the emitter of its neighbour, by pointer and key', async ({ page }) => {
  const { emitters, plants } = await placedTree(page);
  const own = emitters.find(({ plantId }) => plantId === plants[0]!.id)!;
  await chooseSpots(page, [plants[1]!.at, own.at]);
  await page.getByTestId('emitter-share').focus();
  await page.keyboard.press('Enter');
  const shared = (await plan(page)).emitters.find(({ id }) => id === own.id)!;
  expect([shared.plantId, shared.alsoPlantIds]).toEqual([plants[0]!.id, [plants[1]!.id]]);
  await page.keyboard.press('Escape');
  await pressGround(page, own.at);
  const form = section(page, `point emitter ${own.id}`);
  await form.getByRole('button', { name: `No longer for ${plants[1]!.id}` }).click();
  expect((await plan(page)).emitters.find(({ id }) => id === own.id)!.alsoPlantIds).toBeUndefined();
});

test('emitters on the tubing, slack, and moved out, by keys alone', async ({ page }) => {
  await placedTree(page);
  await page.getByTestId('points-choose').focus();
  await page.keyboard.press('Enter');

  await test.step('on the tubing, with the choice of the keyboard', async () => {
    await section(page, TITLE).getByLabel('Emitters sit').focus();
    await page.keyboard.press('ArrowDown');
    const slack = section(page, TITLE).getByLabel('Feeders cut longer by');
    await slack.focus();
    await page.keyboard.type('20');
    await page.keyboard.press('Enter');
    await page.getByTestId('points-place').focus();
    await page.keyboard.press('Enter');
    const { emitters } = await plan(page);
    expect(emitters.some(({ onRun }) => onRun)).toBe(true);
    const { practice } = (await saved(page)) as unknown as { practice: { feederSlackPercent: number } };
    expect(practice.feederSlackPercent).toBe(20);
  });

  await test.step('moved out in one step, the same emitters', async () => {
    const before = (await plan(page)).emitters;
    await page.getByTestId('points-choose').focus();
    await page.keyboard.press('Enter');
    await page.getByTestId('points-move-out').focus();
    await page.keyboard.press('Enter');
    const after = (await plan(page)).emitters;
    expect(after.map(({ id }) => id)).toEqual(before.map(({ id }) => id));
    expect(after.some(({ at }, i) => at[0] !== before[i]!.at[0] || at[1] !== before[i]!.at[1])).toBe(true);
    await expect(undoTitle(page)).toHaveAttribute('title', /Move emitters out/);
    await page.keyboard.press('Control+z');
    expect((await plan(page)).emitters).toEqual(before);
  });
});
