// What the page says back, in one quiet place that readers announce (#messages, aria-live).
// A view says it by Django's messages, a fragment by the header HX-Trigger: {"flueproof:say": {"text": "...", "level": "success"}},
// a module by say("...", "error"). Good news leaves after a while; a warning or an error stays until it is closed.

const GOOD_NEWS_MS = 6000;
const MOST = 3;

export function say(text, level = "info") {
  const place = document.getElementById("messages");
  if (!place) return;
  for (const old of place.querySelectorAll(".message")) if (old.querySelector("p")?.textContent === text) old.remove();
  const message = document.createElement("div");
  message.className = `message ${level}`;
  const words = document.createElement("p");
  words.textContent = text;
  const close = document.createElement("button");
  close.type = "button";
  close.dataset.close = "";
  close.textContent = "Close";
  message.append(words, close);
  place.append(message);
  while (place.children.length > MOST) place.firstElementChild.remove();
  leaveLater(message);
}

function leaveLater(message) {
  if (message.matches(".error, .warning")) return;
  const leave = () => (message.matches(":hover, :focus-within") ? setTimeout(leave, GOOD_NEWS_MS) : message.remove());
  setTimeout(leave, GOOD_NEWS_MS);
}

export function listenForMessages() {
  for (const message of document.querySelectorAll("#messages .message")) leaveLater(message);
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-close]")) event.target.closest(".message")?.remove();
  });
  document.addEventListener("flueproof:say", (event) => {
    for (const one of event.detail.messages ?? [event.detail]) say(one.text ?? one.value, one.level);
  });
  document.addEventListener("htmx:sendError", () => say("The shop's computer does not answer. What you typed is still here; try again.", "error"));
  document.addEventListener("htmx:responseError", (event) => {
    const status = event.detail.xhr.status;
    const text = event.detail.xhr.getResponseHeader("Flueproof-Says");
    say(text ? decodeURIComponent(text) : `That did not work (${status}). What you typed is still here.`, "error");
  });
}
