// Follows the server: hears of new states, fetches the newest one and those models whose address changed, and hands them on.
// A state that was overtaken is given up, but never so often that nothing is drawn.

import { readGlb } from "./glb.js";

const PATIENCE = 300; // ms without a finished state after which the next one is carried through
const MARKS_KEPT = 200; // newest events whose performance marks stay
const RETRY = 700; // ms until the next try when the server is away

// `on.state(state, kit, bay)` draws and gives a promise; `on.link(text, away)` says how the server is reached; `on.fine()` says
// whether the kit is wanted with every hole. What it gives is to be called when that changes.
export function follow(on) {
  let asked = 0; // events so far
  let done = 0; // how many of them the page has caught up with
  let running = false;
  let control = null;
  let finished = performance.now();
  const heard = [];
  let tries = 0;
  let number = null; // of the state that is shown
  let reopened = true; // a server that came back may count from one again
  const kit = { address: null, model: null };
  const bay = { address: null, model: null };

  function listen() {
    const events = new EventSource("/events");
    events.onopen = () => {
      reopened = true;
      on.link("live", false);
    };
    events.onmessage = (event) => {
      if (!reopened && Number(event.data) === number) return;
      reopened = false;
      performance.mark(`event-${event.data}`);
      heard.push(event.data);
      if (heard.length > MARKS_KEPT) performance.clearMarks(`event-${heard.shift()}`);
      again();
    };
    events.onerror = () => {
      events.close();
      on.link("the server is away; trying again", true);
      setTimeout(listen, RETRY);
    };
  }

  function again() {
    asked++;
    pump();
  }

  async function pump() {
    if (running) {
      if (performance.now() - finished < PATIENCE) control.abort();
      return;
    }
    running = true;
    while (done !== asked) {
      const goal = asked;
      control = new AbortController();
      try {
        await load(control.signal);
        done = goal;
        if (tries > 0) on.link("live", false);
        tries = 0;
        finished = performance.now();
      } catch (error) {
        if (error.name === "AbortError") continue;
        // Most likely a model of a state that is no longer the newest, or the server went away.
        tries++;
        if (tries > 3) {
          on.link(`the newest state could not be shown: ${error.message}`, true);
          done = goal;
        } else {
          await new Promise((resolve) => setTimeout(resolve, 60 * tries));
        }
      }
    }
    running = false;
  }

  async function load(signal) {
    const state = await (await get("/state", signal, "no-store")).json();
    if (state.kit) {
      const fine = on.fine();
      await Promise.all([renew(kit, fine ? state.kit.fine : state.kit.model, signal), renew(bay, state.kit.bay, signal)]);
      kit.model.fine = fine;
    }
    await on.state(state, kit.model, bay.model);
    number = state.number;
  }

  async function renew(held, address, signal) {
    if (held.address === address) return;
    const buffer = await (await get(address, signal, "default")).arrayBuffer();
    held.model = readGlb(buffer);
    held.address = address;
  }

  listen();
  return again;
}

async function get(address, signal, cache) {
  const answer = await fetch(address, { signal, cache });
  if (!answer.ok) throw new Error(`${address} answered ${answer.status}`);
  return answer;
}
