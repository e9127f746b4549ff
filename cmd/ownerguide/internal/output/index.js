"use strict";
(() => {
const id = (s) => document.getElementById(s);
const table = document.querySelector("table");
let rows = Array.from(table.querySelectorAll("tbody tr"));
const heads = Array.from(table.querySelectorAll("thead th"));
const states = Array.from(document.querySelectorAll("[name=show]"));

// A browser is quick with some hundred rows; the rest waits until asked for.
const step = 200;
let most = step;
const body = document.createElement("tbody");
for (const old of Array.from(table.tBodies)) old.remove();
table.append(body);

// Letters that do not fall apart into one without accent and a mark.
const letters = { "ø": "o", "ł": "l", "đ": "d", "ß": "ss", "þ": "th", "ð": "d", "æ": "ae", "œ": "oe", "ı": "i" };
const fold = (s) => s.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/[øłđßþðæœı]/g, (c) => letters[c]);
const texts = new Map();
const textOf = (row) => {
  if (!texts.has(row)) texts.set(row, fold(row.textContent + Array.from(row.querySelectorAll("time"), (day) => " " + day.dateTime).join("")));
  return texts.get(row);
};

const is = (row, state) => state === "all" || row.classList.contains(state);
function show() {
  const wanted = fold(id("words").value).split(/\s+/).filter(Boolean);
  const found = wanted.length ? rows.filter((row) => wanted.every((w) => textOf(row).includes(w))) : rows;
  let list = found;
  for (const s of states) {
    const those = found.filter((row) => is(row, s.id.slice(5)));
    s.parentElement.querySelector(".n").textContent = those.length;
    if (s.checked) list = those;
  }
  id("count").textContent = list.length + " of " + rows.length + " units";
  body.replaceChildren(...list.slice(0, most));
  id("more").hidden = list.length <= most;
}
const anew = () => { most = step; show(); };
let soon;
id("words").addEventListener("input", () => { clearTimeout(soon); soon = setTimeout(anew, 60); });
for (const s of states) s.addEventListener("change", anew);
id("more").addEventListener("click", () => { most += step; show(); });

// A column that says nothing of a unit puts it last, up or down.
const collator = new Intl.Collator("en", { numeric: true });
function sort(column, down) {
  heads.forEach((h) => h.removeAttribute("aria-sort"));
  heads[column].setAttribute("aria-sort", down ? "descending" : "ascending");
  id("by").value = column + (down ? "-" : "+");
  const keyed = rows.map((row) => {
    const cell = row.cells[column];
    const first = cell && cell.firstChild;
    return { row, key: first ? first.dateTime || first.textContent : "" };
  });
  keyed.sort((x, y) => !x.key - !y.key || collator.compare(x.key, y.key) * (down ? -1 : 1));
  rows = keyed.map((k) => k.row);
  anew();
}
heads.forEach((head, column) => {
  if (head.className === "plain") return;
  const button = document.createElement("button"), name = head.textContent;
  button.type = "button";
  button.textContent = name;
  head.replaceChildren(button);
  button.addEventListener("click", () => sort(column, head.getAttribute("aria-sort") === "ascending"));
  for (const [mark, way] of [["+", "\u2191"], ["-", "\u2193"]]) id("by").append(new Option(name + " " + way, column + mark));
});
id("by").addEventListener("change", (e) => sort(parseInt(e.target.value, 10), e.target.value.endsWith("-")));
heads[0].setAttribute("aria-sort", "ascending");
id("search").hidden = id("sort").hidden = false;
show();

// Paper holds every unit found, with all its options.
addEventListener("beforeprint", () => {
  most = Infinity;
  show();
  for (const d of table.querySelectorAll("details")) d.open = true;
});
addEventListener("afterprint", anew);
})();
