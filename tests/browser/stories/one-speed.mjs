// One speed and one reason at a place: the large figure, the strip, the orders and the view for trainees
// tell the same, for every train of the demo and every run, and it is what the orders of the plan tell a
// driver there. What is expected is read from the plan by this story's own rule: the last order of speed
// holds; where nothing is permitted, and beyond a stop, the train has no speed.
import assert from 'node:assert/strict';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { sparing, story } from '../story.mjs';
import { open, part, settled } from '../user.mjs';

const names = (library, kind) => readdirSync(path.join(library, kind)).filter((name) => name.endsWith('.toml')).sort().map((name) => `${kind}/${name}`);

// With PANUP_SPARING one train in three is walked, and those that are named here: a stop that the train does
// not get beyond, a consent.
const always = /\/t(10|25)-/;

/** Routes, and the trains that are walked on each: on the longest, some that its orders stop half way. */
const ways = [
  ['routes/harl-port-selmo.toml', /t(01|10|19|29|30|34|35)/],
  ['routes/harl-varn.toml', /t2[01]/],
  ['routes/tarnholt-sollin.toml', /t22/],
  ['routes/mosk-kerrow.toml', /t(08|09|18|32|33)/],
  ['routes/harl-tarnholt.toml', /\/t(?!2[56])/],
  ['routes/quintra-dorsa.toml', /./],
];

/** Where a plan changes, and just before. */
function placesOf({ sections, instructions }) {
  const changes = [...sections.map((one) => one.from_km), ...instructions.filter((one) => one.action === 'speed').map((one) => one.at_km)];
  const [first, last] = [sections[0].from_km, sections.at(-1).to_km];
  const all = changes.flatMap((km) => [km - 0.001, km]);
  return [...new Set(all)].filter((km) => km >= first && km < last).sort((a, b) => a - b);
}

function expected({ sections, instructions }, km) {
  const section = sections.filter((one) => one.from_km <= km + 1e-9).at(-1);
  if (section.answer === 'no permitted configuration') return { figure: '–', reason: /the train may not run/ };
  const order = instructions.filter((one) => one.action === 'speed' && one.at_km <= km + 1e-9).at(-1);
  if (order.speed_kmh === 0) return { figure: '–', reason: /^The train does not come here: it has to stop at km/ };
  assert.equal(order.speed_kmh, section.speed_kmh, `km ${km}: ordered and planned`);
  if (Math.abs(order.at_km - km) < 1e-6) assert.ok(order.text.includes(section.speed_reason.replace(/, until the whole.*/, '')), order.text);
  return { figure: String(order.speed_kmh), reason: section.speed_reason };
}

/** What the page says with the front of the train at each place. */
const said = (page, kms) =>
  page.evaluate(async (places) => {
    const text = (selector) => document.querySelector(selector)?.textContent.trim() ?? '';
    const slider = document.querySelector('.strip input[type=range]');
    const told = [];
    for (const km of places) {
      slider.value = String(km);
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise((done) => setTimeout(done));
      told.push({
        here: [text('.here .speed strong'), document.querySelector('.here .reason').firstChild.textContent.trim()],
        orders: [text('.holds strong').replace(' km/h', ''), text('.holds span')],
        strip: [text('.strip text.now'), slider.getAttribute('aria-valuetext')],
      });
    }
    return told;
  }, kms);

/** The height of the line of the planned speed in the strip above the place; null: there is none. */
const drawn = (page, share) =>
  page.evaluate((shares) => {
    const d = document.querySelector('.strip .field path.planned').getAttribute('d') ?? '';
    const width = document.querySelector('.strip .field').clientWidth;
    const steps = [...d.matchAll(/[ML]([\d.]+) ([\d.]+)L([\d.]+) [\d.]+/g)].map((m) => m.slice(1).map(Number));
    // The train runs to the left.
    return shares.map((one) => steps.find(([from, , to]) => to <= (1 - one) * width && (1 - one) * width < from)?.[1] ?? null);
  }, share);

