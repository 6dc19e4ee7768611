import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test, type Page } from '@playwright/test';
import {
  chooseFile,
  figure,
  ground,
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
const tieIns = (page: Page) => page.locator('button.tie-in');
const idOf = async (page: Page, rank: number) =>
  (await tieIns(page)
    .nth(rank - 1)
    .getAttribute('data-testid'))!.replace('tie-in-', '');

interface Fated {
  readonly heads: readonly { readonly id: string; readonly at: Spot; readonly fate: string }[];
  readonly laterals: readonly { readonly id: string; readonly fate: string }[];
  readonly controls: readonly { readonly at: Spot }[];
}
const plan = async (page: Page) => (await saved(page)) as unknown as Fated;
const fateOf = ({ heads }: Fated, id: string) => heads.find((head) => head.id === id)!.fate;

async function openTree(page: Page, name = 'Decide'): Promise<void> {
  await openEmpty(page);
  await chooseFile(page, 'tree.json', readFileSync(FIXTURE));
  await expect(page.getByRole('button', { name: 'Show all' })).toBeVisible();
  const report = page.getByRole('dialog');
  if (await report.isVisible()) await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Show all' }).click();
  if (name !== 'Decide') return;
  await view(page, 'Decide');
  await expect(page.getByTestId('verdict')).toBeVisible();
}

test('verdict, reasons and tie-ins of a surveyed zone', async ({ page }) => {
  await openTree(page);

  await test.step('the verdict in one line, its reasons with figures and sources', async () => {
    await expect(page.getByTestId('verdict')).toHaveText(/^Convert\./);
    const reasons = section(page, 'Convert or not').locator('.reasons > li');
    await expect(reasons.first()).toBeVisible();
    const rate = section(page, 'Convert or not').locator('[data-rule="rate-over-intake"]');
    await expect(rate).toContainText('in/h');
    await expect(rate.locator('.field-note')).toContainText(/limit [\d.]+ in\/h/);
    await expect(figure(page, 'Flow of all heads')).toHaveText('3.14 gpm');
  });

  await test.step('a reason shows what it is about on the plan', async () => {
    await section(page, 'Convert or not').locator('.reasons button.link').first().click();
    await expect(page.getByRole('status')).toContainText('marked on the plan');
  });

  await test.step('the best tie-in is the low end of the line, with its figures', async () => {
    expect(await idOf(page, 1)).toBe('H6');
    await page.getByTestId('tie-in-H6').click();
    await expect(page.getByTestId('tie-in-H6')).toHaveAttribute('aria-pressed', 'true');
    await expect(figure(page, 'Dead legs if left')).toContainText('0.21 gal');
    // Shown, not kept.
    expect(fateOf(await plan(page), 'H6')).toBe('undecided');
  });
});

test('a tie-in is chosen, taken back, and drip starts on it', async ({ page }) => {
  await openTree(page);
  const second = await idOf(page, 2);

  await test.step('the second one, and undo in one step', async () => {
    await page.getByTestId(`tie-in-${second}`).click();
    await page.getByTestId('use-tie-in').click();
    await expect(page.getByTestId(`tie-in-${second}`)).toContainText('chosen');
    const decided = await plan(page);
    expect(decided.laterals.some(({ fate }) => fate === 'live')).toBe(true);
    await page.keyboard.press('Control+z');
    await expect(page.getByTestId('decided')).toHaveCount(0);
    const before = await plan(page);
    expect(before.heads.every(({ fate }) => fate === 'undecided')).toBe(true);
    expect(before.laterals.every(({ fate }) => fate === 'undecided')).toBe(true);
  });

  await test.step('a head pressed on the plan is looked at', async () => {
    const { heads } = await plan(page);
    await pressGround(page, heads.find(({ id }) => id === 'H3')!.at);
    await expect(page.getByTestId('tie-in-H3')).toHaveAttribute('aria-pressed', 'true');
    // The pointer moves over the plan: what is looked at stays shown.
    await page.mouse.move(...(await ground(page, [3, 1])), { steps: 4 });
    await expect(page.getByTestId('tie-in-H3')).toHaveAttribute('aria-pressed', 'true');
    await page.keyboard.press('Escape');
  });

  await test.step('the best one, with what to do at each head', async () => {
    await page.getByTestId('tie-in-H6').click();
    await page.getByTestId('use-tie-in').click();
    await expect(page.getByTestId('decided')).toContainText('H6');
    const decided = await plan(page);
    expect(fateOf(decided, 'H6')).toBe('tie-in');
    expect(decided.heads.filter(({ fate }) => fate === 'undecided')).toEqual([]);
    const list = section(page, 'What to do with each head');
    await expect(list.locator('table').first().locator('tbody tr')).toHaveCount(decided.heads.length);
    await expect(list.locator('table').last().locator('tbody tr')).toHaveCount(2);
    await expect(list.getByRole('row', { name: /^H6/ })).toContainText('tie in here');
  });

  await test.step('take back, and undo of that', async () => {
    await page.getByRole('button', { name: 'Take back', exact: true }).click();
    expect((await plan(page)).heads.every(({ fate }) => fate === 'undecided')).toBe(true);
    await expect(undoTitle(page)).toHaveAttribute('title', /Take back tie-in/);
    await page.keyboard.press('Control+z');
    await expect(page.getByTestId('decided')).toContainText('H6');
  });

  await test.step('in Lay out a control set is caught by the tie-in', async () => {
    await view(page, 'Lay out');
    const at = (await plan(page)).heads.find(({ id }) => id === 'H6')!.at;
    await tool(page, 'Control set');
    const [x, y] = await ground(page, at);
    await page.mouse.move(x + 5, y - 4, { steps: 3 });
    await page.mouse.down();
    await page.mouse.up();
    const { controls } = await plan(page);
    expect(controls).toHaveLength(1);
    expect(controls[0]!.at[0]).toBeCloseTo(at[0], 6);
    expect(controls[0]!.at[1]).toBeCloseTo(at[1], 6);
  });
});

test('several zones: each its own verdict and tie-ins', async ({ page }) => {
  await openEmpty(page);
  const small = fileURLToPath(new URL('../tests/fixtures/survey-small.json', import.meta.url));
  await chooseFile(page, 'small.json', readFileSync(small));
  await expect(page.getByRole('dialog')).toBeVisible();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Show all' }).click();
  await view(page, 'Decide');
  await expect(page.getByTestId('verdict-all')).toContainText('1 to convert, 1 to leave.');
  await expect(page.getByTestId('verdict')).toHaveText(/^Convert\./);
  await page.getByTestId('zone-2').click();
  await expect(page.getByTestId('verdict')).toHaveText(/^Cannot be told yet\./);
  await expect(figure(page, 'Its heads')).toHaveText('1');
  // A head pressed on the plan brings its own zone, and is looked at.
  await pressGround(page, [0, 4 * 0.3048]);
  await expect(page.getByTestId('verdict')).toHaveText(/^Convert\./);
  await expect(page.getByTestId('tie-in-H1')).toHaveAttribute('aria-pressed', 'true');
});

test('an empty plan says what to do', async ({ page }) => {
  await openEmpty(page);
  await view(page, 'Decide');
  await expect(page.getByText(/Nothing of the old system is on the plan yet/)).toBeVisible();
});

test('flows worked out from readings', async ({ page }) => {
  await openTree(page, 'Survey');
  interface Watered {
    readonly water: {
      readonly workingPoints: readonly {
        readonly flowLph: number;
        readonly pressureKpa: number;
        readonly how?: string;
      }[];
    };
    readonly supplies: readonly { readonly runningFlowLph: number; readonly runningFlowHow: string }[];
  }
  const watered = async () => (await saved(page)) as unknown as Watered;
  const unfold = (where: ReturnType<typeof section>) =>
    where.getByText('Work out a flow from readings').click();
  const GPM = 60 * 3.785411784;

  await test.step('bucket: 5 gal in 40 s are 7.5 gpm; the pressure makes a working point of it', async () => {
    const card = section(page, 'Water service');
    await unfold(card);
    await card.getByLabel('Water caught, gal').fill('5');
    await card.getByLabel('Time, s').fill('soon');
    await card.getByLabel('Water caught, gal').focus();
    await expect(card.getByRole('alert')).toContainText('"soon" is not a time');
    await card.getByLabel('Time, s').fill('40');
    await card.getByRole('button', { name: 'Use 7.50 gpm' }).click();
    await card.getByLabel('Pressure 2').fill('40 psi');
    await card.getByLabel('Pressure 2').press('Enter');
    await expect(card.getByLabel('Flow 2')).toHaveValue('7.50 gpm');
    const { workingPoints } = (await watered()).water;
    expect(workingPoints).toHaveLength(2);
    expect(workingPoints[1]!.flowLph / GPM).toBeCloseTo(7.5, 6);
    expect(workingPoints.map(({ how }) => how)).toEqual(['bucket', 'bucket']);
  });

  await test.step('meter in cubic feet, for the running zone, and what the difference means', async () => {
    const valve = [-5 * 0.3048, 2 * 0.3048] as const;
    await pressGround(page, valve);
    const form = section(page, /^supply /);
    await expect(form.getByTestId('flow-check')).toContainText('agrees');
    await unfold(form);
    await form.getByLabel('By', { exact: true }).selectOption({ label: 'water meter and watch' });
    await form.getByLabel('The dial counts').selectOption({ label: 'ft³' });
    await form.getByLabel('Reading before, ft³').fill('1200');
    await form.getByLabel('Reading after, ft³').fill('1202.5');
    await form.getByLabel('Time between, min').fill('5');
    // 2.5 ft3 are 18.70 gal; in 5 min 3.74 gpm.
    await form.getByRole('button', { name: 'Use 3.74 gpm' }).click();
    await expect(form.getByTestId('flow-check')).toContainText('look for a leak');
    const [supply] = (await watered()).supplies;
    expect(supply!.runningFlowLph / GPM).toBeCloseTo((2.5 * 7.480519) / 5, 4);
    expect(supply!.runningFlowHow).toBe('meter');
  });

  await test.step('gauge: read off the curve through the working points', async () => {
    const form = section(page, /^supply /);
    await unfold(form);
    await form.getByLabel('By', { exact: true }).selectOption({ label: 'pressure gauge' });
    await form.getByLabel('Gauge shows, psi').fill('57');
    await form.getByRole('button', { name: 'Use 3.20 gpm' }).click();
    expect((await watered()).supplies[0]!.runningFlowHow).toBe('gauge');
  });

  await test.step('controller and the height of the backflow preventer', async () => {
    const card = section(page, 'Controller');
    await expect(card.getByLabel('Longest run, minutes')).toHaveValue('99');
    await expect(card).toContainText('runs of two hours or more');
    await card.getByLabel('Longest run, minutes').fill('240');
    await card.getByLabel('Longest run, minutes').press('Enter');
    await expect(card).not.toContainText('runs of two hours or more');
    const water = section(page, 'Water service');
    await expect(water.getByText('15.0 gpm', { exact: true })).toBeVisible();
    await expect(water.getByLabel('Its height')).toHaveValue(`1' 6"`);
  });
});
