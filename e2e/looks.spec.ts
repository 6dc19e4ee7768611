import { expect, test, type Page } from '@playwright/test';
import { ground, metric, openDemo, openEmpty, press, pressGround, stage, tool, view } from './canvas.ts';

const VIEWS = ['Survey', 'Decide', 'Lay out', 'Prove', 'Water', 'Build', 'Teach'];

/** Words of the page that are wider than what holds them, or reach over its edge. */
async function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const measure = document.createElement('canvas').getContext('2d')!;
    for (const holder of document.querySelectorAll<HTMLElement>('.panel, .rail, .bar, .hint, dialog[open]')) {
      const left = holder.getBoundingClientRect().left;
      const right = left + holder.clientLeft + holder.clientWidth;
      const walker = document.createTreeWalker(holder, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const parent = node.parentElement!;
        if (!node.textContent!.trim() || parent.closest('.sr-only, option, [popover]')) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        const over = [...range.getClientRects()].some((box) => box.left < left - 1 || box.right > right + 1);
        const hidden =
          getComputedStyle(parent).overflowX !== 'visible' && parent.scrollWidth > parent.clientWidth + 1;
        const button = parent.closest('button');
        const spilt = button !== null && button.scrollWidth > button.clientWidth + 1;
        // What is shortened on purpose is told whole in its title.
        if (over || spilt || (hidden && parent.title !== node.textContent)) found.push(node.textContent!);
      }
      for (const field of holder.querySelectorAll<HTMLInputElement | HTMLSelectElement>('input, select')) {
        if (!field.checkVisibility()) continue;
        // Free text may be longer than its field; a quantity may not.
        if (
          field instanceof HTMLInputElement &&
          /^-?\d/.test(field.value) &&
          field.scrollWidth > field.clientWidth + 1
        )
          found.push(field.value);
        if (field instanceof HTMLSelectElement) {
          const style = getComputedStyle(field);
          measure.font = style.font;
          const words = field.selectedOptions[0]?.textContent ?? '';
          const room =
            field.clientWidth - Number.parseFloat(style.paddingLeft) - Number.parseFloat(style.paddingRight);
          if (measure.measureText(words).width > room) found.push(words);
        }
      }
    }
    return found;
  });
}

/** Buttons that can be seen but not used, without a word why. */
async function deadButtons(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('button')]
      .filter((button) => button.checkVisibility() && button.disabled)
      .filter((button) => !button.title || button.title === button.getAttribute('aria-label'))
      .map((button) => button.outerHTML.slice(0, 100)),
  );
}

async function expectSound(page: Page): Promise<void> {
  const wide = await page.evaluate(() =>
    ['html', 'body', '.screen', '.panel', '.bar', '.views'].filter((part) => {
      const element = document.querySelector(part);
      return element !== null && element.scrollWidth > element.clientWidth;
    }),
  );
  expect(wide).toEqual([]);
  expect(await cutOff(page)).toEqual([]);
  expect(await deadButtons(page)).toEqual([]);
}

for (const size of [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
]) {
  test(`all has its place at ${size.width} by ${size.height}`, async ({ page }) => {
    await page.setViewportSize(size);
    await openDemo(page);

    for (const name of VIEWS) {
      await test.step(name, async () => {
        await view(page, name);
        const panel = page.getByRole('complementary', { name: 'Panel' });
        await expect(panel.getByRole('heading').first()).toBeVisible();
        await expectSound(page);
        for (const button of await page.getByRole('navigation').getByRole('button').all()) {
          const box = (await button.boundingBox())!;
          expect(box.height).toBeGreaterThanOrEqual(40);
          expect(box.x).toBeGreaterThanOrEqual(0);
          expect(box.x + box.width).toBeLessThanOrEqual(size.width);
        }
      });
    }

    await test.step('every tool with its choices', async () => {
      for (const [where, names] of [
        ['Survey', ['Bed', 'Level', 'Plant', 'Supply', 'Photo line']],
        ['Lay out', ['Control set', 'Dripline', 'Tubing', 'Emitter']],
      ] as const) {
        await view(page, where);
        for (const name of names) {
          await tool(page, name);
          await expectSound(page);
        }
      }
    });

    await test.step('every kind of thing chosen, in both systems', async () => {
      await view(page, 'Prove');
      await tool(page, 'Select');
      for (const [at, heading] of [
        [[7.5, 11.2], /^run/],
        [[1.1, 12.9], /^supply/],
        [[9.25, 4.75], /^control set/],
        [[5.6, 10.95], /^spray head/],
        [[2.65, 12.75], /^point emitter/],
        [[4.3, 5.8], /^plant/],
        [[18, 5], /^area/],
      ] as const) {
        await pressGround(page, at);
        await expect(page.getByRole('heading', { name: heading })).toBeVisible();
        await expectSound(page);
      }
      await metric(page);
      await expectSound(page);
    });

    await test.step('dialogs', async () => {
      await page.keyboard.press('Control+p');
      await expect(page.getByRole('dialog').getByRole('img')).toBeVisible();
      expect(await cutOff(page)).toEqual([]);
      const box = (await page.getByRole('dialog').boundingBox())!;
      expect(box.x).toBeGreaterThanOrEqual(0);
      expect(box.x + box.width).toBeLessThanOrEqual(size.width);
      expect(box.y + box.height).toBeLessThanOrEqual(size.height);
      await page.keyboard.press('Escape');
    });

    await test.step('the panel may be put away, and the plan takes its place', async () => {
      const before = (await stage(page).boundingBox())!;
      await page.getByRole('button', { name: 'Panel' }).click();
      await expect(page.getByRole('complementary')).toHaveCount(0);
      await expect
        .poll(async () => {
          const box = (await stage(page).boundingBox())!;
          return box.width * box.height;
        })
        .toBeGreaterThan(before.width * before.height * 1.1);
      await expectSound(page);
    });
  });
}

test('an empty plan says four ways to begin, and each leads somewhere', async ({ page }) => {
  await openEmpty(page);
  const card = page.getByRole('region', { name: 'Begin with the site' });
  await expect(card.getByRole('button')).toHaveText([
    'Open a photo…',
    'Draw on a blank grid',
    'Open a plan or survey file…',
    'Look at the demo plan',
  ]);
  for (const name of ['Open a photo…', 'Open a plan or survey file…']) {
    const choosing = page.waitForEvent('filechooser');
    await card.getByRole('button', { name }).click();
    expect((await choosing).isMultiple()).toBe(false);
  }
  await card.getByRole('button', { name: 'Draw on a blank grid' }).click();
  await expect(page.locator('.hint strong')).toHaveText('Bed');
  await expect(card).toHaveCount(0);
  await press(page, await ground(page, [3, 3]));
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await card.getByRole('button', { name: 'Look at the demo plan' }).click();
  await expect(page.locator('.plan-name')).toHaveText('Sample front yard');
  await expect(card).toHaveCount(0);
});
