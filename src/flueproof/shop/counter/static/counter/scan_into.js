// A scan goes into a field of the form and presses nothing: the plate of an analyzer or a cell is read by scanner.
// <input data-scan-into>: the one that has the focus, else the first on the page, takes the scan in place of the search.

document.addEventListener("flueproof:scan", (event) => {
  const focused = document.activeElement;
  const field = focused?.matches("[data-scan-into]") ? focused : document.querySelector("[data-scan-into]");
  if (!field) return;
  event.preventDefault();
  field.value = event.detail.text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  field.focus();
});
