// A desk looks through its day: table, search, filter, sorting, a train opened and left again, by mouse
// and by keyboard; what the address keeps; and how the day would be.
import assert from 'node:assert/strict';
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { here, open, part, settled } from '../user.mjs';

const numbers = (page) => page.locator('[role=grid] [data-number]').evaluateAll((rows) =>
  rows.sort((a, b) => a.getAttribute('aria-rowindex') - b.getAttribute('aria-rowindex')).map((row) => row.dataset.number));
const inFocus = (page) => page.evaluate(() => {
  const at = document.activeElement;
  return { role: at?.getAttribute('role') ?? '', text: at?.textContent ?? '', row: at?.closest('[data-number]')?.getAttribute('data-number') ?? '' };
});
const shown = (page, text) => page.locator('.shown').getByText(text, { exact: true }).waitFor();

await story('day', async (world) => {
  const { page, address } = world;
  const table = readFileSync(path.join(world.library, 'days/trains.csv'));
  await page.setViewportSize({ width: 1440, height: 900 });
  await open(page, address);
  await part(page, 'Day');
  const grid = page.getByRole('grid', { name: 'Trains of the day' });
  await grid.waitFor();
  await page.getByText('Cautions', { exact: true }).waitFor({ timeout: 60_000 });
  await shown(page, 'all 40 trains');
  assert.equal(await grid.getAttribute('aria-rowcount'), '41');
  assert.equal(await page.evaluate(() => location.hash), '#day=days%2Ftuesday.toml');
  await world.picture(page, 'day-1440', { fullPage: false });

  // What needs a decision comes first; counts stand beside the decisions, and add up.
  const result = await (await page.request.post(`${address}api/jobs`, { data: { kind: 'day', day: 'days/tuesday.toml' } })).json();
  let told;
  do told = await (await page.request.get(`${address}api/jobs/${result.id}`)).json(); while (!told.result);
  const first = (await numbers(page))[0];
  assert.equal(first, told.result.trains[0].number);
  const by_decision = page.getByRole('group', { name: 'By decision' });
  for (const [decision, count] of Object.entries(told.result.counts)) {
    const button = by_decision.getByRole('button', { name: `${decision} ${count}` });
    assert.equal(await button.count(), count > 0 ? 1 : 0, decision);
  }
  await by_decision.getByRole('button', { name: /^consent needed/ }).click();
  await shown(page, `${told.result.counts['consent needed']} of 40 trains`);
  assert.deepEqual(
    (await numbers(page)).sort(),
    told.result.trains.filter((train) => train.decision === 'consent needed').map((train) => train.number).sort(),
  );
  await by_decision.getByRole('button', { name: /^consent needed/ }).click();

  // Search, from the table and back.
  await grid.getByRole('row', { name: new RegExp(`^${first} `) }).getByRole('gridcell').nth(2).click();
  await page.keyboard.press('/');
  await page.keyboard.type('petrol selmo');
  const selmo = told.result.trains.filter((train) => /petrol/i.test(train.train.name) && /selmo/i.test(`${train.train.name} ${train.route.name}`));
  await shown(page, `${selmo.length} of 40 trains`);
  await page.keyboard.press('Enter');
  assert.equal((await inFocus(page)).role, 'gridcell');
  await page.keyboard.press('/');
  await page.keyboard.type('no such train');
  await page.getByText('No train of the day is so.').waitFor();
  await page.getByRole('button', { name: 'Show all' }).click();
  await shown(page, 'all 40 trains');

  // Sorting, by mouse and by keyboard.
  await grid.getByRole('columnheader', { name: 'Number' }).click();
  const rising = await numbers(page);
  assert.deepEqual(rising.slice(0, 5), [...rising.slice(0, 5)].sort((a, b) => a.localeCompare(b, 'en', { numeric: true })));
  assert.equal(await grid.getByRole('columnheader', { name: 'Number' }).getAttribute('aria-sort'), 'ascending');
  await page.keyboard.press('Enter');
  assert.equal(await grid.getByRole('columnheader', { name: 'Number' }).getAttribute('aria-sort'), 'descending');
  assert.notEqual((await numbers(page))[0], rising[0]);
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowDown');
  assert.deepEqual(await inFocus(page), { role: 'gridcell', text: rising[0], row: rising[0] });
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowRight');
  assert.equal((await inFocus(page)).row, rising[1]);
  await page.keyboard.press('Control+End');
  const last = told.result.trains.map((train) => train.number).sort((a, b) => a.localeCompare(b, 'en', { numeric: true })).at(-1);
  assert.equal((await inFocus(page)).row, last);
  const seen = await page.evaluate(() => {
    const row = document.activeElement.getBoundingClientRect();
    const board = document.querySelector('[role=grid]').getBoundingClientRect();
    return row.top >= board.top - 1 && row.bottom <= board.bottom + 1;
  });
  assert.ok(seen, 'the row in focus is out of sight');

  // Enter opens the train; it is that of its day: what the register of defects says counts.
  const with_defect = told.result.trains.find((train) => train.defects.length > 0 && train.decision === 'permitted');
  assert.ok(with_defect, 'no train of the day has a pantograph that a register keeps down');
  await page.keyboard.press('Control+Home');
  await page.getByRole('searchbox').fill(with_defect.number);
  await page.getByRole('searchbox').press('Enter');
  await page.keyboard.press('Enter');
  const bar = page.getByRole('region', { name: 'The train in its day' });
  await bar.waitFor();
  await settled(page);
  const in_day = await here(page);
  assert.match((await bar.textContent()) ?? '', new RegExp(with_defect.number));
  assert.equal(await page.evaluate(() => location.hash), `#day=days%2Ftuesday.toml&train=${with_defect.number.replace(' ', '+')}`);
  await world.picture(page, 'day-train-1440', { fullPage: false });

  // Taken out of the day, it may be raised again.
  await bar.getByRole('button', { name: 'Take out of the day' }).click();
  assert.notDeepEqual((await here(page)).raised, in_day.raised);
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.deepEqual((await here(page)).raised, in_day.raised);

  // Escape goes back to where one was; so does the browser's own way.
  await page.keyboard.press('Escape');
  await grid.waitFor();
  await page.waitForFunction(() => document.activeElement?.getAttribute('role') === 'gridcell');
  assert.equal((await inFocus(page)).row, with_defect.number);
  await page.getByRole('searchbox').fill('');
  await page.getByRole('searchbox').press('ArrowDown');
  assert.equal((await inFocus(page)).row, with_defect.number);
  await page.keyboard.press('Enter');
  await bar.waitFor();
  const place = rising.indexOf(with_defect.number);
  await settled(page);
  await page.keyboard.press('Alt+ArrowDown');
  const number = bar.locator('strong.number');
  await page.waitForFunction((before) => document.querySelector('strong[class*=number]')?.textContent !== before, with_defect.number);
  const next = await number.textContent();
  if (place >= 0 && place + 1 < rising.length) assert.equal(next, rising[place + 1]);
  await bar.getByRole('button', { name: 'Train before' }).click();
  await page.waitForFunction((wanted) => document.querySelector('strong[class*=number]')?.textContent === wanted, with_defect.number);
  await settled(page);
  await page.goBack();
  await grid.waitFor();
  await page.goForward();
  await bar.waitFor();

  // The address opens the same train elsewhere, and after a reload.
  const url = page.url();
  await page.reload();
  await bar.waitFor();
  await settled(page);
  assert.equal(await number.textContent(), with_defect.number);
  assert.equal(page.url(), url);
  const elsewhere = await (await world.context()).newPage();
  await elsewhere.goto(url);
  await elsewhere.getByRole('region', { name: 'The train in its day' }).waitFor();
  await settled(elsewhere);
  assert.equal(await elsewhere.locator('.of-day strong').textContent(), with_defect.number);
  assert.equal(elsewhere.url(), url);
  await elsewhere.context().close();

  // Changed here, it is not what the table shows, and the page says so.
  await page.getByRole('button', { name: /^vehicle 1/ }).first().focus();
  await page.keyboard.press('t');
  await settled(page);
  await bar.getByText('Changed here: the table shows the train as the library has it.').waitFor();
  await page.getByRole('button', { name: 'Undo' }).click();
  await bar.getByText('Changed here').waitFor({ state: 'detached' });

  // How the day would be.
  await bar.getByRole('button', { name: 'Back to the table' }).click();
  await page.getByLabel('What if').selectOption('days/what-if/ice-warning.toml');
  await page.getByText(/^With “Ice warning at 16:00”:/).first().waitFor({ timeout: 60_000 });
  const asked = await (await page.request.post(`${address}api/jobs`, { data: { kind: 'day-what-if', day: 'days/tuesday.toml', what_if: 'days/what-if/ice-warning.toml' } })).json();
  let other;
  do other = await (await page.request.get(`${address}api/jobs/${asked.id}`)).json(); while (!other.result);
  const changing = other.result.trains.filter((train) => (train.change === 'no plan' ? train.card_again : train.change !== 'unchanged'));
  await page.getByText(`${changing.length} trains change`).waitFor();
  await page.getByText(`${other.result.cards_again} cards to be issued again`).waitFor();
  await page.getByLabel('changed only').check();
  await shown(page, `${changing.length} of 40 trains`);
  await grid.getByRole('columnheader', { name: 'What changes' }).click();
  const worst = await grid.locator('[data-number]').first().getByRole('gridcell').nth(8).textContent();
  assert.match(worst ?? '', new RegExp(changing[0].change));
  await world.picture(page, 'day-what-if-1440', { fullPage: false });
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await bar.getByText('With “Ice warning at 16:00”:').waitFor();
  assert.match(page.url(), /&if=days%2Fwhat-if%2Fice-warning\.toml$/);
  await page.keyboard.press('Escape');
  await grid.waitFor();
  await page.getByLabel('What if').selectOption('');
  await shown(page, 'all 40 trains');

  // A train with mistakes stops no other; they stand with their places. So do those of the day itself.
  world.expected.push(/40[04]|422/);
  appendFileSync(path.join(world.library, 'days/trains.csv'), '99901,../trains/none.toml,../routes/harl-tarnholt.toml,,05:00,,\n');
  await page.getByRole('button', { name: 'Look again' }).click();
  await by_decision.getByRole('button', { name: 'input mistakes 1' }).click();
  await shown(page, '1 of 41 trains');
  await page.getByText(/^days\/trains\.csv:39:\d+: .*trains\/none\.toml/).waitFor();
  await page.getByRole('button', { name: 'Open the train' }).click();
  await page.getByRole('alert').getByText('there is no such file in the library, or it cannot be read').waitFor();
  appendFileSync(path.join(world.library, 'days/trains.csv'), '99901,../trains/t01-containers.toml,../routes/harl-tarnholt.toml,,05:00,,\n');
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByRole('alert').getByText(/^days\/trains\.csv:40:\d+: .*a second time/).waitFor();
  writeFileSync(path.join(world.library, 'days/trains.csv'), table);
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByRole('button', { name: 'Show all' }).click();
  await shown(page, 'all 40 trains');

  // On a narrow page each train is an entry.
  for (const width of [1280, 820, 390]) {
    await page.setViewportSize({ width, height: 844 });
    await page.evaluate(() => scrollTo(0, 0));
    const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(beyond <= 0, `${beyond} px wider than ${width}`);
    await world.picture(page, `day-${width}`, { fullPage: false });
  }
  await page.getByLabel('Sorted by').selectOption('departure');
  await grid.locator('[data-number]').first().click();
  await bar.waitFor();
  await page.getByRole('button', { name: 'Back to the table' }).click();
  await page.getByLabel('What if').selectOption('days/what-if/ice-warning.toml');
  await page.getByText(/^With “Ice warning at 16:00”:/).first().waitFor({ timeout: 60_000 });
  await world.picture(page, 'day-what-if-390', { fullPage: false });

  // Where there are many, days and what-ifs are searched as all lists are: what holds each word stays, and Enter
  // takes the first.
  const warning = readFileSync(path.join(world.library, 'days/what-if/ice-warning.toml'), 'utf8');
  for (let hour = 1; hour <= 9; ++hour) {
    writeFileSync(path.join(world.library, `days/what-if/ice-${hour}.toml`), warning.replace('Ice warning at 16:00', `Glätte at 0${hour}:00`));
  }
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.reload();
  const what_ifs = page.locator('#what-if');
  await what_ifs.locator('option', { hasText: 'Glätte at 09:00' }).waitFor({ state: 'attached' });
  const search = page.locator('.choice').getByRole('searchbox', { name: 'Search in the list' });
  assert.equal(await search.count(), 1, 'a list of two days has no search');
  await search.fill('glatte 07');
  await page.locator('.choice').getByText('1/11', { exact: true }).waitFor();
  await world.picture(page, 'day-what-if-searched', { fullPage: false });
  await search.press('Enter');
  assert.equal(await what_ifs.inputValue(), 'days/what-if/ice-7.toml');
  assert.equal(await search.inputValue(), '');
});
