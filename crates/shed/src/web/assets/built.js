// Planned against built: shown anew when something has been put down at the boat.
import { listeners } from "./live.js";

let first = true;
listeners.add((told) => {
  if (told.record === undefined) return false;
  if (!first) location.reload();
  first = false;
  return true;
});
