// The running measurement on a page: mounts each panel once, also those that come in later.
import { Timer } from "./timer.js";
import { mountTyped, takeCells } from "./typed.js";
import { mountPhotos } from "./photo.js";
import { Follower } from "./stream.js";
import { onQueue, onRefused, startQueue, waiting } from "./queue.js";
import { say } from "../frame/messages.js";

const mounted = new WeakSet();

function mount(panel, fresh = false) {
  if (mounted.has(panel)) return;
  mounted.add(panel);
  const timer = new Timer(panel);
  if (panel.dataset.type) {
    mountTyped(panel, timer);
    mountPhotos(panel);
  }
  if (panel.dataset.running && fresh) arrive(panel);
  new Follower(panel, (state) => take(panel, timer, state));
}

function take(panel, timer, state) {
  if (String(state.running ?? "") !== (panel.dataset.running ?? "")) return changed(panel);
  timer.sync(state.on_for_ms);
  const trace = panel.querySelector(".live-trace");
  if (trace) trace.innerHTML = state.html;
  takeCells(panel, state.cells);
  foldTyped(panel, state.captured);
  const form = panel.querySelector("form[data-finish]");
  if (state.enough && form && panel.querySelector("[data-by-itself]")?.checked && !panel.dataset.finishing) {
    panel.dataset.finishing = "yes";
    form.requestSubmit();
  }
}

// Once an agent delivers every channel, the fields fold away, unless something was typed into them.
function foldTyped(panel, captured) {
  const fold = panel.querySelector("details.by-hand");
  if (!captured || !fold?.open || panel.dataset.folded) return;
  if ([...fold.querySelectorAll("[data-typed]")].some((field) => field.value)) return;
  panel.dataset.folded = "yes";
  fold.open = false;
}

function changed(panel) {
  if ("follow" in panel.dataset) return location.reload();
  if (panel.dataset.finishing) return; // its own answer is on the way
  for (const name of ["flueproof:refresh", "flueproof:recorded"]) document.body.dispatchEvent(new CustomEvent(name, { bubbles: true }));
}

// Nothing is recorded while a value is still on this device only.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches?.("form[data-finish]")) return;
  if (!waiting()) {
    form.closest("[data-live]").dataset.finishing = "yes"; // the answer to it says what was recorded, not the stream
    return;
  }
  event.preventDefault();
  event.stopImmediatePropagation();
  form.dataset.waits = "yes";
}, { capture: true });

onQueue((count, why) => {
  for (const line of document.querySelectorAll(".live-queue")) {
    line.hidden = !count || !why;
    if (why === "signed-out") line.textContent = `Signed out: ${count} entered here and not at the shop yet. Sign in again in another tab; they are sent then.`;
    else if (why) line.textContent = `The shop's computer does not answer: ${count} entered here and not there yet. They are kept on this device and sent in order.`;
  }
  if (count) return;
  for (const form of document.querySelectorAll("form[data-finish][data-waits]")) {
    delete form.dataset.waits;
    form.requestSubmit();
  }
});

onRefused((body, why) => {
  const what = "shown" in body ? `${body.channel} ${body.shown || "(emptied)"} at ${body.mark_s} s` : "the start of the timer";
  say(`Entered earlier on this device and not kept: ${what}. ${why}`, "error");
});

// A measurement that has just come onto the page is brought before the eye, its first key ready.
function arrive(panel) {
  panel.scrollIntoView({ block: "start" });
  panel.querySelector("[data-start]:not([hidden]) button")?.focus({ preventScroll: true });
}

function mountAll(root, fresh) {
  for (const timer of root.querySelectorAll?.("[data-set-timer]") ?? []) {
    if (!mounted.has(timer)) new Timer(timer);
    mounted.add(timer);
  }
  if (fresh) root.querySelector?.(".live-recorded")?.scrollIntoView({ block: "center" });
  if (root.matches?.("[data-live]")) mount(root, fresh);
  for (const panel of root.querySelectorAll?.("[data-live]") ?? []) mount(panel, fresh);
}

document.addEventListener("htmx:load", (event) => mountAll(event.detail.elt ?? event.target, true));
document.addEventListener("htmx:afterRequest", (event) => {
  const panel = event.target.closest?.("[data-live]");
  if (panel && !event.detail.successful) delete panel.dataset.finishing;
});
startQueue();
mountAll(document, false);
