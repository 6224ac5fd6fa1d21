// A desk issues cards: two trains chosen by key and by mouse, one that may not have a card, a record that
// changes, the card that holds no more, the one that replaces it, and the PDF of it.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { copyFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { open, part } from '../user.mjs';

const trains = [
  ['7001', 't01-containers', 'harl-tarnholt', 'fair-day'],
  ['7002', 't12-petrol-double', 'harl-tarnholt', 'of-cards'],
  ['7003', 't26-ore-without-consent', 'quintra-dorsa', 'fair-day'],
  ['7004', 't11-limestone-double', 'harl-tarnholt', 'fair-day'],
];

function makeDay(library) {
  copyFileSync(path.join(library, 'conditions/fair-day.toml'), path.join(library, 'conditions/of-cards.toml'));
  const rows = trains.map(
    ([number, train, route, conditions], i) =>
      `[[train]]\nnumber = "${number}"\ntrain = "../trains/${train}.toml"\nroute = "../routes/${route}.toml"\nconditions = "../conditions/${conditions}.toml"\ndeparture = 0${4 + i}:10:00\n`,
  );
  writeFileSync(
    path.join(library, 'days/cards.toml'),
    `kind = "day"\nname = "A day with cards"\ndate = 2031-05-14\ninvented = true\nrules = ["../rules/nordvale-freight.toml"]\n${rows.join('')}`,
  );
}

