// In German, all of it: nothing of the page's own English is left, nor of what the engine says.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { open, part, settled } from '../user.mjs';

await story(
  'german',
  async ({ page, address, picture }) => {
    await open(page, address);
    assert.equal(await page.locator('html').getAttribute('lang'), 'de');
    await settled(page);
    // Orders and reasons of the engine, and its pictures.
    const plan = await page.locator('body').innerText();
    assert.match(plan, /Stromabnehmer \d+\.\d+( und \d+\.\d+)* heben/);
    assert.match(plan, /Hauptschalter ein/);
    for (const english of ['Raise ', 'Breaker on', 'km/h from here', 'Line speed', 'Highest speed of', 'Nobody goes']) {
      assert.ok(!plan.includes(english), `“${english}” of the engine`);
    }
    for (const name of ['Plan', 'Tag', 'Fahrdraht', 'Dateien']) {
      await part(page, name);
      if (name === 'Tag') {
        await page.getByLabel('Was wäre, wenn').selectOption('days/what-if/ice-warning.toml');
        await page.getByText(/Züge ändern sich/).waitFor({ timeout: 60_000 });
        // Why a train needs a decision is said by the engine.
        await page.getByText(/Keine zulässige Stellung der Stromabnehmer auf km/).first().waitFor();
        const day = await page.locator('body').innerText();
        for (const english of ['No permitted configuration', 'infrastructure manager', 'Line speed', 'is not built for']) {
          assert.ok(!day.includes(english), `“${english}” of the engine in the day`);
        }
      } else {
        await settled(page);
      }
      const text = await page.locator('body').innerText();
      // Words of the page that have no business in a German text.
      for (const english of ['Why not', 'Speed', 'Contact line', 'Undo', 'Driver', 'Save as', 'Rule books', 'Wire', 'Cautions', 'Search', 'Decision', 'Departs', 'What if', 'changed only', 'Look again', 'Open the train']) {
        assert.ok(!text.includes(english), `“${english}” in ${name}`);
      }
      await picture(page, `german-${name.toLowerCase()}`);
    }
    await part(page, 'Fahrdraht');
    await page.getByRole('button', { name: 'Simulieren', exact: true }).click();
    await page.getByRole('heading', { name: 'Kontaktkraft' }).waitFor({ timeout: 90_000 });
    // Figures as German writes them.
    const mean = await page.getByRole('row', { name: /^mittlere Kontaktkraft/ }).getByRole('cell').first().textContent();
    assert.match(mean ?? '', /^\d+,\d$/);
    await picture(page, 'german-lauf');
    await page.getByRole('combobox', { name: 'Sprache' }).selectOption('en');
    await page.getByRole('heading', { name: 'Contact force' }).waitFor();
    // The plan is asked for anew in the language that was chosen.
    await part(page, 'Plan');
    await page.getByText(/Raise \d+\.\d+/).first().waitFor();
  },
  { context: { locale: 'de-DE' } },
);
