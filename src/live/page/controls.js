// Sliders, boxes and buttons round the view; and the two at the page's head: the theme, and making the set.

import { byId, count, say, trim } from "./dom.js";

export function prepareControls(viewer, afterOpening) {
  for (const button of document.querySelectorAll("[data-view]")) {
    button.addEventListener("click", () => {
      if (button.dataset.view !== "fit") viewer.camera.look(button.dataset.view);
      viewer.fit();
    });
  }
  slide("open", (value) => {
    viewer.openAll = value / 100;
    viewer.openOne.clear();
    viewer.repose();
    afterOpening();
    return `${value} % open`;
  });
  slide("explode", (value) => {
    viewer.apart = value / 100;
    viewer.repose();
    return `${value} %`;
  });
  slide("cut", (value) => {
    viewer.section.share = value / 1000;
    return null;
  });
  const cut = () => {
    viewer.section.axis = byId("axis").value;
    viewer.section.flip = byId("flip").checked;
    byId("cut").disabled = viewer.section.axis === "";
    sayCut(viewer);
    viewer.ask();
  };
  for (const id of ["axis", "flip"]) byId(id).addEventListener("change", cut);
  byId("cut").addEventListener("input", cut);
  for (const what of Object.keys(viewer.shown)) {
    const box = byId(`show-${what}`);
    const follow = () => {
      viewer.shown[what] = box.checked;
      viewer.repose();
    };
    box.addEventListener("change", follow);
    viewer.shown[what] = box.checked;
  }
  // A browser may fill the fields with what they held before the page was loaded again.
  cut();
}

// Where the section stands; its mm follow the kit's size.
export function sayCut(viewer) {
  const plane = viewer.plane();
  say(byId("cut-said"), plane ? `${trim(plane.at, 0)} mm` : "off");
}

function slide(id, take) {
  const field = byId(id);
  const follow = () => {
    const text = take(Number(field.value));
    if (text !== null) say(byId(`${id}-said`), text);
  };
  field.addEventListener("input", follow);
  follow();
}

// Goes round: as the system says, light, dark. `changed()` follows every change, the system's too.
export function prepareTheme(changed) {
  const order = ["system", "light", "dark"];
  const button = byId("theme");
  let theme = recall() ?? "system";
  const apply = () => {
    if (theme === "system") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
    say(button, `Theme: ${theme}`);
    changed();
  };
  button.addEventListener("click", () => {
    theme = order[(order.indexOf(theme) + 1) % order.length];
    try {
      localStorage.setItem("theme", theme);
    } catch {
      // Without storage the choice lasts as long as the page.
    }
    apply();
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", changed);
  apply();
}

function recall() {
  try {
    return localStorage.getItem("theme");
  } catch {
    return null;
  }
}

export function prepareMake() {
  const button = byId("make");
  const note = byId("made");
  let busy = false;
  button.addEventListener("click", async () => {
    if (busy) return;
    busy = true;
    tell(note, "Making the set…", false);
    try {
      const answer = await (await fetch("/make", { method: "POST", headers: { "X-Baywright": "make" } })).json();
      if (answer.ok) tell(note, `Made: ${count(answer.files, "file")} in ${answer.folder}.`, false);
      else tell(note, `Not made: ${answer.message}`, true);
    } catch {
      tell(note, "The server gave no answer, so it is not known whether the set was made.", true);
    }
    busy = false;
  });
}

function tell(note, text, fault) {
  note.hidden = false;
  note.classList.toggle("fault", fault);
  say(note, text);
}
