// The findings of the checks and the figures of the kit, as lists that change only where the state did.

import { byId, count, keep, make, say } from "./dom.js";

export function showFindings(state) {
  const { findings } = state;
  const errors = findings.filter((f) => f.severity === "error").length;
  keep(byId("findings-list"), findings, (f) => `${f.rule}|${f.file}|${f.message}`, finding);
  say(byId("none"), state.kit ? "None by these checks." : "The kit is being worked out.");
  byId("none").hidden = findings.length > 0;
  say(byId("count"), errors ? `(${count(errors, "error")})` : findings.length ? `(${findings.length})` : "");
  showStale(state, errors);
}

// While the files on disk have errors, says so above everything.
function showStale(state, errors) {
  const bar = byId("stale");
  bar.hidden = state.good;
  const kit = state.kit !== null;
  byId("stage").classList.toggle("stale", !state.good && kit);
  byId("stamp").hidden = state.good || !kit;
  if (state.good) return;
  const first = state.findings.find((f) => f.severity === "error");
  const said = errors ? `${state.spec} has ${count(errors, "error")}` : `${state.spec} cannot be built`;
  const where = first ? `, the first at ${first.file}:${first.line}` : "";
  const text = `${said}${where}. ${kit ? "What you see is the last good kit." : "There is no kit to show yet."}`;
  if (bar.dataset.text === text) return;
  bar.dataset.text = text;
  bar.replaceChildren(`${text} `, make("a", { href: "#findings" }, "See the findings"));
}

function finding(f) {
  return make("li", { class: f.severity },
    make("p", {},
      make("span", { class: "severity" }, f.severity), " ",
      make("span", { class: "rule" }, f.rule), " ",
      make("span", { class: "where" }, `${f.file}:${f.line}:${f.column}`)),
    make("p", {}, f.message),
    f.excerpt ? excerpt(f) : null,
    f.help ? make("p", { class: "help" }, f.help) : null);
}

function excerpt(f) {
  const about = { tabindex: "0", role: "group", "aria-label": `line ${f.line} of ${f.file}` };
  return make("pre", about, `${String(f.line).padStart(4)} | ${f.excerpt}`);
}

let last = []; // groups of figures

// What needs sheets is not known as long as they are not laid; such groups then stay as they were and say so.
export function showFigures(kit) {
  const fresh = new Map(kit.figures.map((group) => [group.title, group]));
  if (kit.sheets === null && last.length) {
    const kept = last.map((group) => fresh.get(group.title) ?? { ...group, former: true });
    const seen = new Set(kept.map((group) => group.title));
    last = kept.concat(kit.figures.filter((group) => !seen.has(group.title)));
  } else {
    last = kit.figures;
  }
  keep(byId("figures-body"), last, (group) => group.title, table);
}

function table({ title, rows, former }) {
  const note = former ? make("span", { class: "quiet small" }, " of the kit before; being worked out") : null;
  return make("table", { class: former ? "figures former" : "figures" },
    make("caption", {}, title, note),
    make("tbody", {}, ...rows.map(figure)));
}

function figure(row) {
  const moved = row.before !== null && row.before !== undefined;
  return make("tr", { class: moved ? "moved" : null },
    make("th", { scope: "row" }, row.what),
    make("td", { class: "num" },
      moved ? make("span", { class: "was", title: "in the last good state" }, `${row.before} → `) : null,
      make("span", { class: "now" }, row.value),
      row.unit ? ` ${row.unit}` : null));
}
