// Keeps the page true: told of every change, it says so and shows the page anew, unless something is being typed or dragged.

/** @typedef {{revision?: number, what?: string, trouble?: string|null, n?: number, now?: any, findings?: any[], why?: string, core_ms?: number, tick?: number, record?: number, phones?: number, let_in?: string}} Told */

/** @type {Set<(told: Told) => boolean|void>} Each may say that it has dealt with what was told. */
export const listeners = new Set();
/** @type {WebSocket|null} */
let socket = null;
let wait = 200;
let away = false;

/** What this page was made from. */
export const page = { revision: Number(document.body.dataset.revision) };

/** @param {string} words */
export function say(words) {
  const news = document.getElementById("news");
  if (news) news.textContent = words;
}

/** @param {object} message @returns {boolean} whether it went out */
export function send(message) {
  if (!socket || socket.readyState !== WebSocket.OPEN) return false;
  socket.send(JSON.stringify(message));
  return true;
}

/** Someone is in the middle of something here. */
export function busy() {
  const at = document.activeElement;
  return at instanceof HTMLTextAreaElement || at instanceof HTMLInputElement || document.body.hasAttribute("data-busy");
}

/** @param {Told} told */
function heard(told) {
  if (told.let_in !== undefined) {
    const line = document.getElementById("let-in");
    const words = line?.querySelector("span");
    if (line && words) [words.textContent, line.hidden] = [told.let_in, told.let_in === ""];
  }
  for (const listener of listeners) if (listener(told)) return;
  if (told.revision === undefined || told.revision === page.revision || sent) return;
  if (busy()) {
    say(`She has changed: ${told.what || "somewhere else"}. Load this page again to see her as she is.`);
  } else {
    location.reload();
  }
}

function connect() {
  socket = new WebSocket(`ws://${location.host}/live`);
  socket.addEventListener("open", () => {
    wait = 200;
    if (away) say("");
    away = false;
  });
  socket.addEventListener("message", (event) => heard(JSON.parse(event.data)));
  socket.addEventListener("close", () => {
    socket = null;
    if (!leaving) {
      if (wait > 400) {
        away = true;
        say("The program has stopped. Nothing is lost: start it again, and this page goes on.");
      }
      setTimeout(connect, wait);
      wait = Math.min(wait * 1.6, 3000);
    }
  });
}
// What has been typed into a form, or stands in it again because something is wrong, is not to be lost by showing the page anew.
if (document.querySelector("[data-typed]")) document.body.dataset.busy = "";
document.addEventListener("input", (event) => {
  if (event.target instanceof Element && event.target.closest("form")) document.body.dataset.busy = "";
});
// A form that has been sent brings the next page itself: the news of what it did must not come before that.
let sent = false;
document.addEventListener("submit", () => {
  sent = true;
  setTimeout(() => (sent = false), 10000);
});
let leaving = false;
addEventListener("pagehide", () => {
  leaving = true;
  socket?.close();
});
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});
connect();
