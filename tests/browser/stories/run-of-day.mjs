// A train of a day whose vehicles change on the way: opened from the table, read part by part by mouse and by
// keyboard, asked, handed out, a defect set by hand, and told to trainees.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { choose, here, part, pointAtPantograph, settled } from '../user.mjs';

/** A day of three trains; of the second, the locomotive that takes it on is none for the second system. */
function makeDay(library) {
  const run = readFileSync(path.join(library, 'runs/r05-change-at-tarnholt.toml'), 'utf8');
  writeFileSync(path.join(library, 'runs/refused.toml'), run.replace('vehicle = "m62"', 'vehicle = "k41"').replace('M62 106', 'K41 050').replace('id = "r05', 'id = "r05-refused'));
  writeFileSync(
    path.join(library, 'days/of-runs.toml'),
    `kind = "day"\nname = "A day of runs"\ndate = 2031-05-14\ninvented = true\nrules = ["../rules/nordvale-freight.toml"]\n${[
      ['8001', 'run = "../runs/r05-change-at-tarnholt.toml"'],
      ['8002', 'run = "../runs/refused.toml"'],
      ['8003', 'run = "../runs/r06-banked.toml"'],
      ['8004', 'train = "../trains/t01-containers.toml"\nroute = "../routes/harl-tarnholt.toml"'],
    ].map(([number, way], i) => `[[train]]\nnumber = "${number}"\ndeparture = 0${4 + i}:10:00\n${way}\n`).join('')}`,
  );
}

