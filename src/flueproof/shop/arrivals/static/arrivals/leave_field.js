// Escape leaves the field that is typed into, so that the keys 1 to 9 take a candidate. A scan goes into the serial.

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && document.activeElement?.closest("#clues")) document.activeElement.blur();
});

document.addEventListener("flueproof:scan", (event) => {
  const field = document.querySelector("#clues [data-scan-into]");
  if (!field) return;
  event.preventDefault();
  field.value = event.detail.text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
});
