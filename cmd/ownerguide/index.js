"use strict";
const body = document.querySelector("tbody");
const rows = Array.from(body.rows);
const search = document.getElementById("search");
const words = document.getElementById("words");
const count = document.getElementById("count");
search.hidden = false;
words.addEventListener("input", () => {
  const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const row of rows) {
    const text = row.textContent.toLowerCase();
    row.hidden = !wanted.every((w) => text.includes(w));
    if (!row.hidden) shown++;
  }
  count.textContent = wanted.length ? shown + " of " + rows.length : "";
});
const heads = Array.from(document.querySelectorAll("thead th"));
heads.slice(0, -1).forEach((head, column) => {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = head.textContent;
  head.replaceChildren(button);
  button.addEventListener("click", () => {
    const down = head.getAttribute("aria-sort") === "ascending";
    heads.forEach((h) => h.removeAttribute("aria-sort"));
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    const text = (row) => row.cells[column].textContent.trim();
    rows.sort((a, b) => text(a).localeCompare(text(b), "en", { numeric: true }) * (down ? -1 : 1));
    body.append(...rows);
  });
});