await story('run of a day', async (world) => {
  makeDay(world.library);
  const { page, address } = world;
  await page.setViewportSize({ width: 1440, height: 1000 });
  await page.goto(`${address}#day=days%2Fof-runs.toml`);
  const grid = page.getByRole('grid', { name: 'Trains of the day' });
  const bar = page.getByRole('region', { name: 'Parts of the run' });
  const parts = bar.getByRole('button');
  const opened = () => bar.locator('[aria-current=step]').textContent();
  const told = page.locator('header [role=status]');
  const orders = page.getByRole('region', { name: 'Orders to the driver' });
  const look = async (name) => {
    assert.deepEqual(await faults(page), [], name);
    const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(beyond <= 0, `${name}: ${beyond} px wider than the window`);
    await world.picture(page, name);
  };
  await page.getByText('Cautions', { exact: true }).waitFor({ timeout: 60_000 });

  // A click opens it like any other; its parts stand above it, one is open.
  await grid.locator('[data-number="8001"]').getByRole('gridcell').first().click();
  await bar.waitFor();
  await settled(page);
  assert.equal(await parts.count(), 2);
  assert.match(await opened(), /Part 1 of 2.*Harl.* to Tarnholt.*K41 007 leaves, M62 106 comes/);
  assert.match(await told.textContent(), /permitted.*both parts/);
  assert.match(await orders.getByRole('listitem').last().textContent(), /Attach at the front .*vehicle 2, .*M62 106, at Tarnholt/);
  assert.match(await orders.textContent(), /Part 1 ends at Tarnholt.*K41 007 leaves/);
  const first = await here(page);
  assert.deepEqual(first.raised.map((name) => name.split('.')[0]), ['1']);
  await look('run-part-1-1440');

  // By mouse and by keyboard to the next part, and back; the address says which.
  await parts.nth(1).click();
  assert.match(await opened(), /Part 2 of 2/);
  assert.deepEqual((await here(page)).raised.map((name) => name.split('.')[0]), ['2']);
  assert.match(await page.evaluate(() => location.hash), /&train=8001&part=2$/);
  assert.match(await page.getByRole('list', { name: 'Order of the train as it leaves on this part' }).last().textContent(), /2 M62 106.*attached on the way/);
  await look('run-part-2-1440');
  await page.keyboard.press('Alt+PageUp');
  assert.match(await opened(), /Part 1 of 2/);
  assert.doesNotMatch(await page.evaluate(() => location.hash), /part=/);
  const slider = page.getByRole('slider', { name: 'Chainage of the front of the train' });
  await slider.focus();
  await page.keyboard.press('Alt+PageUp');
  assert.equal(await slider.inputValue(), '0', 'the key for the part before moves along the route');
  await page.keyboard.press('Alt+PageDown');
  assert.match(await opened(), /Part 2 of 2/);
  await page.reload();
  await bar.waitFor();
  await settled(page);
  assert.match(await opened(), /Part 2 of 2/);

  // Why not, when one fails, report and card: of the part that is open; the card is of all.
  await page.getByRole('button', { name: /^Pantograph 2\.\d down$/ }).first().click();
  await page.locator('.reply').waitFor();
  await page.getByRole('region', { name: 'When one fails' }).getByRole('button', { name: 'Pantograph 2.1' }).click();
  await page.getByRole('heading', { name: 'On the card' }).waitFor();
  const words = async (button, what) => {
    const answer = page.waitForResponse((response) => response.url().endsWith(`/api/${what}`));
    await page.getByRole('banner').getByRole('button', { name: button }).click();
    const file = path.join(world.library, '..', 'out.pdf');
    writeFileSync(file, await (await page.request.fetch((await answer).request())).body());
    return execFileSync('pdftotext', ['-layout', file, '-']).toString();
  };
  const card = await words('Driver’s card of all parts (PDF)', 'card');
  assert.match(card, /part 1 of 2[^]*part 2 of 2/);
  const report = await words('Engineer’s report of part 2 (PDF)', 'report');
  assert.match(report, /part 2 of 2/);
  assert.doesNotMatch(report, /part 1 of 2/);

  // A vehicle that comes on the way has its defects in the run: said where they would be set.
  await pointAtPantograph(page, '2.1');
  await page.getByRole('dialog').getByText(/comes to the train on its way.*defective_pantographs = \[1\]/).waitFor();
  await look('run-attached-1440');
  await page.getByRole('dialog').getByRole('button', { name: 'To the text of the run' }).click();
  await page.getByRole('textbox', { name: 'runs/r05-change-at-tarnholt.toml' }).waitFor();
  await part(page, 'Plan');

  // What is set by hand of the train's own vehicles holds on all parts.
  await page.keyboard.press('Escape');
  await grid.locator('[data-number="8003"]').getByRole('gridcell').first().click();
  await bar.getByText(/K41 033 leaves/).waitFor();
  await settled(page);
  await parts.nth(1).click();
  assert.deepEqual((await here(page)).raised, ['1.1']);
  await pointAtPantograph(page, '1.1');
  await page.getByRole('dialog').getByText('Holds from departure, on all parts.').waitFor();
  await page.getByRole('radio', { name: 'defective' }).check();
  assert.deepEqual((await here(page)).raised, ['1.2']);
  await page.getByText('Changed here: the table shows the train as the library has it.').waitFor();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await page.keyboard.press('Alt+PageUp');
  assert.ok((await here(page)).raised.includes('1.2'));
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.ok((await here(page)).raised.includes('1.1'));

  // The answer of the train is its worst part's, and the page leads there.
  await page.keyboard.press('Escape');
  await grid.locator('[data-number="8002"]').getByRole('gridcell').first().click();
  await bar.getByText(/K41 050 comes/).waitFor();
  await settled(page);
  assert.match(await told.textContent(), /no permitted configuration.*part 2, the worst of 2/);
  assert.match(await opened(), /Part 1 of 2.*permitted/);
  await page.getByRole('button', { name: 'Show where' }).click();
  assert.match(await opened(), /Part 2 of 2.*no permitted configuration/);
  await look('run-refused-1440');

  // To trainees it is told through all parts.
  await page.keyboard.press('Alt+PageUp');
  await part(page, 'Explain');
  await page.getByText(/Part 1 of 2/).first().waitFor();
  await page.keyboard.press('End');
  await page.locator('.step.current').getByText(/Part 1 ends at Tarnholt/).waitFor();
  await look('run-explain-1440');
  await page.keyboard.press('ArrowLeft');
  await page.locator('.step.current').getByText(/Part 2 of 2/).waitFor();
  await page.keyboard.press('Escape');

  // Narrow, at night, and in German.
  for (const [width, colorScheme] of [[820, 'dark'], [390, 'light']]) {
    await page.setViewportSize({ width, height: 844 });
    await page.emulateMedia({ colorScheme });
    await look(`run-${width}`);
  }
  await page.getByRole('button', { name: 'Choose and set' }).click();
  await page.getByLabel('Language').selectOption('de');
  await page.getByRole('region', { name: 'Teile des Laufs' }).getByText(/K41 007 geht ab, K41 050 kommt dazu/).waitFor();

  // Runs stand beside the routes too; conditions hold on them; on a route the train has no parts.
  await page.setViewportSize({ width: 1440, height: 1000 });
  await page.keyboard.press('Escape');
  await page.locator('[data-number="8004"]').getByRole('gridcell').first().click();
  await page.getByRole('region', { name: 'Der Zug in seinem Tag' }).getByText('8004').waitFor();
  await settled(page);
  const in_german = page.getByRole('region', { name: 'Teile des Laufs' });
  assert.equal(await in_german.count(), 0);
  await choose(page, 'route', 'runs/r07-run-round.toml');
  await in_german.getByText(/K41 007 umfährt den Zug, der Zug verlässt den Halt in Gegenrichtung/).waitFor();
  assert.ok(await page.locator('select.train').isDisabled());
  await in_german.getByRole('button').nth(1).click();
  assert.match(await page.getByRole('list', { name: 'wie er auf diesem Teil abfährt' }).last().textContent(), /K41 007\s+Führerstand 2 voraus.*containers/);
  await choose(page, 'conditions', 'conditions/hard-frost.toml');
  assert.equal((await here(page)).raised.length, 2);
  await choose(page, 'route', 'routes/harl-tarnholt.toml');
  assert.equal(await in_german.count(), 0);
}, { serve: ['--no-store'] });
