// Two plans side by side: today and iced, with and without consent, handed out earlier and now; what differs is
// marked on the strip and on the train.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { choose, open, settled } from '../user.mjs';

await story(
  'side by side',
  async ({ page, address, picture, library }) => {
    await open(page, address);
    await choose(page, 'train', 'trains/t11-limestone-double.toml');
    await choose(page, 'route', 'routes/harl-tarnholt.toml');
    const beside = page.getByRole('region', { name: 'Beside another plan' });
    const other = beside.getByRole('combobox');
    const answered = page.waitForResponse((response) => response.url().endsWith('/api/plan'));
    await other.selectOption('conditions conditions/hard-frost.toml');
    const { plan: iced } = await (await answered).json();
    await beside.getByText(/^They differ on/).waitFor();

    // What the other has up is what the engine says of it; what is otherwise is ringed on both trains.
    const here = page.locator('.here .name');
    const today = await here.allTextContents();
    assert.notDeepEqual(iced.sections[0].raised, today);
    const sides = beside.locator('[data-side]');
    assert.equal(await sides.count(), 2);
    assert.ok((await sides.nth(0).textContent()).includes(`${today.join(' ')} up`));
    assert.ok((await sides.nth(1).textContent()).includes(`${iced.sections[0].raised.join(' ')} up`));
    const ringed = async (side) => (await sides.nth(side).locator('[data-marked]').evaluateAll((all) => all.map((one) => one.dataset.marked))).sort();
    const differing = [...today.filter((one) => !iced.sections[0].raised.includes(one)), ...iced.sections[0].raised.filter((one) => !today.includes(one))].sort();
    assert.deepEqual([await ringed(0), await ringed(1)], [differing, differing]);
    // On the strip each stretch that differs is marked, and leads there from the list.
    const rows = beside.getByRole('row');
    assert.equal(await page.locator('.strip [data-differs]').count(), (await rows.count()) - 1);
    await page.locator('.strip .field path.other-speed').waitFor({ state: 'attached' });
    await rows.last().getByRole('button').click();
    assert.equal(await page.locator('.here .km').textContent(), `km ${/^([\d.]+)–/.exec(await rows.last().getByRole('button').textContent())[1]}`);
    await page.locator('.strip').scrollIntoViewIfNeeded();
    assert.deepEqual(await faults(page), []);
    await picture(page, 'side-by-side-1440');
    for (const width of [820, 390]) {
      await page.setViewportSize({ width, height: 1000 });
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0, `${width} px`);
      await picture(page, `side-by-side-${width}`);
    }
    await page.setViewportSize({ width: 1440, height: 1000 });
    await other.selectOption('nothing');
    assert.equal(await page.locator('.strip [data-differs]').count(), 0);

    // Without its consent.
    await choose(page, 'route', 'routes/quintra-dorsa.toml');
    await choose(page, 'train', 'trains/t25-ore.toml');
    await other.selectOption('no consents');
    await beside.getByText(/^They differ on/).waitFor();
    await beside.getByRole('row').filter({ hasText: 'consent needed' }).first().getByRole('button').click();
    await sides.nth(1).getByText('consent needed').waitFor();
    assert.equal(await sides.nth(0).getByText('consent needed').count(), 0);

    // One that was handed out earlier, while a pantograph was defective.
    await other.selectOption('nothing');
    await choose(page, 'train', 'trains/t11-limestone-double.toml');
    await choose(page, 'route', 'routes/harl-tarnholt.toml');
    const file = path.join(library, 'issued.json');
    const planOf = (train) => execFileSync(process.env.PANUP, ['plan', '--train', path.join(library, 'trains', train), '--route', path.join(library, 'routes/harl-tarnholt.toml'), '--rules', path.join(library, 'rules/nordvale-freight.toml'), '--format', 'json']);
    const now = readFileSync(path.join(library, 'trains/t11-limestone-double.toml'), 'utf8');
    writeFileSync(path.join(library, 'trains/as-it-was.toml'), now.replace('leading_cab = 1', 'leading_cab = 1\ndefective_pantographs = [1]'));
    writeFileSync(file, planOf('as-it-was.toml'));
    await beside.getByLabel('one handed out earlier (JSON)').setInputFiles(file);
    await beside.getByText(/^They differ on/).waitFor();
    assert.match(await sides.nth(1).textContent(), /^issued\.json/);
    writeFileSync(file, planOf('t11-limestone-double.toml'));
    await beside.getByLabel('one handed out earlier (JSON)').setInputFiles([]);
    await beside.getByLabel('one handed out earlier (JSON)').setInputFiles(file);
    await beside.getByText('Both say the same, at every place.').waitFor();
    // Of another train it is not set beside this one, and a text that is no plan is refused.
    await choose(page, 'train', 'trains/t01-containers.toml');
    await beside.getByText(/is of another route, or its vehicles stand otherwise/).waitFor();
    await settled(page);
    writeFileSync(file, '{}');
    await beside.getByLabel('one handed out earlier (JSON)').setInputFiles([]);
    await beside.getByLabel('one handed out earlier (JSON)').setInputFiles(file);
    await beside.getByText('issued.json is no plan.').waitFor();
  },
  { context: { viewport: { width: 1440, height: 1000 } } },
);
