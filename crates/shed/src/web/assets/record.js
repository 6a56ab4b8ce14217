// Shows the record anew when something has been added to it.
import { busy, listeners, say } from "./live.js";

const shown = Number(document.querySelector("[data-record]")?.getAttribute("data-record") ?? 0);
listeners.add((told) => {
  if (told.record === undefined || told.record <= shown) return;
  if (busy()) say("Something has been added to the record. Load this page again to see it.");
  else location.reload();
});
