// The bench page: forms come into their place and take the focus; a scanned code is asked about and, when it is a
// cylinder that may be connected, put into the field that waits for one.
import { say } from "../frame/messages.js";

function firstField(place) {
  return place.querySelector("[aria-invalid=true]") ?? place.querySelector("[data-first] input, input[data-first], select[data-first], textarea[data-first]");
}

function takeFocus(place) {
  const field = firstField(place);
  if (!field) return;
  field.focus({ preventScroll: true });
  place.scrollIntoView({ block: "nearest" });
}

function fieldForScan() {
  const form = document.querySelector("#step-here form") ?? document.querySelector("form.begin");
  return form?.querySelector("[data-takes-scan]") ?? null;
}

function put(field, code) {
  if (field instanceof HTMLSelectElement && ![...field.options].some((one) => one.value === code)) {
    field.add(new Option(code, code));
  }
  field.value = code;
  field.dispatchEvent(new Event("change", { bubbles: true }));
  field.focus();
}

// A lot of the parts store: its code, and what the part is, stand in the form of a part; the serial is typed next.
function takePart(found) {
  const field = document.querySelector("#step-here form [data-takes-lot]");
  if (!field) return say(`${found.text} Open the form of a part, then scan it again.`, "info");
  const { what, serial } = field.form.elements;
  put(field, found.code);
  what.value = found.title;
  serial.focus();
  say(`${found.text} Selected.`, "success");
}

async function ask(text, job) {
  const address = new URL(document.querySelector("[data-scanned]").dataset.scanned, location.href);
  const point = document.querySelector("form.begin [name=point]")?.value ?? "";
  const inBegin = !document.querySelector("#step-here form");
  address.search = new URLSearchParams({ code: text, job, point: inBegin ? point : "" });
  const answer = await fetch(address, { headers: { Accept: "application/json" } });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.json();
}

function takeScans() {
  document.addEventListener("flueproof:scan", async (event) => {
    const page = document.querySelector("[data-scanned]");
    if (!page) return;
    event.preventDefault();
    try {
      const found = await ask(event.detail.text, page.dataset.job);
      if (found.what === "job" && found.address) location.assign(found.address);
      else if (found.what === "reference" && !found.refused) {
        const field = fieldForScan();
        if (field) put(field, found.code);
        say(field ? `${found.text} Selected.` : found.text, field ? "success" : "info");
      } else if (found.what === "part" && !found.refused) takePart(found);
      else say(found.text, "error");
    } catch {
      say(`“${event.detail.text}” could not be looked up. Try again, or choose it from the list.`, "error");
    }
  });
}

function keepStepWithUnit() {
  document.addEventListener("change", (event) => {
    const choice = event.target.closest?.("select[data-steps]");
    if (!choice) return;
    const steps = Object.fromEntries(choice.dataset.steps.split(" ").map((pair) => pair.split("=")));
    const field = choice.form?.elements[choice.dataset.stepField];
    if (field && steps[choice.value]) field.value = steps[choice.value];
  });
}

function closeByEscape() {
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !document.querySelector("dialog[open]")) document.querySelector("#step-here [data-close-step]")?.click();
  });
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-close-step]")) document.getElementById("step-here").replaceChildren();
  });
}

// Once something is recorded, what stood as next is past: no key opens it again until the page knows what comes now.
function waitForNext() {
  const next = () => document.getElementById("next-now");
  document.addEventListener("flueproof:recorded", () => next()?.setAttribute("inert", ""));
  for (const news of ["htmx:afterSwap", "htmx:sendError", "htmx:responseError"]) {
    document.addEventListener(news, (event) => {
      if (news !== "htmx:afterSwap" || event.detail.target.id === "changing") next()?.removeAttribute("inert");
    });
  }
}

// The warm-up counts down where the gas is about to be put on.
function countWarmUp() {
  const ends = new WeakMap();
  setInterval(() => {
    for (const line of document.querySelectorAll("[data-warm-in-s]")) {
      if (!ends.has(line)) ends.set(line, performance.now() + 1000 * Number(line.dataset.warmInS));
      const left = Math.ceil((ends.get(line) - performance.now()) / 1000);
      line.hidden = left <= 0;
      line.querySelector("b").textContent = left >= 60 ? `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")} min` : `${left} s`;
    }
  }, 500);
}

// What was recorded last is told until something more is in the record.
function forgetRecorded() {
  const at = Number(document.getElementById("position")?.dataset.position ?? 0);
  for (const card of document.querySelectorAll(".live-recorded[data-position]")) if (Number(card.dataset.position) < at) card.remove();
}

document.addEventListener("htmx:afterSwap", (event) => {
  forgetRecorded();
  if (event.detail.target.id === "live" && event.detail.target.querySelector("section[data-live]")) document.getElementById("step-here")?.replaceChildren();
  if (event.detail.target.id !== "step-here") return;
  window.htmx.process(event.detail.target); // at once, not when it settles: a quick F2 must not load the whole page
  takeFocus(event.detail.target);
});
takeScans();
keepStepWithUnit();
closeByEscape();
waitForNext();
countWarmUp();
