// For trainees: large type, along the route by keys, by hand and by itself, on a projector, on a phone and on
// paper.
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

    // By mouse or finger, and by itself as far as the route goes.
    await view.getByRole('button', { name: '◀ On' }).click();
    assert.notEqual(await current.textContent(), first);
    await view.getByRole('button', { name: 'Before ▶' }).click();
    assert.equal(await current.textContent(), first);
    await view.getByLabel('a step takes').selectOption('3 s');
    await view.getByRole('button', { name: 'Run by itself' }).click();
    await page.waitForFunction((text) => document.querySelector('article.current')?.textContent !== text, first, { timeout: 6000 });
    await view.getByRole('button', { name: 'Halt' }).click();
    await page.keyboard.press('Home');

    // Each step says why its rules are there, and is whole on a projector and on a phone.
    const steps = await view.locator('article').count();
    for (const [width, height] of [[1280, 720], [820, 1180], [390, 844]]) {
      await page.setViewportSize({ width, height });
      await page.keyboard.press('Home');
      for (let step = 1; step <= steps; ++step) {
        // A window of another size is laid out a moment later.
        const whole = await page
          .waitForFunction(() => {
            const one = document.querySelector('.explain');
            return one.scrollHeight <= one.clientHeight && one.scrollWidth <= one.clientWidth;
          }, null, { timeout: 5000 })
          .then(() => true, () => false);
        assert.ok(whole, `step ${step} is not whole at ${width} px`);
        assert.match(await current.textContent(), /Why this rule: /);
        if (width === 390 && step === 1) {
          const [figure, unit] = await Promise.all([current.locator('.figure').boundingBox(), current.locator('.figure span').boundingBox()]);
          assert.ok(unit.x + unit.width <= figure.x + figure.width && figure.x + figure.width <= 390, 'the unit runs out of its column');
          await picture(page, 'explain-390', { fullPage: false });
        }
        await page.keyboard.press('ArrowLeft');
      }
    }
    await page.setViewportSize({ width: 1280, height: 720 });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    mkdirSync(process.env.PANUP_PICTURES, { recursive: true });
    writeFileSync(path.join(process.env.PANUP_PICTURES, 'explain.pdf'), pdf);
    const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    assert.equal(sheets, steps, 'a sheet for each step');

    await page.keyboard.press('Escape');
    await page.getByRole('slider', { name: /Chainage/ }).waitFor();
    await part(page, 'Explain');
    await view.getByRole('button', { name: 'Back to the plan' }).click();
    await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  },
  { context: { viewport: { width: 1280, height: 720 } } },
);
