import { expect, test, type Page } from '@playwright/test';
import {
  camera,
  drawBed,
  figure,
  ground,
  metric,
  openEmpty,
  piece,
  press,
  pressGround,
  saved,
  stage,
  staticPressure,
  undoTitle,
  view,
} from './canvas.ts';

const TOOLS = [
  ['h', 'Pan'],
  ['m', 'Photo line'],
  ['b', 'Bed'],
  ['g', 'Paving'],
  ['u', 'Lawn'],
  ['l', 'Level'],
  ['p', 'Plant'],
  ['w', 'Supply'],
  ['f', 'Control set'],
  ['d', 'Dripline'],
  ['t', 'Tubing'],
  ['e', 'Emitter'],
  ['c', 'Check valve'],
  ['r', 'Flatten photo'],
  ['o', 'Flush end'],
  ['7', 'Air relief'],
  ['8', 'Drain'],
  ['s', 'Select'],
] as const;

const inHand = (page: Page) => page.locator('.hint strong');
const scale = async (page: Page) => (await camera(page)).pixelsPerMetre;

test('every tool has its key, wherever nothing is being typed', async ({ page }) => {
  await openEmpty(page);
  const rail = page.getByRole('navigation', { name: 'Tools' });
  for (const [key, name] of TOOLS) {
    // In turns from a button and from the canvas.
    await page.getByRole('button', { name: 'Teach' }).focus();
    await page.keyboard.press(key);
    await expect(inHand(page)).toHaveText(name);
    await expect(rail.getByRole('button', { pressed: true })).toHaveText(name);
    await expect(stage(page)).toBeFocused();
    await page.keyboard.press('s');
    await page.keyboard.press(key.toUpperCase());
    await expect(inHand(page)).toHaveText(name);
  }
  await page.keyboard.press('b');
  await page.keyboard.press('Escape');
  await expect(inHand(page)).toHaveText('Select');

  await test.step('letters in a field are text', async () => {
    const name = page.getByLabel('Site name');
    await name.focus();
    await page.keyboard.type('Bed by the wall');
    await page.keyboard.press('Enter');
    await expect(inHand(page)).toHaveText('Select');
    await expect(page.locator('.plan-name')).toHaveText('Bed by the wall');
  });

  await test.step('the focus can be seen on all that takes it', async () => {
    const focused = () =>
      page.evaluate(() => {
        const on = document.activeElement!;
        const { boxShadow, outlineStyle } = getComputedStyle(on);
        return {
          place: on.closest('header, nav, main, aside')?.className ?? '',
          name: on.outerHTML.slice(0, 120),
          ring: boxShadow !== 'none' || outlineStyle !== 'none',
          last: on instanceof HTMLTextAreaElement,
        };
      });
    const places = new Set<string>();
    await page.getByRole('button', { name: 'Survey', exact: true }).focus();
    for (let presses = 0; ; presses++) {
      await page.keyboard.press('Tab');
      const { place, name, ring, last } = await focused();
      expect(ring, name).toBe(true);
      places.add(place);
      if (last) break;
      expect(presses, 'presses to the end of the panel').toBeLessThan(60);
    }
    expect([...places]).toEqual(['views', 'bar', 'rail', 'work', 'survey-index', 'panel']);
  });
});

