// Opens pages in a real browser without a network, as a phone and as a desktop,
// light and dark: axe-core finds nothing against WCAG 2.2 AA, nothing is asked
// from outside, nothing breaks the page's own policy, and nothing is wider than
// the screen: not on the narrowest phone, not magnified four times, not with letters
// twice as large, not in colors of the reader's own. No text in a drawing is under 12
// pixels on a phone, and the engineer's calculations print on 25 pages at most.
// Guides are photographed for whoever looks at the artefacts.
// Usage: node pages.mjs ARTEFACTS PAGE…
import { readFileSync, mkdirSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const { chromium } = require('playwright-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const screens = [{ width: 360, height: 740 }, { width: 1280, height: 900 }];
const strains = [ // beside the screens
  { name: 'narrow', viewport: { width: 320, height: 568 } },
  { name: 'four times', viewport: { width: 320, height: 256 } },
  { name: 'large letters', viewport: { width: 360, height: 740 }, letters: '200%' },
  { name: 'own colors', viewport: { width: 360, height: 740 }, forcedColors: 'active' },
  { name: 'between', viewport: { width: 500, height: 740 } },
  { name: 'wide', viewport: { width: 1440, height: 900 } },
];
const mostPages = 25;
const [artefacts, ...pages] = process.argv.slice(2);

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'] });
let complaints = 0;
const complain = (where, what) => { complaints++; console.log(`${where}: ${what}`); };

// look opens a page as people do, with its policy in force.
async function look(file, viewport, colorScheme, more = {}) {
  const where = `${file} ${viewport.width} ${colorScheme}`;
  const context = await browser.newContext({ viewport, colorScheme, offline: true, ...more });
  const page = await context.newPage();
  page.on('request', r => { if (!/^(file|data):/.test(r.url())) complain(where, `asks for ${r.url()}`); });
  page.on('console', m => { if (m.type() === 'error') complain(where, m.text()); });
  page.on('pageerror', e => complain(where, e.message));
  await page.goto(pathToFileURL(resolve(file)).href);
  const unread = await page.evaluate(() => document.fonts.ready.then(() => [...document.fonts].filter(f => f.status === 'error').length));
  if (unread) complain(where, `${unread} of the page's faces cannot be read`);
  return { context, page, where };
}

async function wide(page, where) {
  const [has, shows] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
  if (has > shows) complain(where, `the page is ${has} wide and the screen ${shows}`);
}

// strain opens a page as it is hardest to lay out, everything unfolded.
async function strain(file, { name, viewport, letters, forcedColors }) {
  const { context, page } = await look(file, viewport, 'light', forcedColors ? { forcedColors } : {});
  const where = `${file} ${name}`;
  await page.evaluate(size => {
    for (const d of document.querySelectorAll('details')) d.open = true;
    if (size) document.documentElement.style.fontSize = size;
  }, letters);
  await wide(page, where);
  const faults = await page.evaluate(() => {
    const out = [];
    for (const svg of document.querySelectorAll('figure svg')) {
      const box = svg.getBoundingClientRect(), id = svg.closest('figure').id;
      if (box.width === 0) continue;
      if (box.left < 0 || box.right > innerWidth) out.push(`${id} reaches from ${box.left} to ${box.right}`);
      const scale = box.width / svg.viewBox.baseVal.width;
      for (const label of svg.querySelectorAll('text')) {
        const size = label.getAttribute('font-size') * scale;
        if (size < 11.95) { out.push(`${id}: "${label.textContent}" is ${size.toFixed(1)} pixels high`); break; }
      }
    }
    for (const shape of document.querySelectorAll('svg [fill]:not([fill=none])')) if (getComputedStyle(shape).fill === 'none') { out.push('a filled shape of a logo or picture is drawn empty'); break; }
    return out;
  });
  for (const fault of faults) complain(where, fault);
  if (forcedColors) { // a tick, a box and a drawing must not vanish into the ground
    const lost = await page.evaluate(() => {
      const ground = getComputedStyle(document.body).backgroundColor, out = [];
      for (const line of document.querySelectorAll('figure .s-full')) if (getComputedStyle(line).stroke === ground) out.push('a line of a drawing');
      for (const box of document.querySelectorAll('input[type=checkbox]')) if (getComputedStyle(box).appearance === 'none') out.push('a box to tick');
      return [...new Set(out)];
    });
    for (const what of lost) complain(where, `${what} cannot be seen`);
  }
  await context.close();
}

// count prints a page and counts the leaves.
async function count(file, most) {
  const { context, page, where } = await look(file, screens[1], 'light');
  const paper = await page.pdf({ format: 'Letter' });
  const leaves = paper.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
  if (leaves === 0 || leaves > most) complain(where, `prints on ${leaves} pages; at most ${most} are wanted`);
  await context.close();
}

// judge asks axe; its script is not the page's, so the policy is lifted for it.
async function judge(file, viewport, colorScheme) {
  const where = `${file} ${viewport.width} ${colorScheme}`;
  const context = await browser.newContext({ viewport, colorScheme, offline: true, bypassCSP: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(resolve(file)).href);
  await page.evaluate(() => { for (const d of document.querySelectorAll('details')) d.open = true; });
  // What lies under the bar at first is reached by scrolling: the bar is judged in its place in the text.
  await page.evaluate(() => { for (const e of document.body.querySelectorAll('*')) if (/fixed|sticky/.test(getComputedStyle(e).position)) e.style.position = 'static'; });
  await page.evaluate(axe);
  const { violations, passes } = await page.evaluate(only => axe.run(document, { runOnly: only }), rules);
  if (passes.length < 5) complain(where, `axe checked only ${passes.length} rules`);
  for (const v of violations) complain(where, `${v.id} (${v.impact}, ${v.nodes.length} times): ${v.nodes[0].html.slice(0, 160)}`);
  await context.close();
}

async function photograph(page, file, viewport, colorScheme) {
  const unit = basename(dirname(file));
  mkdirSync(artefacts, { recursive: true });
  for (const [name, selector] of [['cover', 'section.cover'], ['schedule', '#schedule'], ['caution', '.panel.danger, .panel.warning']]) {
    const found = page.locator(selector).first();
    if (await found.count() === 0) { complain(file, `nothing fits ${selector}`); continue; }
    await found.scrollIntoViewIfNeeded();
    await page.screenshot({ path: join(artefacts, `${unit}-${name}-${viewport.width}-${colorScheme}.png`) });
  }
}

// axe takes longest. It sees each screen and each scheme of a page in two of the four ways they
// go together, and the other two of the next page: what differs is the unit.
const turn = [...pages.join()].reduce((sum, letter) => sum + letter.charCodeAt(0), 0);
for (const [i, file] of pages.entries()) for (const [s, colorScheme] of ['light', 'dark'].entries()) for (const [v, viewport] of screens.entries()) {
  const { context, page, where } = await look(file, viewport, colorScheme);
  await wide(page, where);
  if (basename(file) === 'guide.html') await photograph(page, file, viewport, colorScheme);
  await context.close();
  if ((turn + i + s + v) % 2 === 0) await judge(file, viewport, colorScheme);
}
for (const file of pages) {
  for (const s of strains) await strain(file, s);
  if (basename(file) === 'calculations.html') await count(file, mostPages);
}
await browser.close();
console.log(`${pages.length} pages looked at, ${complaints} complaints`);
process.exit(complaints > 0 ? 1 : 0);
