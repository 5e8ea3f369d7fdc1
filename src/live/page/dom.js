// Small helpers to make elements and to keep lists of them: what stayed the same from one state to the next is not touched,
// so that focus, scroll and selection stay where they were.

const SVG = "http://www.w3.org/2000/svg";

export const byId = (id) => document.getElementById(id);

// An element with attributes and children; null and false attributes are left out, strings become text.
export function make(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

export function makeSvg(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(name, value === true ? "" : value);
  }
  for (const child of children) if (child !== null && child !== undefined && child !== false) element.append(child);
  return element;
}

export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

// Makes the children of `container` stand for `items`, in their order. A child is made anew only when its item's
// signature differs from the last time.
export function keep(container, items, keyOf, build) {
  const old = container.kept ?? new Map();
  const fresh = new Map();
  let cursor = container.firstChild;
  for (const item of items) {
    let key = keyOf(item);
    while (fresh.has(key)) key += "+";
    const signature = JSON.stringify(item);
    let entry = old.get(key);
    if (!entry || entry.signature !== signature) {
      const element = build(item);
      if (entry) {
        const focus = focusIn(entry.element);
        if (entry.element === cursor) cursor = cursor.nextSibling;
        entry.element.replaceWith(element);
        if (focus !== null) element.querySelector(`[data-name="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
      }
      entry = { element, signature };
    }
    old.delete(key);
    fresh.set(key, entry);
    if (entry.element === cursor) cursor = cursor.nextSibling;
    else container.insertBefore(entry.element, cursor);
  }
  for (const { element } of old.values()) element.remove();
  container.kept = fresh;
}

function focusIn(element) {
  const active = document.activeElement;
  return element.contains(active) ? active.dataset.name ?? null : null;
}

// Arrow keys go from one of `list()` to the next; a group takes part in the Tab order once. Gives whether the key was used.
export function rove(event, list) {
  const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
  const all = list();
  const now = all.indexOf(event.target);
  if (now < 0 || (step === undefined && event.key !== "Home" && event.key !== "End")) return false;
  const next = event.key === "Home" ? 0 : event.key === "End" ? all.length - 1 : now + step;
  event.preventDefault();
  if (!all[next]) return true;
  all[now].setAttribute("tabindex", "-1");
  all[next].setAttribute("tabindex", "0");
  all[next].focus();
  return true;
}

// A number with at most `digits` decimals and no trailing zeros.
export const trim = (value, digits) => String(Number(value.toFixed(digits)));

export const sizeText = (size) => size.map((v) => trim(v, 1)).join("\u202f×\u202f");

export const count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
