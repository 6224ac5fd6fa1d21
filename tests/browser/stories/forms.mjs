// Ice is said by hand and the plan runs slower, at once; what is wrong stands at its field; what is saved has its comments,
// a train that was changed by dragging too.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { choose, here, open, part, settled } from '../user.mjs';

const said = `# A quiet day at Harl.
kind = "conditions"
name = "Quiet"   # as it is called
invented = true
wind_ms = 3      # from the mast
`;

await story('forms', async (world) => {
  const { page, address, library, picture } = world;
  const file = path.join(library, 'conditions/quiet.toml');
  writeFileSync(file, said);
  await open(page, address);
  await choose(page, 'conditions', 'conditions/quiet.toml');
  const before = await here(page);
  const by_hand = page.getByRole('region', { name: 'By hand' });
  await by_hand.getByRole('button', { name: 'Conditions by hand' }).click();

  // Ice where the train is: an iced wire has its own speed.
  const ice = by_hand.getByRole('combobox', { name: 'ice on the contact wire' });
  const said_of_ice = async (value) => page.waitForFunction(([one, wanted]) => one.value === wanted, [await ice.elementHandle(), value]);
  await by_hand.getByRole('button', { name: /^Ice here/ }).click();
  await said_of_ice('[]');
  const iced = await here(page);
  assert.ok(iced.speed < before.speed, `${iced.speed} km/h on ice, ${before.speed} before`);
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.deepEqual(await here(page), before);
  await said_of_ice('');
  await ice.selectOption('everywhere');
  assert.ok((await here(page)).speed < before.speed);

  // What is wrong stands at its field, and the plan stays what it was.
  const wind = by_hand.getByRole('textbox', { name: 'wind' });
  await wind.fill('170');
  await wind.press('Tab');
  const wrong = by_hand.getByText(/expected a value from 0 to 80/);
  await wrong.waitFor();
  assert.equal(await wind.getAttribute('aria-invalid'), 'true');
  assert.match((await wind.evaluate((one) => (one.getAttribute('aria-describedby') ?? '').split(' ').map((id) => document.getElementById(id)?.textContent).join(' '))), /from 0 to 80/);
  assert.equal(await by_hand.getByRole('button', { name: 'Save in the library' }).isDisabled(), true);
  assert.deepEqual(await faults(page), []);
  await picture(page, 'forms-wrong');
  await wind.fill('12,5');
  await wind.press('Enter');
  await wrong.waitFor({ state: 'detached' });
  await settled(page);
  await by_hand.getByRole('button', { name: 'Save in the library' }).click();
  await by_hand.getByText('Saved as conditions/quiet.toml').waitFor();
  assert.equal(readFileSync(file, 'utf8'), said.replace('wind_ms = 3      #', 'wind_ms = 12.5   #') + 'ice = "everywhere"\n');

  // A defect met on the road counts at once.
  await by_hand.getByRole('button', { name: 'Defect met on the road' }).click();
  await by_hand.getByRole('button', { name: /^Add: .*Pantograph 1\.2/ }).click();
  await by_hand.getByText('It counts: the pantograph stays down in this plan.').waitFor();
  await by_hand.getByLabel('what is still possible').fill('at a stand');
  await by_hand.getByLabel('what is still possible').press('Tab');
  await settled(page);
  assert.ok(!(await here(page)).raised.includes('1.2'));
  await page.setViewportSize({ width: 390, height: 844 });
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing is cut off on a phone');
  assert.deepEqual(await faults(page), []);
  await picture(page, 'forms-on-a-phone');
  await page.setViewportSize({ width: 1280, height: 800 });

  // A vehicle class in its file.
  await part(page, 'Files');
  const others = page.getByRole('region', { name: 'Vehicles, pantographs, contact lines' });
  await others.getByRole('combobox', { name: 'File to change' }).selectOption('lines/nv-140.toml');
  const height = others.getByRole('textbox', { name: 'height of the contact wire' });
  await height.waitFor();
  const line = path.join(library, 'lines/nv-140.toml');
  const lines = readFileSync(line, 'utf8').split('\n');
  await height.fill('5.4');
  await height.press('Tab');
  await others.getByText('not saved', { exact: true }).waitFor();
  await others.getByRole('button', { name: 'Save in the library' }).click();
  await others.getByText('Saved as lines/nv-140.toml').waitFor();
  const now = readFileSync(line, 'utf8').split('\n').filter((one) => !lines.includes(one));
  assert.equal(now.length, 1, 'one line is another one');
  assert.match(now[0], /^contact_wire_height_m = 5\.4/);
  assert.deepEqual(await faults(page), []);
  await picture(page, 'forms-line');

  // So it is in the drawing: a locomotive that is dragged to the front takes along what is noted at it.
  const train = path.join(library, 'trains/t11-limestone-double.toml');
  const noted = readFileSync(train, 'utf8').replace('[[consist]]\nvehicle = "k41"\nid = "K41 021"', '# Lent by Orrendal.\n[[consist]]\nvehicle = "k41"\nid = "K41 021"   # the newer one');
  assert.match(noted, /# Lent by Orrendal/);
  writeFileSync(train, noted);
  await choose(page, 'conditions', '');
  await choose(page, 'train', 'trains/t11-limestone-double.toml');
  await part(page, 'Plan');
  await settled(page);
  const board = page.locator('#train .board');
  const middle = async (name) => {
    const box = await board.getByRole('button', { name, exact: true }).boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  const [from, to] = [await middle('vehicle 2, K41 021'), await middle('vehicle 1, K41 020')];
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move(to[0] - 60, to[1], { steps: 6 });
  await page.mouse.up();
  await board.getByRole('button', { name: 'vehicle 1, K41 021', exact: true }).waitFor();
  await settled(page);
  await part(page, 'Files');
  await picture(page, 'forms-dragged');
  await page.getByRole('button', { name: 'Save to the library', exact: true }).click();
  await page.getByText('Saved as trains/t11-limestone-double.toml.').waitFor();
  const [head, first, second, load] = noted.split(/(?=^\[\[consist\]\]|^# Lent)/m).reduce((all, one) => (all.at(-1)?.startsWith('# Lent') && !all.at(-1).includes('[[') ? [...all.slice(0, -1), all.at(-1) + one] : [...all, one]), []);
  assert.equal(readFileSync(train, 'utf8'), head + second + first + load);
});
