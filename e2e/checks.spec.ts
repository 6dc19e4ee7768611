import { expect, test, type Locator, type Page } from '@playwright/test';
import { openDemo, pressGround, savedText, section, tool, undoTitle, view, type Spot } from './canvas.ts';

interface Checked {
  readonly flushEnds: readonly { readonly runId: string; readonly end: 'start' | 'end' }[];
  readonly runs: readonly { readonly id: string; readonly path: readonly Spot[] }[];
  readonly checks: {
    readonly limits: Readonly<Record<string, number>>;
    readonly waivers: readonly {
      readonly rule: string;
      readonly refs: readonly unknown[];
      readonly reason: string;
      readonly by: string;
    }[];
  };
}
const plan = async (page: Page): Promise<Checked> => JSON.parse(await savedText(page)) as Checked;

const list = (page: Page): Locator => section(page, 'Checks');
const finding = (page: Page, rule: string): Locator => list(page).locator(`li[data-rule="${rule}"]`);
const accepted = (page: Page): Locator => list(page).getByTestId('accepted');
const status = (page: Page): Locator => page.getByRole('status').first();

/** Presses the flush ends on the plan and deletes them: an error of design. */
async function removeFlushEnds(page: Page): Promise<void> {
  await view(page, 'Lay out');
  await tool(page, 'Select');
  const { flushEnds, runs } = await plan(page);
  expect(flushEnds.length).toBeGreaterThan(0);
  for (const { runId, end } of flushEnds) {
    const { path } = runs.find(({ id }) => id === runId)!;
    await pressGround(page, end === 'start' ? path[0]! : path.at(-1)!);
    await page.keyboard.press('Delete');
  }
  expect((await plan(page)).flushEnds).toEqual([]);
}

interface Counts {
  readonly errors: number;
  readonly warnings: number;
}
const countsIn = (text: string): Counts => {
  const of = (word: string) => Number(new RegExp(`(\\d+) ${word}`).exec(text)?.[1] ?? 0);
  return { errors: of('error'), warnings: of('warning') };
};
/** What the list says is open. */
const listCounts = async (page: Page): Promise<Counts> =>
  countsIn(await list(page).getByTestId('open-findings').innerText());
/** What the print dialog says is open and accepted. */
async function printCounts(page: Page): Promise<Counts & { readonly accepted: number }> {
  await page.getByRole('button', { name: 'Print…' }).first().click();
  const told = await page.getByTestId('open-at-printing').innerText();
  await page.getByRole('button', { name: 'Close' }).first().click();
  return { ...countsIn(told), accepted: Number(/(\d+) findings? (?:is|are) accepted/.exec(told)?.[1] ?? 0) };
}

test('a fault is found, shown, put right with one press, and back after undo', async ({ page }) => {
  await openDemo(page);
  await expect(finding(page, 'no-flush-end')).toHaveCount(0);
  await removeFlushEnds(page);
  const error = finding(page, 'no-flush-end');
  await expect(error).toHaveAttribute('data-severity', 'error');
  await expect(list(page).getByTestId('open-findings')).toContainText(/\d errors?/);

  await test.step('the worst comes first', async () => {
    const severities = await list(page)
      .locator('.notices > li')
      .evaluateAll((items) => items.map((item) => (item as HTMLElement).dataset['severity']!));
    const rank = ['error', 'warning', 'info'];
    expect(severities).toEqual(severities.toSorted((a, b) => rank.indexOf(a) - rank.indexOf(b)));
  });

  await test.step('shown on the plan', async () => {
    await error.getByRole('button', { name: 'Show' }).click();
    await expect(status(page)).toContainText('marked on the plan');
  });

  await test.step('its source on request', async () => {
    await error.getByRole('button', { name: 'Source' }).click();
    await expect(error).toContainText('Check 9: Filter, regulator and flush end in each drip zone.');
    await expect(error).toContainText('WaterSense');
  });

  await test.step('put right by the keyboard, in one step', async () => {
    await error.getByRole('button', { name: 'Fix: Set flush ends' }).focus();
    await page.keyboard.press('Enter');
    await expect(status(page)).toContainText('Done: Set flush ends.');
    await expect(error).toHaveCount(0);
    await expect(undoTitle(page)).toHaveAttribute('title', /Set flush ends/);
    expect((await plan(page)).flushEnds.length).toBeGreaterThan(0);
  });

  await test.step('and back', async () => {
    await page.keyboard.press('Control+z');
    await expect(error).toHaveCount(1);
    expect((await plan(page)).flushEnds).toEqual([]);
  });
});

