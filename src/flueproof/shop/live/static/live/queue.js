// What was entered and is not at the shop yet: kept on this device in order, sent one after the other, each once.
// An entry keeps the page id and number it was made with, so that sending it again stores nothing twice.

const PREFIX = "flueproof-live:";
const LONGEST_WAIT_MS = 8000;

const bytes = crypto.getRandomValues(new Uint8Array(12));
export const pageId = `page-${[...bytes].map((one) => one.toString(16).padStart(2, "0")).join("")}`;

let number = 0;
let sending = false;
let failures = 0;
let timer = 0;
const listeners = new Set();
const answers = new Map();

export function nextNumber() {
  number += 1;
  return number;
}

function read(key) {
  try {
    const list = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(list) ? list : [];
  } catch {
    return [];
  }
}

function write(key, list) {
  if (list.length) localStorage.setItem(key, JSON.stringify(list));
  else localStorage.removeItem(key);
}

function keys() {
  const own = PREFIX + pageId;
  const others = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX) && key !== own);
  return [...others.sort(), own]; // what an earlier page left behind goes first
}

export function waiting() {
  return keys().reduce((sum, key) => sum + read(key).length, 0);
}

export function onQueue(listener) {
  listeners.add(listener);
}

function tell(why = "") {
  for (const listener of listeners) listener(waiting(), why);
}

export function csrf() {
  try {
    return JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"] ?? "";
  } catch {
    return "";
  }
}

// entry: {url, body}; done(result, ok) is called when the shop has answered for good.
export function enqueue(url, body, done) {
  const entry = { id: `${pageId}-${Date.now()}-${Math.random()}`, url, body, pressed: Date.now() };
  const key = PREFIX + pageId;
  write(key, [...read(key), entry]);
  answers.set(entry.id, done);
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
  if (answer.redirected || !(answer.headers.get("Content-Type") ?? "").includes("json")) throw new Error("signed-out");
  if (answer.status >= 500) throw new Error("away");
  return { ok: answer.ok, result: await answer.json() };
}

async function drain() {
  if (sending) return;
  sending = true;
  clearTimeout(timer);
  try {
    for (const key of keys()) {
      for (let list = read(key); list.length; list = read(key)) {
        const entry = list[0];
        const { ok, result } = await send(entry);
        write(key, read(key).filter((one) => one.id !== entry.id));
        failures = 0;
        tell();
        answers.get(entry.id)?.(result, ok);
        answers.delete(entry.id);
      }
    }
  } catch (error) {
    failures += 1;
    tell(error.message === "signed-out" ? "signed-out" : "away");
    timer = setTimeout(drain, Math.min(LONGEST_WAIT_MS, 500 * 2 ** failures));
  } finally {
    sending = false;
  }
}

export function startQueue() {
  window.addEventListener("online", drain);
  drain();
}
