"use strict";
(() => {
const all = (s, e = document) => Array.from(e.querySelectorAll(s));
const id = (s) => document.getElementById(s);
const root = document.documentElement.dataset;
// A day as the guide's language writes it.
const written = (day) => {
  const [year, month, date] = day.split("-");
  const words = { year, month, day: date, m: Number(month), d: Number(date), name: root.months.split("|")[month - 1] };
  return root.day.replace(/{(\w+)}/g, (all, name) => words[name] ?? all);
};
const today = () => { const d = new Date(); return new Date(d - d.getTimezoneOffset() * 6e4).toISOString().slice(0, 10); };

// Ticks stay on the device, for this unit and revision; without storage for this visit only.
const key = "og-ticks-1/" + root.unit;
let ticks = {}, kept = true;
try { ticks = JSON.parse(localStorage.getItem(key)) || {}; localStorage.setItem(key, JSON.stringify(ticks)); } catch { kept = false; }
const keep = () => { try { localStorage.setItem(key, JSON.stringify(ticks)); } catch { kept = false; } };
const boxes = all("main input[type=checkbox]");
const show = (box) => {
  const day = ticks[box.id];
  box.checked = Boolean(day);
  let note = box.parentElement.querySelector(".done");
  if (day && !note) {
    note = document.createElement("small");
    note.className = "done aid";
    box.parentElement.append(note);
  }
  if (note) note.textContent = day ? " " + written(day) : "";
};
for (const box of boxes) {
  // Yesterday's check before a trip must not pass for today's.
  if (ticks[box.id] && ticks[box.id] !== today() && box.closest("[data-daily]")) delete ticks[box.id];
  show(box);
  box.addEventListener("change", () => {
    if (box.checked) ticks[box.id] = today(); else delete ticks[box.id];
    keep(); show(box); next();
  });
}
keep();
const note = id("ticks");
note.querySelector(".kept").hidden = !kept;
note.querySelector(".not-kept").hidden = kept;
// At the end of each section with boxes, before the sections in it, stands a button that takes its ticks off: one for all points of the walk, none in a form, which is filled in on paper.
const last = new Map();
for (const box of boxes) {
  const section = box.closest(".stop") ? box.closest(".l1") : box.closest("section");
  let e = box;
  while (e.parentElement !== section) e = e.parentElement;
  while (e.nextElementSibling && !e.nextElementSibling.matches("section")) e = e.nextElementSibling;
  if (!section.matches(".form")) last.set(section, e);
}
for (const [section, e] of last) {
  const p = document.createElement("p"), button = document.createElement("button");
  p.className = "ticks aid";
  button.type = "button";
  button.textContent = note.dataset.clear;
  p.append(button);
  e.after(p);
  button.addEventListener("click", () => {
    for (const box of all("input[type=checkbox]", section)) { delete ticks[box.id]; show(box); }
    keep(); next();
  });
}

// Jobs and trouble are put away below their titles, and opened by whatever leads into them, also in browsers that do not see to that themselves.
const folds = all("details.fold");
const aimed = () => id(location.hash.slice(1)); // ids are plain letters
const reveal = () => {
  const shut = aimed()?.closest("details:not([open])");
  if (shut) shut.open = true;
  return shut;
};
for (const fold of folds) fold.open = false;
reveal();
aimed()?.scrollIntoView(); // what stood above it is shorter now
addEventListener("hashchange", () => { if (reveal()) aimed().scrollIntoView(); });
addEventListener("beforeprint", () => { for (const fold of folds) fold.open = true; });

// The next job is the first visit that is not ticked.
const visits = all("tr[data-date]");
function next() {
  const open = visits.filter((row) => !all("input", row).some((box) => box.checked));
  const row = open[0];
  if (!row) return;
  for (const tile of all("a.next")) {
    const set = (s, text) => { const e = tile.querySelector(s); if (e) e.textContent = text; };
    tile.href = "#" + row.id;
    set("time", row.dataset.day);
    tile.querySelector("time").dateTime = row.dataset.date;
    set(".jobs", row.dataset.jobs);
    set(".then", open[1] ? open[1].dataset.then : "");
    tile.querySelector(".late").hidden = row.dataset.date >= today();
  }
}
next();

// Search goes over the index from A to Z and the text each entry leads to.
const find = id("find"), words = id("words"), hits = id("hits"), found = id("found");
const fold = (s) => s.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
const split = (s) => fold(s).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
const little = new Set(split(find.dataset.little)), endings = split(find.dataset.endings);
const others = {};
for (const pair of find.dataset.alike.split(" ")) {
  const [word, list] = pair.split("=");
  if (list) others[word] = list.split(",");
}
const texts = new Map();
const textOf = (target) => {
  if (!texts.has(target)) {
    let text = "";
    const gather = (e) => { for (const n of e.childNodes) { if (n.nodeType === 3) text += n.data + " "; else if (n.nodeType === 1 && !n.matches("section, .aid, figure")) gather(n); } };
    gather(target);
    texts.set(target, split(text));
  }
  return texts.get(target);
};
let entries;
const prepare = () => {
  const met = new Set(), once = (e) => !met.has(e.hash + e.text) && met.add(e.hash + e.text);
  const entry = (hash, text, answer) => {
    const target = id(hash.slice(1)), head = target.closest("section.l1")?.querySelector("h1, h2");
    return { hash, text, target, title: split(text), answer, chapter: head ? head.textContent : "" };
  };
  entries = entries || [
    ...all(".fault .folded[id]").map((e) => entry("#" + e.id, e.previousElementSibling.textContent.replace(/\.$/, ""), "")),
    ...all("#a-z a").map((a) => entry(a.hash, a.textContent, a.nextElementSibling?.textContent || "")),
  ].filter(once);
};
const begins = (list, word) => list.some((w) => w.startsWith(word) || (w.length > 3 && endings.some((end) => word === w + end)));
// Where no place names all words, loose takes those that name one of them.
const rank = (e, wanted, loose) => {
  let sum = e.answer ? 1.5 : 0, body = true;
  for (const word of wanted) {
    if (begins(e.title, word)) { sum += 8; body = false; }
    else if ((others[word] || []).some((w) => begins(e.title, w))) { sum += 6; body = false; }
    else if (begins(textOf(e.target), word) || (others[word] || []).some((w) => begins(textOf(e.target), w))) sum += 1;
    else if (!loose) return null;
  }
  if (loose && body) return null;
  // A place with several answers below their titles comes after the answer itself.
  return { e, sum: sum - e.title.length / 50 - (e.target.querySelector(".fold") ? 2 : 0), body };
};
const search = () => {
  prepare();
  let wanted = split(words.value);
  const said = wanted.filter((w) => !little.has(w));
  if (said.length) wanted = said;
  hits.replaceChildren();
  found.textContent = "";
  if (!wanted.length) return;
  const ranks = (loose) => entries.map((e) => rank(e, wanted, loose)).filter(Boolean).sort((x, y) => y.sum - x.sum);
  let ranked = ranks(false);
  if (ranked.every((r) => r.body)) ranked.push(...ranks(true).filter((r) => !ranked.some((other) => other.e === r.e)));
  const good = ranked.filter((r) => !r.body);
  if (good.length >= 3) ranked = good;
  ranked = ranked.slice(0, 12);
  for (const { e } of ranked) {
    const li = document.createElement("li"), a = document.createElement("a");
    a.href = e.hash;
    a.textContent = e.text;
    li.append(a);
    for (const [tag, text] of [["b", e.answer], ["small", e.chapter]]) {
      if (!text) continue;
      const n = document.createElement(tag);
      n.textContent = text;
      li.append(" ", n);
    }
    hits.append(li);
  }
  found.textContent = ranked.length ? find.dataset.found.replace("{n}", ranked.length) : find.dataset.none;
};
find.hidden = false;
words.addEventListener("input", search);
words.addEventListener("keydown", (e) => {
  const first = hits.querySelector("a");
  if (e.key === "Enter" && first) { first.click(); words.blur(); }
});

// The chapter on the screen is marked in contents and bar; beside the text it is
// open there, until the next one is.
const where = id("where"), beside = matchMedia("(min-width: 62rem)");
let unfolded = null;
if (where && "IntersectionObserver" in window) {
  const watch = new IntersectionObserver((list) => {
    for (const seen of list) {
      const link = document.querySelector('#toc [data-chapter="' + seen.target.id + '"]');
      if (!link) continue;
      if (!seen.isIntersecting) { link.removeAttribute("aria-current"); continue; }
      for (const old of all("#toc [aria-current]")) old.removeAttribute("aria-current");
      link.setAttribute("aria-current", "true");
      where.textContent = link.textContent;
      const chapter = link.closest("details");
      if (beside.matches && chapter !== unfolded) {
        if (unfolded) unfolded.open = false;
        unfolded = chapter && !chapter.open ? chapter : null;
        if (unfolded) unfolded.open = true;
      }
    }
  }, { rootMargin: "-20% 0px -75% 0px" });
  for (const chapter of all("main > section")) watch.observe(chapter);
}
})();