test('an error is accepted with reason and name, printed so, and taken back', async ({ page }) => {
  await openDemo(page);
  await removeFlushEnds(page);
  const error = finding(page, 'no-flush-end');

  // Some are accepted on the demo plan already.
  const given = (await plan(page)).checks.waivers;
  const count = given.length;

  await test.step('not without a reason, nor without a name', async () => {
    await error.getByRole('button', { name: 'Accept as it is…' }).click();
    const reason = error.getByLabel('Why this is right here');
    await expect(reason).toBeFocused();
    await error.getByLabel('Decided by').fill('');
    await error.getByRole('button', { name: 'Accept', exact: true }).click();
    await expect(error.getByRole('alert')).toContainText('No reason is typed');
    await reason.fill('The header ends in an old flush valve');
    await error.getByRole('button', { name: 'Accept', exact: true }).click();
    await expect(error.getByRole('alert')).toContainText('Nobody answers for this error yet');
    expect((await plan(page)).checks.waivers).toEqual(given);
  });

  const before = await printCounts(page);
  expect(before).toMatchObject({ ...(await listCounts(page)) });
  expect(before.errors).toBeGreaterThan(0);

  await test.step('accepted', async () => {
    await error.getByLabel('Decided by').fill('A. Sample');
    await error.getByLabel('Decided by').press('Enter');
    await expect(error).toHaveCount(0);
    await expect(accepted(page)).toContainText(`Accepted as they are (${count + 1})`);
    await accepted(page).locator('summary').first().click();
    await expect(accepted(page)).toContainText('“The header ends in an old flush valve”, by A. Sample');
    const { waivers } = (await plan(page)).checks;
    expect(waivers).toMatchObject([...given, { rule: 'no-flush-end', by: 'A. Sample' }]);
    expect(waivers[count]!.refs.length).toBeGreaterThan(0);
    await expect(undoTitle(page)).toHaveAttribute('title', /Accept a finding/);
  });

  await test.step('another one for good, wherever its rule speaks', async () => {
    const rule = 'dead-end';
    const late = finding(page, rule);
    await late.getByRole('button', { name: 'Accept as it is…' }).first().focus();
    await page.keyboard.press('Enter');
    await page.keyboard.type('One each is what the owner wants');
    await late.getByLabel('Holds').selectOption('everywhere');
    await late.getByRole('button', { name: 'Accept', exact: true }).press('Enter');
    await expect(late).toHaveCount(0);
    await expect(accepted(page)).toContainText(`Accepted as they are (${count + 2})`);
    expect((await plan(page)).checks.waivers[count + 1]).toMatchObject({ rule, refs: [] });
  });

  await test.step('the print dialog counts what is open and what is accepted', async () => {
    const after = await printCounts(page);
    expect(after).toEqual({ ...(await listCounts(page)), accepted: before.accepted + 2 });
    expect(after.errors).toBe(before.errors - 1);
    expect(after.warnings).toBe(before.warnings);
  });

  await test.step('taken back', async () => {
    await accepted(page).getByRole('button', { name: 'Take back' }).nth(count).click();
    await expect(error).toHaveCount(1);
    await expect(accepted(page)).toContainText(`Accepted as they are (${count + 1})`);
    expect((await plan(page)).checks.waivers).toHaveLength(count + 1);
  });
});

test('a limit of this plan makes a check speak; the usual one makes it silent again', async ({ page }) => {
  await openDemo(page);
  await view(page, 'Prove');
  await expect(finding(page, 'velocity-high')).toHaveCount(0);
  const card = page.getByTestId('checks-card');
  await card.locator('summary').first().focus();
  await page.keyboard.press('Enter');
  await expect(card.locator('.rules > li')).toHaveCount(53);
  const rule = card.locator('li[data-rule="velocity-high"]');
  await expect(rule).toHaveAttribute('data-state', 'in order');
  await rule.locator('summary').click();
  const field = rule.locator('.limit').getByRole('textbox');

  await test.step('what cannot be is refused with the reason', async () => {
    await expect(rule).toContainText('Usual 5.0 ft/s (');
    await field.fill('fast');
    await field.press('Enter');
    await expect(rule.getByRole('alert')).toContainText('does not begin with a number');
    await field.fill('9000 ft/s');
    await field.press('Enter');
    await expect(rule.getByRole('alert')).toContainText('At most');
    expect((await plan(page)).checks.limits).toEqual({});
    await field.press('Escape');
  });

  await test.step('another limit', async () => {
    await field.fill('0.5 ft/s');
    await field.press('Enter');
    await expect(finding(page, 'velocity-high')).toHaveCount(1);
    await expect(rule).toHaveAttribute('data-state', 'speaks');
    await expect(rule).toContainText('This plan has its own figure; usual is 5.0 ft/s.');
    expect((await plan(page)).checks.limits['velocity-high.most']).toBeCloseTo(0.1524, 9);
  });

  await test.step('filters', async () => {
    await card.getByRole('button', { name: 'Changed limits' }).click();
    await expect(card.locator('.rules > li')).toHaveCount(1);
    await card.getByRole('button', { name: 'Speaking' }).click();
    await expect(rule).toHaveCount(1);
    await expect(card.locator('.rules > li[data-state="in order"]')).toHaveCount(0);
    await card.getByRole('button', { name: 'All', exact: true }).click();
  });

  await test.step('back to usual', async () => {
    await rule.getByRole('button', { name: /back to the usual 5\.0 ft\/s/ }).click();
    await expect(finding(page, 'velocity-high')).toHaveCount(0);
    await expect(rule).toHaveAttribute('data-state', 'in order');
    await expect(field).toBeFocused();
    expect((await plan(page)).checks.limits).toEqual({});
  });
});

test('in a narrow panel nothing runs over, and all can be pressed with a finger', async ({ page }) => {
  await openDemo(page);
  await removeFlushEnds(page);
  const card = page.getByTestId('checks-card');
  await card.locator('summary').first().click();
  await finding(page, 'no-flush-end').getByRole('button', { name: 'Accept as it is…' }).click();
  await card.locator('li[data-rule="outlets-dry"] summary').click();
  for (const place of [list(page), section(page, 'Checks and limits')]) {
    const { over, small } = await place.evaluate((element) => ({
      over: element.scrollWidth - element.clientWidth,
      small: [...element.querySelectorAll('button, summary, input, textarea, select')]
        .filter((one) => one.getClientRects().length > 0 && one.getBoundingClientRect().height < 39.5)
        .map((one) => one.textContent || one.tagName),
    }));
    expect(over).toBeLessThanOrEqual(0);
    expect(small).toEqual([]);
  }
});
