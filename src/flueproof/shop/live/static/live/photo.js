// A photo of the display beside a typed value, from this device's camera or the tablet's on the same page.
import { csrf } from "./queue.js";
import { post } from "./typed.js";
import { say } from "../frame/messages.js";

const AGAIN_MS = 4000;

async function upload(panel, file) {
  const form = new FormData();
  form.append("photo", file);
  const answer = await fetch(panel.dataset.photo, {
    method: "POST",
    headers: { Accept: "application/json", "X-CSRFToken": csrf() },
    body: form,
  });
  const json = (answer.headers.get("Content-Type") ?? "").includes("json");
  if (!json || answer.status >= 500) throw new Error("away");
  return { ok: answer.ok, result: await answer.json() };
}

async function send(panel, camera, file) {
  const mark = camera.closest(".camera");
  const cell = camera.closest(".cell");
  mark.dataset.state = "sends";
  try {
    const { ok, result } = await upload(panel, file);
    delete mark.dataset.state;
    if (!ok) return say(result.error.message, "error");
    show(panel, cell, result.photo);
  } catch {
    if (panel.isConnected) setTimeout(() => send(panel, camera, file), AGAIN_MS);
  }
}

function show(panel, cell, photo) {
  const field = cell.querySelector("[data-typed]");
  field.dataset.withPhoto = photo;
  let link = cell.querySelector("a.photo");
  if (!link) {
    link = document.createElement("a");
    link.className = "photo";
    link.target = "_blank";
    link.rel = "noopener";
    link.textContent = "photo";
    cell.append(link);
  }
  link.href = panel.dataset.photoFile.replace("SHA", photo);
  if (field.value.trim()) post(panel, field);
  else cell.querySelector(".words").textContent = "photo kept, type what it shows";
}

export function mountPhotos(panel) {
  panel.addEventListener("change", (event) => {
    if (!event.target.matches("[data-camera]") || !event.target.files.length) return;
    event.stopPropagation();
    send(panel, event.target, event.target.files[0]);
    event.target.value = "";
  });
}
