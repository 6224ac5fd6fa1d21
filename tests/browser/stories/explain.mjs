// For trainees: large type, no controls, along the route by arrow keys, on a projector and on paper.
import assert from 'node:assert/strict';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { choose, open, part } from '../user.mjs';

await story(
  'explain',
  async ({ page, address, picture }) => {
    await open(page, address);
    await choose(page, 'train', 'trains/t12-petrol-double.toml');
    await part(page, 'Explain');
    const view = page.getByRole('region', { name: 'The train along its route, for explaining' });
    const current = view.locator('article.current');
    await current.waitFor();
    const first = await current.textContent();
    assert.match(first ?? '', /the front one of/);
    assert.match(first ?? '', /Invented data/);
    assert.match(first ?? '', /does not replace/);
    assert.equal(await view.getByRole('button').count(), 0, 'there are controls');
    const size = await current.locator('.lead').evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
    assert.ok(size >= 24, `type of ${size} px`);
    // All of a step is on the screen of a projector.
    const over = await view.evaluate((one) => one.scrollHeight - one.clientHeight);
    assert.ok(over <= 0, `${over} px do not fit`);
    await picture(page, 'explain', { fullPage: false });

    // The train runs to the left, as in all its drawings, and the arrow keys with it.
    await page.keyboard.press('ArrowLeft');
    assert.notEqual(await current.textContent(), first);
    await picture(page, 'explain-2', { fullPage: false });
    await page.keyboard.press('End');
    const last = await current.textContent();
    await page.keyboard.press('ArrowLeft');
    assert.equal(await current.textContent(), last, 'it ran past the end of the route');
    await page.keyboard.press('Home');
    assert.equal(await current.textContent(), first);

    const steps = await view.locator('article').count();
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    mkdirSync(process.env.PANUP_PICTURES, { recursive: true });
    writeFileSync(path.join(process.env.PANUP_PICTURES, 'explain.pdf'), pdf);
    const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    assert.equal(sheets, steps, 'a sheet for each step');

    await page.keyboard.press('Escape');
    await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  },
  { context: { viewport: { width: 1280, height: 720 } } },
);
