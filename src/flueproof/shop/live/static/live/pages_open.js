// This page's id, and which other pages of the shop are open in this browser: each is asked and answers for itself.
// (The browser's locks would tell the same, but are not there without HTTPS.)

const ANSWERS_WITHIN_MS = 300;

const bytes = crypto.getRandomValues(new Uint8Array(10));
const time = Date.now().toString(36).padStart(9, "0"); // so that ids sort by age
export const pageId = `page-${time}-${[...bytes].map((one) => one.toString(16).padStart(2, "0")).join("")}`;

const channel = new BroadcastChannel("flueproof-live");

// Answer whoever asks.
export function onAsked() {
  channel.addEventListener("message", ({ data }) => {
    if (data.ask) channel.postMessage({ here: pageId });
  });
}

// Return the ids of the other pages that are open.
export function others() {
  return new Promise((resolve) => {
    const found = new Set();
    const take = ({ data }) => { if (data.here) found.add(data.here); };
    channel.addEventListener("message", take);
    channel.postMessage({ ask: true });
    setTimeout(() => {
      channel.removeEventListener("message", take);
      resolve(found);
    }, ANSWERS_WITHIN_MS);
  });
}
