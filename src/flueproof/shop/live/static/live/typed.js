// The large fields: each value goes out the moment it is entered, is read back in words, and asked back once when far.
import { enqueue, nextNumber, pageId } from "./queue.js";

const SHORT = { O: "OVER", U: "UNDER", "-": "----" };

function wordsOf(field) {
  return field.closest(".cell").querySelector(".words");
}

export function post(panel, field) {
  const shown = SHORT[field.value.trim().toUpperCase()] ?? field.value.trim();
  field.value = shown;
  field.dataset.state = "waits";
  const words = wordsOf(field);
  words.textContent = "";
  words.removeAttribute("data-wrong");
  const sequence = nextNumber();
  field.dataset.sequence = sequence;
  const body = { source: pageId, sequence, channel: field.dataset.channel, mark_s: Number(field.dataset.mark), shown };
  if (field.dataset.withPhoto) body.photo = field.dataset.withPhoto;
  enqueue(panel.dataset.type, body, (result, ok) => {
    if (Number(field.dataset.sequence) !== sequence) return;
    field.dataset.state = ok ? "kept" : "refused";
    field.toggleAttribute("aria-invalid", !ok);
    if (!ok) words.setAttribute("data-wrong", "");
    words.textContent = ok ? (result.words ? `✓ ${result.words}` : "") : result.error?.message ?? "Not kept.";
    if (ok && result.asks) ask(panel, field, result.asks);
  });
}

function ask(panel, field, question) {
  const place = panel.querySelector(".live-asks");
  const box = document.createElement("div");
  box.className = "caution";
  box.setAttribute("role", "alert");
  const text = document.createElement("p");
  text.textContent = question;
  const yes = button("Yes, as shown", () => box.remove());
  const no = button("Correct it", () => {
    box.remove();
    field.focus();
    field.select();
  });
  box.append(text, yes, no);
  place.append(box);
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "act quiet";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function fields(panel) {
  return [...panel.querySelectorAll("[data-typed]")];
}

function move(panel, field, key) {
  const all = fields(panel);
  const same = all.filter((one) => one.dataset.channel === field.dataset.channel);
  const to = key === "Enter" ? all[all.indexOf(field) + 1] : same[same.indexOf(field) + (key === "ArrowDown" ? 1 : -1)];
  if (to) {
    to.focus();
    to.select();
  } else if (key === "Enter") {
    field.blur();
    panel.querySelector("[data-finish] button")?.focus();
  }
}

export function mountTyped(panel, timer) {
  const start = panel.querySelector("[data-start]");
  start?.addEventListener("submit", (event) => {
    event.preventDefault();
    if (timer.running || !timer.mayStart()) return;
    timer.start(0);
    enqueue(panel.dataset.gasOn, { ago_s: 0 }, (result, ok) => {
      if (ok) timer.sync(result.on_for_ms);
    });
    if (panel.querySelector("details.by-hand")?.open) fields(panel).find((one) => !one.value)?.focus();
  });
  panel.addEventListener("change", (event) => {
    if (event.target.matches("[data-typed]")) post(panel, event.target);
  });
  panel.addEventListener("keydown", (event) => {
    if (!event.target.matches("[data-typed]") || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "F6") {
      event.preventDefault();
      event.target.closest(".cell").querySelector("[data-camera]").click();
    } else if (["Enter", "ArrowDown", "ArrowUp"].includes(event.key) && !event.defaultPrevented) {
      event.preventDefault();
      move(panel, event.target, event.key);
    }
  });
}

// What another device typed; a field that is being typed into, or not yet at the shop, is left alone.
export function takeCells(panel, cells) {
  for (const cell of cells) {
    const field = panel.querySelector(`[data-typed][data-channel="${CSS.escape(cell.channel)}"][data-mark="${cell.mark}"]`);
    if (!field || field === document.activeElement || ["waits", "refused"].includes(field.dataset.state)) continue;
    if (field.value !== cell.value) {
      field.value = cell.value;
      wordsOf(field).textContent = cell.words;
    }
    if (cell.photo && field.dataset.withPhoto !== cell.photo) {
      field.dataset.withPhoto = cell.photo;
    }
  }
}
