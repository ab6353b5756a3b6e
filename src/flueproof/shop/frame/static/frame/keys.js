// Keys: an element with data-key="r" is clicked (a field: focused) by that key while no field is typed into.
// F keys (data-key="F2") work inside fields too. "?" shows the keys of the page; data-key-says gives better words.
// A key waits a moment before it acts, so that the first sign of a scan never presses anything.

const SCAN_MS = 60;

export function isTyping(target) {
  return Boolean(target?.closest?.("textarea, select, [contenteditable], input:not([type=checkbox], [type=radio], [type=button], [type=submit])"));
}

function root() {
  return document.querySelector("dialog[open]") ?? document;
}

function reachable(element) {
  return !element.disabled && element.getAttribute("aria-disabled") !== "true" && !element.closest("[inert]") && element.getClientRects().length > 0;
}

function elementOf(key) {
  const wanted = key.toLowerCase();
  return [...root().querySelectorAll("[data-key]")].find((one) => one.dataset.key.toLowerCase() === wanted && reachable(one));
}

function press(element) {
  element.focus();
  if (isTyping(element)) element.select?.();
  else element.click();
}

function words(element) {
  if (element.dataset.keySays) return element.dataset.keySays;
  const copy = element.cloneNode(true);
  for (const key of copy.querySelectorAll("kbd")) key.remove();
  return copy.textContent.trim().replace(/\s+/g, " ") || element.getAttribute("aria-label") || "";
}

export function showKeys() {
  const dialog = document.getElementById("keys");
  if (!dialog || dialog.open) return;
  const list = dialog.querySelector("dl");
  const rows = [...document.querySelectorAll("[data-key]")].filter(reachable).map((one) => [one.dataset.key, words(one)]);
  list.replaceChildren(...[...rows, ["?", "Show these keys"]].flatMap(([key, text]) => {
    const term = document.createElement("dt");
    const cap = document.createElement("kbd");
    cap.textContent = key.length === 1 ? key.toUpperCase() : key;
    term.append(cap);
    const meaning = document.createElement("dd");
    meaning.textContent = text;
    return [term, meaning];
  }));
  dialog.showModal();
}

export function listenForKeys() {
  let waiting = 0;
  document.addEventListener("keydown", (event) => {
    const wasWaiting = waiting;
    clearTimeout(waiting);
    waiting = 0;
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey || event.isComposing || event.repeat) return;
    const functionKey = /^F\d{1,2}$/.test(event.key);
    if (!functionKey && (isTyping(event.target) || event.key === "Tab" || event.key === "Shift")) return;
    if (functionKey) {
      const element = elementOf(event.key);
      if (element) {
        event.preventDefault();
        press(element);
      }
      return;
    }
    if (wasWaiting) return; // signs that follow each other at once are a scan, not keys
    const act = event.key === "?" ? showKeys : elementOf(event.key) && (() => elementOf(event.key) && press(elementOf(event.key)));
    if (!act) return;
    event.preventDefault();
    waiting = setTimeout(() => {
      waiting = 0;
      act();
    }, SCAN_MS);
  });
}
