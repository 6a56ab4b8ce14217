// Shows a search while it goes on: what there is is brought as it stands on the page, and only what differs is put in its place.

import { listeners } from "./live.js";

const parts = ["asking", "seen"];
let bringing = false;
let again = false;

/** @param {string} id */
const part = (id) => document.getElementById(id);

async function bring() {
  if (bringing) {
    again = true;
    return;
  }
  bringing = true;
  do {
    again = false;
    try {
      const answer = await fetch("/boards/now");
      if (answer.ok) put(new DOMParser().parseFromString(await answer.text(), "text/html"));
    } catch {
      // The program has stopped; live.js says so, and a new connection brings us here again.
    }
  } while (again);
  bringing = false;
}

/** @param {Document} now */
function put(now) {
  for (const id of parts) {
    const [old, fresh] = [part(id), now.getElementById(id)];
    if (!old || !fresh) continue;
    old.dataset.tick = fresh.dataset.tick;
    if (old.innerHTML === fresh.innerHTML) continue;
    const held = old.contains(document.activeElement);
    old.replaceChildren(...fresh.childNodes);
    if (held) old.querySelector("button")?.focus();
  }
}

if (part("asking")) {
  listeners.add((told) => {
    if (told.tick === undefined) return false;
    if (String(told.tick) !== part("asking")?.dataset.tick) bring();
    return true;
  });
}
