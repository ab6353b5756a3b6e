// What every page does: messages, keys, scans, the guard of what was typed. One concern a file.
import { listenForMessages } from "./messages.js";
import { listenForKeys } from "./keys.js";
import { listenForScans } from "./scan.js";
import { guardTyping } from "./unsaved.js";

listenForMessages();
listenForScans();
listenForKeys();
guardTyping();

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});
