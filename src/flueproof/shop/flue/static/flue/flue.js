// The O2 slider and its field move together; a field with a message beside it says so to readers.
function field(slider) {
  return document.getElementById(slider.dataset.slides);
}

for (const slider of document.querySelectorAll("input[data-slides]")) {
  const number = field(slider);
  const follow = () => {
    const value = Number.parseFloat(number.value.replace(",", "."));
    if (Number.isFinite(value)) slider.value = value;
  };
  slider.addEventListener("input", () => { number.value = Number.parseFloat(slider.value).toFixed(1); });
  number.addEventListener("input", follow);
  follow();
  slider.closest("[hidden]").hidden = false;
}

document.addEventListener("htmx:afterSettle", () => {
  for (const wrong of document.querySelectorAll("#flue-form .wrong")) {
    const about = document.getElementById(wrong.id.replace(/_wrong$/, ""));
    if (!about) continue;
    if (wrong.textContent.trim()) about.setAttribute("aria-invalid", "true");
    else about.removeAttribute("aria-invalid");
  }
});
