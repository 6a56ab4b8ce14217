// Shows the list of phones anew when one has been paired or shut out.
import { busy, listeners, say } from "./live.js";

listeners.add((told) => {
  if (told.phones === undefined) return;
  if (busy()) say("A phone has been paired or shut out. Load this page again to see it.");
  else location.reload();
});