await story('one speed', async ({ page, address, library, picture, expected: belongs }) => {
  // A train file that names a consent of one route cannot be planned on another.
  belongs.push(/422/);
  await open(page, address);
  let places = 0;

  async function walk(plan, what) {
    const kms = placesOf(plan);
    const told = await said(page, kms);
    const agrees = (one, [figure, reason], where) => {
      assert.equal(figure, one.figure, where);
      if (one.reason instanceof RegExp) assert.match(reason, one.reason, where);
      else assert.equal(reason, one.reason, where);
    };
    kms.forEach((km, i) => {
      const where = `${what}, km ${km}`;
      const one = expected(plan, km);
      agrees(one, told[i].here, `${where}: the large figure`);
      agrees(one, told[i].orders, `${where}: the orders`);
      assert.equal(told[i].strip[0], one.figure, `${where}: the strip`);
      assert.ok(told[i].strip[1].includes(`, ${one.figure} km/h: ${told[i].here[1]}`), `${where}: the strip says ${told[i].strip[1]}`);
    });
    // The line of the strip is as high as the speed is, and broken where there is none.
    const [first, last] = [plan.sections[0].from_km, plan.sections.at(-1).to_km];
    const middles = plan.sections.map((one) => (one.from_km + one.to_km) / 2);
    const heights = await drawn(page, middles.map((km) => (km - first) / (last - first)));
    const of_speed = new Map();
    middles.forEach((km, i) => {
      const { figure } = expected(plan, km);
      assert.equal(heights[i] === null, figure === '–', `${what}, km ${km}: the line of the strip`);
      assert.equal(of_speed.get(figure) ?? heights[i], heights[i], `${what}, km ${km}: the line of the strip at ${figure} km/h`);
      of_speed.set(figure, heights[i]);
    });
    assert.equal(new Set(of_speed.values()).size, of_speed.size, `${what}: two speeds are drawn as one`);

    // The headline is that of the whole run.
    const headline = (await page.locator('header [role=status] .big').textContent()) ?? '';
    const { answer, last_resort_accepted } = plan;
    if (!/, part \d/.test(what)) assert.ok(headline.startsWith(answer), `${what}: ${headline}`);
    if (!/, part \d/.test(what)) assert.equal(headline.includes('last resort accepted'), last_resort_accepted && answer !== 'no permitted configuration', `${what}: ${headline}`);
    assert.equal(/with consent CR-0417/.test(headline), /t25/.test(what), `${what}: ${headline}`);

    await part(page, 'Explain');
    const steps = await page.locator('article .speed').evaluateAll((all) => all.map((one) => [one.querySelector('.figure').firstChild.textContent.trim(), one.querySelector('.reason').textContent]));
    assert.equal(steps.length, plan.sections.length, what);
    plan.sections.forEach((section, i) => {
      const one = expected(plan, section.from_km);
      const figure = steps[i][0] === 'may not run' ? '–' : steps[i][0];
      // The place that the train stands at is told as it is there.
      if (i < plan.sections.length - 1) agrees(one, [figure, steps[i][1]], `${what}, km ${section.from_km}: explained`);
    });
    await page.keyboard.press('Escape');
    places += kms.length + steps.length;
  }

  async function planned(kind, name) {
    const [response] = await Promise.all([page.waitForResponse((one) => one.url().endsWith('/api/plan')), page.locator(`select.${kind}`).selectOption(name)]);
    await settled(page);
    assert.equal(response.status(), 200, name);
    return response.json();
  }

  const trains = names(library, 'trains').filter((one, i) => !sparing || i % 3 === 0 || always.test(one));
  const taken = new Set();
  for (const [route, which] of ways) {
    for (const train of trains.filter((one) => which.test(one) && !taken.has(one))) {
      taken.add(train);
      const on_route = (await page.locator('select.route').inputValue()) === route;
      if (!on_route) await planned('route', route);
      await walk((await planned('train', train)).plan, `${train} on ${route}`);
      if (/t10/.test(train)) await picture(page, 'one-speed-beyond-a-stop', { fullPage: false });
    }
  }
  // Where consent is needed on an iced stretch, its words are clear of the marks of ice.
  await page.locator('select.conditions').selectOption('conditions/hard-frost.toml');
  await settled(page);
  const box = async (one) => {
    const { x, y, width, height } = await page.locator(`.strip .field ${one}`).first().boundingBox();
    return { left: x, right: x + width, top: y, bottom: y + height };
  };
  const [consent, ice] = [await box('text.consent'), await box('path.ice')];
  assert.ok(ice.left < consent.right && consent.left < ice.right, 'they do not stand one above the other');
  assert.ok(ice.bottom + 2.5 <= consent.top, `ice down to ${ice.bottom + 2.5}, consent from ${consent.top}`);
  await picture(page, 'one-speed-iced-and-consent', { fullPage: false });
  await page.locator('select.conditions').selectOption('');
  await settled(page);

  for (const run of names(library, 'runs')) {
    const { parts } = await planned('route', run);
    for (const [i, { plan }] of parts.entries()) {
      if (i > 0) await page.keyboard.press('Alt+PageDown');
      await walk(plan, `${run}, part ${i + 1}`);
    }
  }
  console.log(`${places} places`);
  assert.ok(places > (sparing ? 300 : 1000));
});