await story('cards', async (world) => {
  makeDay(world.library);
  const { page, address } = world;
  await page.setViewportSize({ width: 1440, height: 1000 });
  await open(page, address);
  await part(page, 'Day');
  await page.getByRole('combobox', { name: 'Day' }).selectOption('days/cards.toml');
  const grid = page.getByRole('grid', { name: 'Trains of the day' });
  const row = (number) => grid.locator(`[data-number="${number}"]`);
  const card = (number) => row(number).locator('.issued');
  const box = (number) => row(number).locator('.choose');
  const form = page.getByRole('region', { name: 'Issue cards' });
  const dialog = page.getByRole('dialog');
  const go_on = (n) => form.getByRole('button', { name: n === 1 ? 'Issue 1 card…' : `Issue ${n} cards…` });
  const out = async () => {
    const answer = await (await page.request.post(`${address}api/issued`, { data: { day: 'days/cards.toml' } })).json();
    return Object.fromEntries(answer.trains.map((train) => [train.number, train.issue?.issue ?? 0]));
  };
  const nothing = { 7001: 0, 7002: 0, 7003: 0, 7004: 0 };
  await card('7001').getByText('not issued').waitFor({ timeout: 60_000 });
  await form.getByText('no train chosen').waitFor();

  // By key and by mouse; what may not have a card is said beside the train.
  await grid.getByRole('columnheader', { name: 'Number' }).click();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Space');
  assert.equal(await row('7001').getAttribute('aria-selected'), 'true');
  await box('7003').click({ modifiers: ['Shift'] });
  await form.getByText('3 trains chosen').waitFor();
  assert.deepEqual(await grid.locator('[aria-selected=true]').evaluateAll((rows) => rows.map((one) => one.dataset.number)), ['7001', '7002', '7003']);
  await page.keyboard.press('Control+a');
  await form.getByText('4 trains chosen').waitFor();
  await box('7004').click();
  await form.getByText('3 trains chosen').waitFor();
  const against = form.getByRole('group', { name: '1 train may not have a card:' });
  assert.match((await against.textContent()) ?? '', /7003.*consent needed/);
  await form.getByLabel('To whom').fill('Depot Harl');
  await form.getByLabel('Made by').fill('A. Maker');
  await form.getByLabel('Checked by').fill('B. Checker');
  await form.getByLabel('Released by').fill('C. Chief');
  await form.getByLabel('Holds until').fill('2031-05-15');
  assert.ok(await go_on(3).isDisabled(), 'cards may be asked for that are not to be had');
  await world.picture(page, 'cards-form-1440');
  assert.deepEqual(await faults(page), []);
  await against.getByRole('button', { name: 'Leave it out' }).click();

  // Nothing is issued by one key or click: what is focused first does nothing, and Escape goes back.
  await form.getByLabel('To whom').press('Enter');
  await dialog.getByRole('heading', { name: 'Issue these 2 cards?' }).waitFor();
  assert.deepEqual((await dialog.locator('.list li').allTextContents()).map((text) => text.replace(/\s+/g, ' ').trim().slice(0, 4)), ['7001', '7002']);
  assert.match((await dialog.textContent()) ?? '', /Handed to Depot Harl, for 2031-05-14\. They hold until 2031-05-15\./);
  assert.equal(await dialog.locator('.list li').filter({ hasText: 'its first card' }).count(), 2);
  assert.deepEqual(await faults(page), []);
  await world.picture(page, 'cards-confirm-1440', { fullPage: false });
  await page.keyboard.press('Enter');
  await dialog.waitFor({ state: 'hidden' });
  await go_on(2).click();
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
  assert.deepEqual(await out(), nothing);

  await go_on(2).click();
  await dialog.getByRole('button', { name: 'Issue 2 cards' }).click();
  await form.getByText('2 cards are issued.').waitFor();
  assert.deepEqual(await out(), { ...nothing, 7001: 1, 7002: 1 });
  await card('7002').getByText('issue 1, holds until 2031-05-15').waitFor();
  await form.getByText('no train chosen').waitFor();

  // A record changes. What is not seen yet is not issued; that stands beside the train.
  copyFileSync(path.join(world.library, 'conditions/hard-frost.toml'), path.join(world.library, 'conditions/of-cards.toml'));
  await box('7002').click();
  await form.getByRole('group').getByText('issue 1 still holds').waitFor();
  await form.getByLabel('also where the card issued last still holds').check();
  await go_on(1).click();
  await dialog.getByText(/replaces issue 1, handed to Depot Harl, which still holds/).waitFor();
  world.expected.push(/422/);
  await dialog.getByRole('button', { name: 'Issue the card' }).click();
  await form.getByRole('group').getByText('Its files have changed since it was looked at: look at the day again.').waitFor();
  await card('7002').getByText('refused').waitFor();
  assert.equal((await out())[7002], 1);

  // Looked at again, one holds no more; it is found, replaced, and the new card says so.
  await page.getByRole('button', { name: 'Look again' }).click();
  await card('7002').getByText('holds no more').waitFor({ timeout: 60_000 });
  await card('7001').getByText('issue 1, holds until 2031-05-15').waitFor();
  await page.getByLabel('cards that hold no more (1)').check();
  await page.locator('.shown').getByText('1 of 4 trains', { exact: true }).waitFor();
  assert.deepEqual(await grid.locator('[data-number]').evaluateAll((rows) => rows.map((one) => one.dataset.number)), ['7002']);
  await page.getByText('It holds no more: take it back, and issue it again.').waitFor();
  await form.getByLabel('also where the card issued last still holds').uncheck();
  await world.picture(page, 'cards-no-more-1440');
  await go_on(1).click();
  await dialog.getByText(/replaces issue 1, handed to Depot Harl, which holds no more: take it back/).waitFor();
  await dialog.getByRole('button', { name: 'Issue the card' }).click();
  await form.getByText('1 card is issued.').waitFor();
  await page.getByText('No train of the day is so.').waitFor();
  await page.getByRole('button', { name: 'Show all' }).click();
  await card('7002').getByText(/^issue 2, holds/).waitFor();
  assert.deepEqual(await out(), { ...nothing, 7001: 1, 7002: 2 });

  const link = form.getByRole('link', { name: '7002, issue 2 (PDF)' });
  const answer = await page.request.get(new URL(await link.getAttribute('href'), address).href);
  assert.equal(answer.headers()['content-type'], 'application/pdf');
  const file = path.join(world.library, '..', 'card.pdf');
  writeFileSync(file, await answer.body());
  const text = execFileSync('pdftotext', ['-layout', file, '-']).toString().replace(/\s+/g, ' ');
  assert.match(text, /Issue 2\. Replaces issue 1 of/);
  assert.match(text, /C\. Chief/);
  // Beside a PDF the browser itself asks for a picture of the site.
  world.expected.push(/404/);
  const asked = page.context().waitForEvent('request', (request) => request.url().endsWith('/card'));
  await link.click();
  await asked;
  await page.waitForTimeout(500);
  const others = world.requests.filter((url) => !/\/(api|assets)\/|\/$|\/mark\.svg$/.test(new URL(url).pathname));
  assert.deepEqual([...new Set(others.map((url) => new URL(url).pathname))].filter((name) => name !== '/favicon.ico'), []);

  // On a narrow page too.
  for (const width of [820, 390]) {
    await page.setViewportSize({ width, height: 844 });
    await box('7004').click();
    const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(beyond <= 0, `${beyond} px wider than ${width}`);
    await form.getByLabel('Made by').waitFor({ state: width === 820 ? 'visible' : 'detached' });
    assert.deepEqual(await faults(page), []);
    await world.picture(page, `cards-${width}`);
  }
}, { serve: (folder) => ['--no-store', '--register', path.join(folder, 'cards.sqlite')] });

await story('no cards', async (world) => {
  const { page, address } = world;
  await open(page, address);
  await part(page, 'Day');
  await page.getByText('No cards are issued here: start the server with panup serve --register FILE.').waitFor();
  assert.equal(await page.getByRole('region', { name: 'Issue cards' }).count(), 0);
  assert.equal(await page.getByRole('columnheader', { name: 'Card' }).count(), 0);
  assert.ok(!world.requests.some((url) => url.includes('/api/issue')), 'the page asks for cards');
}, { serve: ['--no-store'] });
