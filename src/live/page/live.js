// Start of the live page: ties the server's states to the view and the panels, and one picked part to all of them.
// When a state's frame is drawn it says so in data-drawn of the root element and as a performance mark.

import { prepareControls, prepareMake, prepareTheme, sayCut } from "./controls.js";
import { byId, say } from "./dom.js";
import { follow } from "./feed.js";
import { showFigures, showFindings } from "./findings.js";
import { pickInTable, prepareParts, showParts } from "./parts.js";
import { pickOnSheets, prepareSheets, showSheets } from "./sheets.js";
import { prepareStrip, showOpening, showPicked } from "./strip.js";
import { Viewer } from "./viewer.js";

const MARKS_KEPT = 200; // states whose performance marks stay

let kit = null;
let picked = null;
const drawn = [];
const viewer = open();

function open() {
  try {
    return new Viewer(byId("canvas"), pick, () => again());
  } catch (error) {
    byId("lack").hidden = false;
    byId("canvas").hidden = true;
    say(byId("lack"), `${error.message} Sheets, figures and findings work without it.`);
    return null;
  }
}

function pick(name) {
  // A former sheet may still show a part that is gone.
  if (name !== null && !isThere(name)) return;
  picked = name !== null && name === picked ? null : name;
  viewer?.pick(picked);
  pickOnSheets(picked);
  pickInTable(picked);
  showPicked(picked, kit, viewer);
}

function isThere(name) {
  return kit?.parts.some((part) => part.name === name) || viewer?.part(name) !== undefined;
}

async function show(state, model, bay) {
  kit = state.kit;
  const space = viewer && kit ? showSpace(model, bay) : null;
  showHead(state);
  showFindings(state);
  if (kit) {
    showSheets(kit, picked);
    showFigures(kit);
    showParts(kit, picked);
    const front = byId("front-picture");
    if (front.getAttribute("src") !== kit.front) front.setAttribute("src", kit.front);
    if (picked !== null && !isThere(picked)) pick(null);
    else showPicked(picked, kit, viewer);
  }
  await Promise.all([space, nextFrame()]);
  const { number } = state;
  document.documentElement.dataset.drawn = String(number);
  performance.mark(`drawn-${number}`);
  drawn.push(number);
  if (drawn.length > MARKS_KEPT) performance.clearMarks(`drawn-${drawn.shift()}`);
}

function showHead(state) {
  byId("main").dataset.kit = state.kit ? (state.good ? "good" : "last") : "none";
  if (state.name) say(byId("name"), state.name);
  say(byId("edition"), [state.edition, state.spec && `from ${state.spec}`].filter(Boolean).join(", "));
  byId("make").disabled = state.kit === null;
  document.title = `${state.good ? "" : "errors: "}${state.name || "Baywright live"}`;
}

// Gives a promise for the drawing of the models. It goes first: whoever draws works while the page's texts are renewed.
function showSpace(model, bay) {
  // The view has no size while it is hidden, and the first kit is fitted into it.
  byId("main").dataset.kit = "good";
  viewer.show(model, bay, new Map(kit.parts.filter((part) => part.changed).map((part) => [part.name, part.changed])));
  sayCut(viewer);
  byId("plain").hidden = model.fine;
  viewer.now();
  return new Promise((resolve) => viewer.finished(resolve));
}

function nextFrame() {
  return new Promise((resolve) => {
    if (document.hidden) setTimeout(resolve, 0);
    else requestAnimationFrame(() => afterPaint(resolve));
  });
}

// A message sent during a frame's callbacks comes after the frame is painted.
function afterPaint(then) {
  const channel = new MessageChannel();
  channel.port1.onmessage = () => {
    channel.port1.close();
    then();
  };
  channel.port2.postMessage(null);
}

prepareTheme(() => viewer?.recolour());
prepareMake();
prepareSheets(pick);
prepareParts(pick);
prepareStrip(viewer, () => pick(null));
if (viewer) prepareControls(viewer, () => showOpening(viewer, picked === null ? undefined : viewer.part(picked)?.extras.body));
document.addEventListener("keydown", (event) => {
  // In the search field Escape empties the field.
  if (event.key === "Escape" && picked !== null && event.target !== byId("filter")) pick(null);
});
const again = follow({
  state: show,
  fine: () => viewer?.fine ?? false,
  link: (text, away) => {
    byId("link").dataset.state = away ? "away" : "here";
    say(byId("link"), text);
  },
});
