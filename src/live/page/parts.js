// The table of parts: picks a part, marks what is new or changed, and shows only what the field above it asks for.

import { byId, count, keep, make, rove, say, sizeText, trim } from "./dom.js";

export function prepareParts(onPick) {
  const body = byId("parts-body");
  body.addEventListener("click", (event) => {
    const row = event.target.closest("tr");
    if (row) onPick(row.dataset.part);
  });
  body.addEventListener("keydown", (event) => rove(event, () => buttons(body)));
  byId("filter").addEventListener("input", filter);
}

const buttons = (body) => [...body.querySelectorAll("tr:not([hidden]) button")];

let sheets = new Map(); // the sheet that each part lies on

export function showParts(kit, picked) {
  const body = byId("parts-body");
  // While sheets are not laid yet, the former ones stay here as they do in their pictures.
  if (kit.sheets !== null) sheets = new Map(kit.parts.map((part) => [part.name, part.sheet]));
  const items = kit.parts.map((part, i) => ({ ...part, sheet: sheets.get(part.name) ?? null, number: i + 1 }));
  keep(body, items, (part) => part.name, row);
  const gone = byId("gone");
  gone.hidden = kit.gone.length === 0;
  say(gone, kit.gone.length ? `Gone since the last good state: ${kit.gone.join(", ")}.` : "");
  filter();
  pickInTable(picked);
}

export function pickInTable(name) {
  for (const tr of byId("parts-body").rows) {
    const is = tr.dataset.part === name;
    if (tr.classList.contains("picked") === is) continue;
    tr.classList.toggle("picked", is);
    tr.querySelector("button").setAttribute("aria-pressed", String(is));
  }
}

function row(part) {
  const place = [part.material, part.sheet ? `sheet ${part.sheet}` : null].filter(Boolean).join(", ");
  // On a phone the style sheet lays rows out as grids, which would lose the roles of a table.
  const words = [part.name, part.kind, part.material, part.sheet ?? "", part.changed].join(" ").toLowerCase();
  return make("tr", { role: "row", "data-part": part.name, "data-words": words },
    make("td", { role: "cell" },
      make("button", { type: "button", "data-name": part.name, "aria-pressed": "false", tabindex: "-1" }, part.name), " ",
      part.changed ? make("span", { class: `tag ${part.changed}` }, part.changed) : null,
      make("span", { class: "quiet" }, `${part.number}. ${place}`)),
    make("td", { role: "cell", class: "num" }, part.size ? sizeText(part.size) : "–"),
    make("td", { role: "cell", class: "num" }, part.mass === null ? "–" : part.mass.toFixed(3)),
    make("td", { role: "cell", class: "num" }, part.bolts ? String(part.bolts) : "–"));
}

function filter() {
  const body = byId("parts-body");
  const words = byId("filter").value.toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const tr of body.rows) {
    tr.hidden = !words.every((word) => tr.dataset.words.includes(word));
    if (!tr.hidden) shown++;
  }
  say(byId("parts-count"), shown === body.rows.length ? count(shown, "part") : `${shown} of ${count(body.rows.length, "part")}`);
  // One of the rows shown takes part in the Tab order.
  const all = buttons(body);
  if (all.length && !all.some((button) => button.getAttribute("tabindex") === "0")) all[0].setAttribute("tabindex", "0");
}
