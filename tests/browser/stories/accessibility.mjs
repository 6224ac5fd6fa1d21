// What axe finds on each part of the page, on white and on night paper, wide and narrow: nothing.
// With PANUP_SPARING, axe looks only where something may differ: night paper changes colours alone, and
// at 820 px only the width is looked at.
import assert from 'node:assert/strict';
import { faults } from '../axe.mjs';
import { sparing, story } from '../story.mjs';
import { open, part, settled } from '../user.mjs';

/** What axe is asked in a view; nothing if all rules. */
const asked = (colorScheme) => (sparing && colorScheme === 'dark' ? { type: 'rule', values: ['color-contrast'] } : undefined);

await story('accessibility', async (world) => {
  const all = [];
  for (const colorScheme of ['light', 'dark']) {
    for (const width of [1280, 820, 390]) {
      if (sparing && colorScheme === 'dark' && width !== 1280) continue;
      const found = async () => (sparing && width === 820 ? [] : await faults(page, asked(colorScheme)));
      const page = await (await world.context({ colorScheme, viewport: { width, height: 900 } })).newPage();
      await open(page, world.address);
      for (const name of width === 390 ? ['Day'] : ['Plan', 'Wire', 'Files', 'Day', 'Explain']) {
        await part(page, name);
        if (name === 'Day') {
          await page.getByLabel('What if').selectOption('days/what-if/ice-warning.toml');
          await page.getByText(/trains change/).waitFor({ timeout: 60_000 });
        } else {
          await settled(page).catch(() => undefined);
        }
        if (name === 'Wire') {
          await page.getByRole('button', { name: 'Simulate', exact: true }).click();
          await page.getByRole('heading', { name: 'Contact force' }).waitFor({ timeout: 90_000 });
          await page.getByText(/criterion in force is met/).waitFor({ timeout: 90_000 });
        }
        all.push(...(await found()).map((fault) => `${name}, ${colorScheme}, ${width}: ${fault}`));
        const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        if (beyond > 0) all.push(`${name}, ${colorScheme}, ${width}: ${beyond} px wider than the window`);
        await world.picture(page, `${name.toLowerCase()}-${colorScheme}-${width}`);
        if (name === 'Day') {
          await page.getByRole('grid').locator('[data-number]').first().getByRole('gridcell').first().click();
          await page.getByRole('region', { name: 'The train in its day' }).waitFor();
          await settled(page);
          all.push(...(await found()).map((fault) => `a train of the day, ${colorScheme}, ${width}: ${fault}`));
        }
      }
      await page.context().close();
    }
  }
  assert.deepEqual(all, []);
});
