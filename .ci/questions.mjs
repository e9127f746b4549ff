// Asks guides 40 everyday questions as an owner would, on a phone of 360 by 740,
// without a network: look at the first screen, tap what the question names, or
// type a word or two and tap the line that fits. The answer must stand on the
// screen, or one swipe below, after three taps at most; the search field is one. A question
// whose subject a unit does not have is not asked of it, and is counted apart.
// Prints for each question its taps and swipes by guide: "1+1" is a tap and a swipe.
// Usage: node questions.mjs GUIDE.html…
import { resolve, basename, dirname } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';

const { chromium } = createRequire(import.meta.url)('playwright-core');
const most = 3;

// has: what the guide must speak of for the question to make sense. route: words
// of the links one taps. type: what one types; pick: the line one chooses.
const questions = [
  { ask: 'What pressure?', answer: /\d+ psi/, route: [] },
  { ask: 'What torque for the nuts?', answer: /\d+ lb-ft/, route: [] },
  { ask: 'What is the next job, and when?', answer: /Next job\s+(\w{3} \d+, \d{4}|[Aa]fter|[Ee]very)/, route: [] },
  { ask: 'Whom do I call?', answer: /555-01\d\d/, route: [] },
  { ask: 'Somebody is hurt', answer: /\b911\b/, route: [/^Call/] },
  { ask: 'In which order the nuts?', answer: /\d-\d-\d/, type: 'lug nut order', pick: /order|torque/i },
  { ask: 'Which ball, ring or kingpin?', has: /Ball size|Pintle ring, inside|Kingpin\s+\d/, answer: /(Ball size|Pintle ring, inside|Kingpin)\s+\d/, route: [/^Numbers/] },
  { ask: 'How much may I carry?', answer: /[\d,]+ lb/, route: [/^Numbers/] },
  { ask: 'How much weight on the coupler?', answer: /Coupler weight[^\d]*[\d,]+ lb/, route: [/^Numbers/] },
  { ask: 'How fast?', answer: /\d+ mph/, route: [/^Numbers/] },
  { ask: 'What to check before a trip?', answer: /Lanyard|every lamp works|Tires at/, route: [/^Before each trip/] },
  { ask: 'One lamp is dead', answer: /lamp.*(dark|dead|out)[^]*(bulb|ground|lamp)/i, type: 'lamp out', pick: /one lamp/i },
  { ask: 'The deck does not come down', has: /will not come down|does not come down/i, answer: /(button|valve|hand pump|lower)/i, route: [/^Something is wrong/, /^(Hydraulics|Deck|Tilt deck|Dump box)$/, /come down/i] },
  { ask: 'The fuse of the pump', has: /Fuse[^.]{0,20}pump|pump fuse/i, answer: /\d+ A\b/, type: 'fuse pump', pick: /fuse|pump/i },
  { ask: 'A tire failed on the road', answer: /(hold|grip|steering|slow)/i, type: 'tire failed', pick: /tire has failed/i },
  { ask: 'The trailer sways', answer: /(accelerator|brake|slow)/i, type: 'sway', pick: /sway|swings/i },
  { ask: 'The coupler came off', answer: /(steering wheel straight|slow down gently)/i, route: [/^Something is wrong/, /^Coupling/, /come off on the road/] },
  { ask: 'How do I change a wheel?', answer: /(level|firm)/i, type: 'change wheel', pick: /change a wheel/i },
  { ask: 'How often do the hubs get grease?', has: /Grease the hubs/, answer: /every [\d,]+ (mi|months)/i, type: 'grease hubs', pick: /grease the hubs/i },
  { ask: 'Which hydraulic fluid?', has: /Check the hydraulic fluid/, answer: /hydraulic fluid/i, type: 'hydraulic fluid', pick: /hydraulic fluid/i },
  { ask: 'How do I store it for the winter?', answer: /(stor|charge|cover)/i, type: 'store winter', pick: /stor/i },
  { ask: 'Where does the load go?', answer: /(band|middle of the load)/i, type: 'where load', pick: /load/i },
  { ask: 'How many tie-downs?', has: /How many, and how strong/, answer: /(tie-down|strap|chain)/i, type: 'tie down how many', pick: /how many/i },
  { ask: 'How do I couple it?', answer: /(parking brake|chock|ball)/i, route: [/^Contents/, /Couple and uncouple/, /step by step/] },
  { ask: 'Where is the VIN?', answer: /stamped/i, type: 'vin', pick: /stamped|VIN/i },
  { ask: 'How do I test the breakaway?', has: /breakaway/i, answer: /(pull the|pin|lever)/i, type: 'test breakaway', pick: /breakaway system/i },
  { ask: 'A hub is hot', answer: /(cool|grease|bearing|brake|hand)/i, type: 'hot hub', pick: /hot|heat/i },
  { ask: 'How high must the coupler stand?', answer: /\d+(\.\d+)? in\b/, type: 'coupling height', pick: /height|tow vehicle/i },
  { ask: 'The battery is empty', has: /Voltage at rest/i, answer: /(charge|\d V)/i, type: 'empty battery', pick: /batter/i },
  { ask: 'Where do I set a floor jack?', answer: /(frame|axle|marked)/i, type: 'jacking', pick: /jack/i },
  { ask: 'When are the brakes adjusted?', has: /Adjust the brakes/, answer: /every [\d,]+ (mi|months)|first/i, type: 'adjust brakes', pick: /adjust/i },
  { ask: 'The winch rope is frayed', has: /the winch rope/i, answer: /(replace|strands|rope)/i, type: 'frayed rope', pick: /rope/i },
  { ask: 'Is my truck strong enough?', answer: /(rating|rated|lb)/i, type: 'truck rating', pick: /tow|vehicle|truck|fit/i },
  { ask: 'How long may the tires be used?', answer: /years\W+\d|\d+ years/i, type: 'tires age', pick: /age/i },
  { ask: 'Which grease?', answer: /(NLGI|grease)/i, type: 'which grease', pick: /grease|fluids/i },
  { ask: 'Is there a recall?', answer: /(recall|defect|NHTSA|Transport)/i, type: 'recall', pick: /defect|recall|safety/i },
  { ask: 'The jack does not turn', answer: /(grease|weight|jack)/i, type: 'jack stuck', pick: /jack/i },
  { ask: 'How do I put the tarp away?', has: /Tarp closed/, answer: /tarp/i, type: 'tarp', pick: /tarp|cover/i },
  { ask: 'What must the lamps draw?', has: /lamps draw/i, answer: /\d A\b/, type: 'lamps amps', pick: /lamp/i },
  { ask: 'Somebody bought it from me', answer: /(owner|regist|sold)/i, type: 'sold', pick: /sell|sold|owner|regist/i },
];

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'] });
const context = await browser.newContext({ viewport: { width: 360, height: 740 }, offline: true, hasTouch: true });

