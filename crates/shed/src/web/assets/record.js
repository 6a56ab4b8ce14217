// Shows a page that is made from the record anew when something has been added to it since.
import { busy, listeners, say } from "./live.js";

const made = document.querySelector("[data-record]")?.getAttribute("data-record");
/** The last entry that the page was made with; where it says none, because there is nothing to be seen, the last there is now. @type {number|null} */
let shown = made ? Number(made) : null;
listeners.add((told) => {
  if (told.record === undefined) return;
  shown ??= told.record;
  if (told.record <= shown) return;
  if (busy()) say("Something has been added to the record. Load this page again to see it.");
  else location.reload();
});
