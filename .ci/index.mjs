// Tries an index with its units multiplied to ten thousand, as one who looks for
// a unit does: opens it, searches without accents, sorts, narrows it by state,
// with a script; without one as it is. Complains of a wrong list, and prints how long each
// took: what is slow hangs on the machine too, so nobody fails by it.
// Usage: node index.mjs INDEX.html
import { readFileSync, writeFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';

const { chromium } = createRequire(import.meta.url)('playwright-core');
const units = 10000;
const page0 = readFileSync(process.argv[2], 'utf8');
const first = page0.indexOf('<tbody>\n') + '<tbody>\n'.length, last = page0.lastIndexOf('</tbody>');
const rows = page0.slice(first, last).split('\n').filter(row => row.startsWith('<tr'));
const many = Array.from({ length: units }, (_, i) => {
  const row = rows[i % rows.length], serial = />([^<>]+)<\/a><small>/.exec(row)?.[1] ?? '-';
  return row.replaceAll(serial, 'N-' + String(units - i).padStart(5, '0')) + (i % 50 === 49 ? '\n</tbody>\n<tbody>' : '');
});
const folder = mkdtempSync(join(tmpdir(), 'index-'));
const file = join(folder, 'index.html');
writeFileSync(file, page0.slice(0, first) + many.join('\n') + '\n' + page0.slice(last));

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'] });
let complaints = 0;
const complain = what => { complaints++; console.log(`index: ${what}`); };
async function timed(what, page, act) {
  const began = Date.now();
  await act();
  await page.screenshot(); // it waits until all is painted
  console.log(`index of ${units} units: ${what} ${Date.now() - began} ms`);
}
const open = async how => {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, offline: true })).newPage();
  page.setDefaultTimeout(60000);
  await timed(`open ${how} a script`, page, () => page.goto(pathToFileURL(file).href));
  return page;
};
// Counts rows that are shown, in one go: asked one by one, ten thousand take minutes.
const seen = (page, which = 'tr') => page.evaluate(which => [...document.querySelectorAll('tbody ' + which)]
  .filter(row => getComputedStyle(row).display !== 'none' && getComputedStyle(row.parentElement).display !== 'none').length, which);

const page = await open('with');
const count = () => page.locator('#count').textContent();
const wanted = rows.filter(row => /Søren Håkonsen/.test(row)).length;
await timed('search', page, async () => { await page.fill('#words', 'soren hakonsen'); await page.waitForTimeout(100); });
if (wanted && (await count() === `0 of ${units} units` || !/Søren/.test(await page.locator('tbody tr').first().textContent()))) complain(`the search shows ${await count()}`);
await timed('search for what is not there', page, async () => { await page.fill('#words', 'xyzzy'); await page.waitForTimeout(100); });
if (await seen(page) !== 0) complain('the search finds what is not there');
await timed('end of the search', page, async () => { await page.fill('#words', ''); await page.waitForTimeout(100); });
await timed('sort', page, () => page.click('thead button >> nth=0'));
await timed('sort again', page, () => page.click('thead button >> nth=0'));
const serials = await page.locator('tbody th a').allTextContents();
const up = await page.locator('thead th').first().getAttribute('aria-sort') === 'ascending';
if (serials.some((s, i) => i > 0 && (s < serials[i - 1]) === up)) complain('it is not in order');
await timed('state', page, () => page.click('label:has(#show-waiting)'));
if (await seen(page, 'tr.given') > 0) complain('what was delivered shows among what was not');

// Without its script the page is tried with the units it has: asking which of ten
// thousand rows are shown makes the browser lay each out, for minutes.
writeFileSync(file, page0.replace(/<script>[^]*?<\/script>/g, ''));
const plain = await open('of the units it has, without');
if (await seen(plain) < rows.length / 2) complain('without a script units are missing');
for (const state of (await plain.locator('[name=show]').evaluateAll(all => all.map(r => r.id.slice(5)))).slice(1)) {
  await plain.click(`label:has(#show-${state})`);
  if (await seen(plain, `tr:not(.${state})`) > 0 || await seen(plain, `tr.${state}`) !== await plain.locator(`tbody tr.${state}`).count()) complain(`without a script "${state}" shows other units`);
}
await browser.close();
rmSync(folder, { recursive: true });
console.log(`${complaints} complaints`);
process.exit(complaints > 0 ? 1 : 0);
