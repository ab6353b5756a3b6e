// What was entered and is not at the shop yet: kept on this device in order, sent one after the other, each once.
// An entry keeps the page id and number it was made with, so that sending it again stores nothing twice.
import { pageId, others, onAsked } from "./pages_open.js";

export { pageId };

const PREFIX = "flueproof-live:";
const LONGEST_WAIT_MS = 8000;
const LOOK_AGAIN_MS = 5000;

let number = 0;
let entered = 0;
let sending = false;
let failures = 0;
let timer = 0;
let lookForLeft = true;
const own = new Map(); // key -> {entry, done}: sent from memory, the storage is for the day this page goes away
const listeners = new Set();
const refusals = new Set();

export function nextNumber() {
  number += 1;
  return number;
}

// One key an entry, so that two tabs never write over each other's list.
function keysThere() {
  return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX)).sort();
}

function pageOf(key) {
  return key.slice(PREFIX.length).split(":")[0];
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}

export function waiting() {
  return new Set([...keysThere(), ...own.keys()]).size;
}

export function onQueue(listener) {
  listeners.add(listener);
}

// What an earlier page had entered and the shop would not take: nobody else is left to say so.
export function onRefused(listener) {
  refusals.add(listener);
}

function tell(why = "") {
  for (const listener of listeners) listener(waiting(), why);
}

export function csrf() {
  const cookie = document.cookie.split("; ").find((one) => one.startsWith("csrftoken="));
  if (cookie) return cookie.slice("csrftoken=".length); // it changes when somebody signs in anew in another tab
  try {
    return JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"] ?? "";
  } catch {
    return "";
  }
}

// done(result, ok) is called when the shop has answered for good.
export function enqueue(url, body, done) {
  entered += 1;
  const key = `${PREFIX}${pageId}:${String(entered).padStart(9, "0")}`;
  const entry = { url, body, pressed: Date.now() };
  own.set(key, { entry, done });
  try {
    localStorage.setItem(key, JSON.stringify(entry));
  } catch { /* no room on this device: it lives as long as this page */ }
  tell();
  drain();
}

function bodyOf(entry) {
  return "ago_s" in entry.body ? { ...entry.body, ago_s: (Date.now() - entry.pressed) / 1000 } : entry.body;
}

async function send(entry) {
  const answer = await fetch(entry.url, {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json", "X-CSRFToken": csrf() },
    body: JSON.stringify(bodyOf(entry)),
  });
  if (answer.status === 404) return { ok: false, result: { error: { message: "This measurement is not there any more." } } };
  if (answer.redirected || !(answer.headers.get("Content-Type") ?? "").includes("json")) throw new Error("signed-out");
  if (answer.status >= 500) throw new Error("away");
  return { ok: answer.ok, result: await answer.json() };
}

async function deliver(key, entry, done) {
  const { ok, result } = await send(entry);
  own.delete(key);
  localStorage.removeItem(key);
  failures = 0;
  tell();
  done(result, ok);
}

// What pages that are closed have left behind; a page that is still open sends its own.
async function deliverLeft() {
  const foreign = () => keysThere().filter((key) => pageOf(key) !== pageId);
  if (!foreign().length) return;
  const open = await others();
  for (const key of foreign().filter((one) => !open.has(pageOf(one)))) {
    const entry = read(key);
    if (!entry?.url || !entry.body) localStorage.removeItem(key);
    else await deliver(key, entry, (result, ok) => { if (!ok) refused(entry, result.error?.message ?? ""); });
  }
}

function refused(entry, why) {
  for (const listener of refusals) listener(entry.body, why);
}

async function drain() {
  if (sending) return;
  sending = true;
  clearTimeout(timer);
  try {
    if (lookForLeft) await deliverLeft();
    lookForLeft = false;
    while (own.size) {
      const [key, { entry, done }] = own.entries().next().value;
      await deliver(key, entry, done);
    }
    if (waiting()) again(LOOK_AGAIN_MS);
  } catch (error) {
    failures += 1;
    tell(error.message === "signed-out" ? "signed-out" : "away");
    again(Math.min(LONGEST_WAIT_MS, 500 * 2 ** failures));
  } finally {
    sending = false;
  }
}

function again(afterMs) {
  lookForLeft = true;
  timer = setTimeout(drain, afterMs);
}

export function startQueue() {
  onAsked();
  window.addEventListener("online", () => again(0));
  window.addEventListener("storage", () => tell()); // another tab entered or sent something
  drain();
}