// seen is the text on the screen, between the strip and the bar.
const seen = page => page.evaluate(() => {
  const lower = innerHeight - (document.querySelector('.bar')?.offsetHeight ?? 0), out = [];
  const range = document.createRange(), on = box => box.bottom > 0 && box.top < lower && box.width > 0;
  const walk = e => { // a section off the screen has nothing on it
    for (const n of e.childNodes) {
      if (n.nodeType === 1 && !n.matches('.bar, script, style') && (on(n.getBoundingClientRect()) || getComputedStyle(n).display === 'inline')) walk(n);
      if (n.nodeType !== 3 || !n.data.trim() || !e.checkVisibility()) continue;
      range.selectNodeContents(n);
      if (on(range.getBoundingClientRect())) out.push(n.data);
    }
  };
  walk(document.body);
  return out.join(' ').replace(/\s+/g, ' ');
});

// tap taps the first link or head of a fold whose words fit, from the upper edge
// of the screen down to two swipes below; false when there is none. The bar stands last.
async function tap(page, words) {
  const found = await page.evaluateHandle(([source, flags]) => {
    const words = new RegExp(source, flags);
    const say = e => e.textContent.replace(/\s+/g, ' ').replace(/^ ?[\d.]+ /, '').trim();
    return Array.from(document.querySelectorAll('#start a, #toc a, #toc summary, #signs a, .fault summary, .rows a, .bar a')).find(e => {
      const box = e.getBoundingClientRect();
      return e.checkVisibility() && box.bottom > 0 && box.top < innerHeight * 3 && words.test(say(e));
    });
  }, [words.source, words.flags]);
  const element = found.asElement();
  if (!element) return false;
  await element.click();
  await page.waitForTimeout(50);
  return true;
}

async function ask(page, all, q) {
  await page.evaluate(() => { // as the guide opens, without reading it anew for each question
    for (const d of document.querySelectorAll('details[open]')) d.open = false;
    const words = document.getElementById('words');
    words.value = '';
    words.dispatchEvent(new Event('input'));
    scrollTo(0, 0);
  });
  if (q.has && !q.has.test(all)) return { skip: true };
  let taps = 0;
  if (q.type) {
    await page.fill('#words', q.type);
    taps++;
    if (!await tap(page, q.pick)) return { why: `the search for "${q.type}" offers nothing that fits` };
    taps++;
  }
  for (const words of q.route ?? []) {
    if (!await tap(page, words)) return { why: `nothing to tap says ${words}` };
    taps++;
  }
  for (let swipes = 0; swipes < 2; swipes++) {
    if (q.answer.test(await seen(page))) return { taps, swipes, why: taps > most ? `${taps} taps` : '' };
    await page.evaluate(() => scrollBy(0, innerHeight * 0.75));
  }
  return { why: `after ${taps} taps the answer is not on the screen: ${(await seen(page)).slice(0, 160)}` };
}

let complaints = 0, asked = 0, unasked = 0, farthest = 0;
const lines = questions.map(() => []);
for (const file of process.argv.slice(2)) {
  const page = await context.newPage();
  await page.goto(pathToFileURL(resolve(file)).href);
  const all = await page.evaluate(() => document.body.textContent.replace(/\s+/g, ' '));
  for (const [i, q] of questions.entries()) {
    const got = await ask(page, all, q);
    if (got.skip) { unasked++; lines[i].push('-'); continue; }
    asked++;
    if (got.why) { complaints++; console.log(`${basename(dirname(file))}: ${q.ask} ${got.why}`); }
    lines[i].push(got.taps === undefined ? '?' : got.swipes ? `${got.taps}+${got.swipes}` : `${got.taps}`);
    farthest = Math.max(farthest, got.taps ?? 0);
  }
  await page.close();
}
await browser.close();
for (const [i, q] of questions.entries()) console.log(`${q.ask.padEnd(36)} ${lines[i].join(' ')}`);
console.log(`${asked} questions asked, ${unasked} not for the unit, at most ${farthest} taps, ${complaints} complaints`);
process.exit(complaints > 0 || asked === 0 ? 1 : 0);