test('a small job with keys for everything but the places', async ({ page }) => {
  await openEmpty(page);
  await metric(page);

  await test.step('zoom, pan, show all', async () => {
    await stage(page).focus();
    const before = await camera(page);
    await page.keyboard.press('+');
    expect(await scale(page)).toBeCloseTo(before.pixelsPerMetre * 1.25, 6);
    await page.keyboard.press('-');
    expect(await scale(page)).toBeCloseTo(before.pixelsPerMetre, 6);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    const { center } = await camera(page);
    expect(center[0]).toBeCloseTo(before.center[0] + 60 / before.pixelsPerMetre, 6);
    expect(center[1]).toBeCloseTo(before.center[1] + 60 / before.pixelsPerMetre, 6);
    await page.keyboard.press('0');
    expect(await camera(page)).toEqual(before);
  });

  await drawBed(page, [2, 4]);
  await expect(figure(page, 'Area')).toHaveText('6.00 m²');

  await page.keyboard.press('p');
  await pressGround(page, [3, 5]);
  await page.keyboard.press('w');
  await press(page, await ground(page, [2, 4]));
  await page.keyboard.press('f');
  await press(page, await ground(page, [2, 4]));
  const pressure = staticPressure(page);
  await pressure.focus();
  await page.keyboard.type('60 psi');
  await page.keyboard.press('Enter');
  await expect(pressure).toBeFocused();
  await stage(page).focus();
  await expect(pressure).toHaveValue('4.14 bar');

  await test.step('tubing with one piece taken back', async () => {
    await page.keyboard.press('t');
    await pressGround(page, [2, 4]);
    await page.mouse.move(...(await ground(page, [4, 4.9])), { steps: 3 });
    await piece(page, '2.5', '30');
    await piece(page, '1', '90');
    await page.keyboard.press('Backspace');
    await piece(page, '1.5', '0');
    // An unreadable length is refused where it was typed, and the piece waits.
    await page.keyboard.press('9');
    const length = page.getByLabel('Length', { exact: true });
    await expect(length).toBeFocused();
    await length.fill('9 psi');
    await length.press('Enter');
    await expect(page.getByRole('alert')).toContainText('"psi" is a unit of pressure');
    await length.press('Escape');
    await expect(stage(page)).toBeFocused();
    await page.keyboard.press('Enter');
    await expect(figure(page, 'Length on the ground')).toHaveText('4.00 m');
  });

  await page.keyboard.press('e');
  await pressGround(page, [3, 5.2]);
  await page.keyboard.press('d');
  await pressGround(page, [2, 4]);
  await page.mouse.move(...(await ground(page, [2.5, 4.8])), { steps: 3 });
  await piece(page, '2', '90');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await expect(inHand(page)).toHaveText('Select');

  await test.step('step through the outlets, from the panel too', async () => {
    await view(page, 'Prove');
    const outlets = figure(page, 'Outlets', 'Pressure and flow');
    // 2 m of dripline with an emitter each 18 in from 9 in on, and the point emitter.
    await expect(outlets).toHaveText('5');
    const card = page.locator('.outlet-card');
    const names = [];
    for (let i = 0; i < 5; i++) {
      await page.keyboard.press('.');
      await expect(card).toContainText('bar');
      names.push(await card.locator('.outlet-title').innerText());
    }
    expect(new Set(names).size).toBe(5);
    await stage(page).focus();
    await page.keyboard.press('.');
    await expect(card.locator('.outlet-title')).toHaveText(names[0]!);
    await page.keyboard.press(',');
    await expect(card.locator('.outlet-title')).toHaveText(names[4]!);
  });

  await test.step('arrow keys move what is chosen', async () => {
    await view(page, 'Lay out');
    const start = (await saved(page)).runs[0]!.path;
    await press(page, await ground(page, [...start.at(-1)!]));
    await expect(page.getByRole('heading', { name: 'run R1' })).toBeVisible();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Shift+ArrowUp');
    const end = (await saved(page)).runs[0]!.path;
    const left = start[1]![0] - end[1]![0];
    expect(left).toBeGreaterThan(0.005);
    expect(left).toBeLessThan(0.11);
    expect(end[1]![1] - start[1]![1]).toBeCloseTo(10 * left, 9);
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect(undoTitle(page)).toHaveAttribute('title', /Draw dripline/);
  });

  await test.step('delete from the panel, and undo', async () => {
    await pressGround(page, [2, 5]);
    await expect(page.getByRole('heading', { name: 'run R2' })).toBeVisible();
    await page.getByRole('button', { name: 'Duplicate' }).focus();
    await page.keyboard.press('Delete');
    await expect(figure(page, 'Outlets', 'Pressure and flow')).toHaveText('1');
    await page.keyboard.press('Control+z');
    await expect(figure(page, 'Outlets', 'Pressure and flow')).toHaveText('5');
  });

  await test.step('print opens and closes by key', async () => {
    await page.keyboard.press('Control+p');
    await expect(page.getByRole('dialog', { name: 'Print the plan' })).toBeVisible();
    // Behind the dialog nothing happens.
    const before = await undoTitle(page).getAttribute('title');
    await page.keyboard.press('t');
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await expect(inHand(page)).toHaveText('Select');
    await expect(undoTitle(page)).toHaveAttribute('title', before!);
  });

  await test.step('saving by key includes what is still being typed', async () => {
    await view(page, 'Survey');
    await page.getByLabel('Site name').focus();
    await page.keyboard.type('North side');
    expect((await saved(page)).site.name).toBe('North side');
    await expect(page.getByLabel('Site name')).toBeFocused();
  });
});
