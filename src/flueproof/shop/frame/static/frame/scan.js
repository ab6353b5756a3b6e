// A hardware scanner types like a keyboard, only faster, and ends with Enter. It works wherever the focus is:
// the signs do not stay in the field they fell into, and the page hears "flueproof:scan" with detail.text.
// A page that takes the scan calls event.preventDefault(); else the search takes it.
// A field with data-scan-here (or the search box) wants the scan itself and gets it like typing.
// Passwords and codes are never a scan, however fast they are typed: a key on the USB port types as a scanner does.

const MOST_GAP_MS = 50;
const MEAN_GAP_MS = 35;
const LEAST_SIGNS = 4;

const OWN = "[data-scan-here], input[type=password], [autocomplete=one-time-code]";
const NUMBER = /^[-+]?\d{0,6}[.,]?\d{0,3}$/;

let signs = "";
let first = 0;
let last = 0;
let field = null;
let before = "";

function forget() {
  signs = "";
  field = null;
}

function isScan() {
  if (field?.matches("[data-typed]") && NUMBER.test(signs)) return false; // a quick hand on the number pad
  return signs.length >= LEAST_SIGNS && (last - first) / (signs.length - 1) <= MEAN_GAP_MS;
}

function takesText(target) {
  return target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && !["checkbox", "radio", "button", "submit", "file"].includes(target.type));
}

function putBack() {
  if (!field || field.value === before) return;
  field.value = before;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

export function announce(text) {
  const event = new CustomEvent("flueproof:scan", { detail: { text }, bubbles: true, cancelable: true });
  if (!document.dispatchEvent(event)) return;
  const search = document.querySelector("form.search");
  if (!search) return;
  const address = new URL(search.action, location.href);
  address.searchParams.set("q", text);
  location.assign(address);
}

function hear(event) {
  if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
  if (event.target.closest?.(OWN)) return forget();
  if (event.key === "Enter" || event.key === "Tab") {
    if (isScan() && event.timeStamp - last <= MOST_GAP_MS * 2) {
      event.preventDefault();
      event.stopPropagation();
      const text = signs.trim();
      putBack();
      forget();
      announce(text);
    } else forget();
    return;
  }
  if (event.key.length !== 1 || event.repeat) return event.key === "Shift" ? undefined : forget();
  if (!signs || event.timeStamp - last > MOST_GAP_MS) {
    forget();
    first = event.timeStamp;
    field = takesText(event.target) ? event.target : null;
    before = field?.value ?? "";
  }
  signs += event.key;
  last = event.timeStamp;
}

export function listenForScans() {
  document.addEventListener("keydown", hear, { capture: true });
}
