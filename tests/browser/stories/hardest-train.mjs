// The demo's hardest train, three energy supply systems and a reversal, taken through the phase
// separation section that it passes with pantographs up; and what the card says when one fails, place by
// place, with the train drawn as it is then.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { copyFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { choose, here, open } from '../user.mjs';

await story('hardest train', async ({ page, address, picture, library }) => {
  await open(page, address);
  await choose(page, 'train', 'trains/t29-petrol-to-port-selmo.toml');
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/plan'));
  await choose(page, 'route', 'routes/harl-port-selmo.toml');
  const { plan } = await (await answered).json();
  const departure = await here(page);

  // Orders are searched as all lists are; Enter takes the train to the first that is found.
  const orders = page.getByRole('region', { name: 'Orders' });
  const search = orders.getByRole('searchbox', { name: 'Search in the list' });
  const wanted = plan.instructions.filter((one) => /sollin/i.test(`${one.text} ${one.if_not_possible}`));
  assert.ok(wanted.length > 0 && wanted.length < plan.instructions.length);
  await search.fill('SOLLIN');
  await orders.getByText(`${wanted.length}/${plan.instructions.length}`, { exact: true }).waitFor();
  assert.deepEqual(await orders.locator('li p:first-child').allTextContents(), wanted.map((one) => one.text));
  await orders.scrollIntoViewIfNeeded();
  await picture(page, 'orders-searched', { fullPage: false });
  await search.press('Enter');
  const front = page.getByRole('slider', { name: 'Chainage of the front of the train' });
  await page.waitForFunction(([one, km]) => Math.abs(Number(one.value) - km) < 1e-3, [await front.elementHandle(), wanted[0].at_km]);
  await search.press('Escape');
  assert.equal(await orders.locator('li').count(), plan.instructions.length);
  await front.fill(String(plan.sections[0].from_km));
  assert.deepEqual(departure.raised, ['1.4', '2.4', '3.1']);
  await page.getByRole('button', { name: /Take the train through: Sollin/ }).click();
  const within = await here(page);
  assert.deepEqual(within.raised, ['1.2', '2.2', '3.2']);
  await page.getByText('phase west').first().waitFor();
  // Here nothing is joined, and all is grey; three metres behind its beginning the first pantograph joins two
  // zones, which stand out with all that hangs on them. The train is drawn with its vehicles.
  const section = page.locator('.separation');
  const stands_out = async (what) => section.locator(`[data-${what}][data-joined=true]`).evaluateAll((all, key) => all.map((one) => one.getAttribute(`data-${key}`)), what);
  assert.deepEqual([await stands_out('zone'), await stands_out('collector')], [[], []]);
  const begins = Number(await page.getByRole('slider', { name: /Place of the front/ }).inputValue());
  const goTo = (m) => page.getByRole('slider', { name: /Place of the front/ }).evaluate((one, value) => { one.value = value; one.dispatchEvent(new Event('input', { bubbles: true })); }, String(m));
  await goTo(3);
  await section.getByText('Joined: phase west and the neutral zone').waitFor();
  assert.deepEqual([await stands_out('zone'), await stands_out('collector')], [['0', '1'], ['1.2', '2.2', '3.2']]);
  assert.deepEqual(await section.locator('.body-name').allTextContents(), ['1', '2', 'petrol in tank wagons', '3']);
  await goTo(begins);
  await page.setViewportSize({ width: 1280, height: 1180 });
  await page.evaluate(() => window.scrollTo(0, 0));
  await picture(page, 'hardest-train', { fullPage: false });

  // Printed from the browser it is a sheet of its own: upright and across, every order and caution is whole.
  const bare = (text) => text.replace(/\s+/g, '');
  for (const landscape of [false, true]) {
    const sheets = path.join(library, 'sheets.pdf');
    writeFileSync(sheets, await page.pdf({ format: 'A4', landscape }));
    const printed = bare(execFileSync('pdftotext', [sheets, '-']).toString());
    for (const one of plan.instructions) for (const text of [one.text, one.if_not_possible]) assert.ok(printed.includes(bare(text)), `${landscape ? 'across' : 'upright'}: ${text}`);
    for (const text of plan.cautions) assert.ok(printed.includes(bare(text)), text);
    const leaves = execFileSync('pdftotext', [sheets, '-']).toString().split('\f').filter((leaf) => leaf.trim());
    for (const leaf of leaves) assert.ok(bare(leaf).includes('Nobodygoesonaroof'), 'a sheet without its cautions');
    // No figure is broken over two lines, and no control is printed.
    const lines = execFileSync('pdftotext', ['-layout', sheets, '-']).toString();
    for (const { from_km, to_km, speed_kmh } of plan.sections) assert.match(lines, new RegExp(`${from_km.toFixed(3)}–${to_km.toFixed(3)}.*\\s${speed_kmh}\\s`));
    assert.ok(!printed.includes('Whynotanother'), 'controls are printed');
    copyFileSync(sheets, path.join(process.env.PANUP_PICTURES, `plan-${landscape ? 'across' : 'upright'}.pdf`));
  }

  // Each row that the page tells stands on the card, and the drawing has up what the plan has then.
  const made = page.waitForResponse((response) => response.url().endsWith('/api/card'));
  const shown = page.context().waitForEvent('page');
  await page.getByRole('button', { name: 'Driver’s card (PDF)' }).click();
  const file = path.join(library, 'card.pdf');
  writeFileSync(file, await (await page.request.fetch((await made).request())).body());
  await (await shown).close();
  const card = execFileSync('pdftotext', ['-layout', file, '-']).toString().replace(/\s+/g, '');
  const failures = page.getByRole('region', { name: 'When one fails' });
  const at = (list, km) => list.find((one) => one.from_km <= km && km < one.to_km);
  const drawn = page.locator('#train .drawing');
  let rows = 0;
  let questions = 0;
  page.on('request', (request) => (questions += request.url().endsWith('/api/failure') ? 1 : 0));
  // The page gets contingencies in short: what is up then is taken from the command.
  const files = [['train', 'trains/t29-petrol-to-port-selmo'], ['route', 'routes/harl-port-selmo'], ['conditions', 'conditions/fair-day'], ['rules', 'rules/nordvale-freight']];
  const whole = JSON.parse(execFileSync(process.env.PANUP, ['plan', '--format', 'json', ...files.flatMap(([key, name]) => [`--${key}`, path.join(library, `${name}.toml`)])], { maxBuffer: 1e8 }).toString());
  assert.deepEqual(whole.sections.map((one) => one.raised), plan.sections.map((one) => one.raised));
  for (const { failed, sections, on_the_road } of whole.contingencies.filter((one) => ['1.4', '2.2', '3.1', '1.3'].includes(one.failed))) {
    await failures.getByRole('button', { name: `Pantograph ${failed}` }).click();
    await page.getByText(`Drawn with ${failed} failed`).waitFor();
    for (const text of await failures.locator('.then, td:nth-child(2)').allInnerTexts()) {
      if (text === 'nothing changes') continue;
      // Words that the card breaks over lines; beside them stand those of other columns.
      for (const word of text.split(/\s+/)) assert.ok(card.includes(word), `${failed}: the card does not say "${text}"`);
      ++rows;
    }
    for (const km of [10, 55, 61.65, 70, 93, 105, 115, 160]) {
      await page.getByRole('slider', { name: 'Chainage of the front of the train' }).fill(String(km));
      const planned = at(plan.sections, km);
      const failing = at(on_the_road, km);
      const up = failing ?? at(sections, km);
      const where = `${failed} fails at km ${km}`;
      const marks = await drawn.locator('text[data-of^="pantograph"]').evaluateAll((all) =>
        all.map((one) => ({ name: one.textContent, struck: one.getAttribute('text-decoration') === 'line-through', up: one.getAttribute('fill') !== 'currentColor' })),
      );
      assert.deepEqual(marks.filter((one) => one.up).map((one) => one.name).sort(), [...up.raised].sort(), where);
      assert.ok(marks.find((one) => one.name === failed).struck, `${where}: it is not marked`);
      const told = (await failures.locator('.at').textContent()).replace(/\s+/g, ' ');
      const changes = [...up.raised].sort().join() !== [...planned.raised].sort().join();
      if (planned.lowered_for) assert.match(told, /all down for/, where);
      else if (up.stranded || up.answer === 'no permitted configuration') assert.match(told, /stands until help comes|no permitted configuration/, where);
      else if (changes) for (const name of up.raised.filter((one) => !planned.raised.includes(one))) assert.ok(told.includes(name), `${where}: ${told}`);
      else assert.match(told, /nothing changes|the same up/, where);
    }
  }
  // Behind its reversal the train is turned round, in the drawing and in the list.
  const consist = page.getByRole('list', { name: 'Order of the train, front first' });
  const drawn_order = await consist.first().locator('button.item').evaluateAll((all) => all.map((one) => one.getAttribute('aria-label').split(', ').at(-1)));
  const told_order = (await consist.last().getByRole('button').allTextContents()).map((one) => one.replace(/^\s*\d*\s*/, '').trim());
  assert.deepEqual(told_order, ['M62 117', 'petrol in tank wagons', 'M62 109', 'M62 104']);
  assert.deepEqual(drawn_order, told_order);
  assert.match(await consist.last().getByRole('listitem').first().textContent(), /cab 1 leads/);
  // Each change of what is up has its sign in the strip.
  assert.equal(await page.locator('.strip .field text.names').filter({ hasText: /^1\.2$/ }).count(), 1);

  assert.ok(rows > 3, `${rows} rows`);
  assert.equal(questions, 4, 'one question for a pantograph, wherever the train is');
  await failures.getByRole('button', { name: 'Pantograph 1.4' }).click();
  await page.getByRole('slider', { name: 'Chainage of the front of the train' }).fill('10');
  await page.getByText('Drawn with 1.4 failed').waitFor();
  await picture(page, 'hardest-train-failed');
  await page.getByRole('button', { name: 'As planned' }).first().click();
  assert.equal(await page.getByText('Drawn with 1.4 failed').count(), 0);

  // A roof line by which zones are joined stands out too.
  await choose(page, 'train', 'trains/t08-museum.toml');
  await choose(page, 'route', 'routes/harl-tarnholt.toml');
  await page.getByRole('button', { name: /Take the train through: Skarn/ }).click();
  assert.deepEqual(await stands_out('join'), []);
  await goTo(2);
  await section.getByText('Joined: phase north and the neutral zone').waitFor();
  assert.deepEqual([await stands_out('zone'), await stands_out('join')], [['0', '1'], ['0']]);
});
