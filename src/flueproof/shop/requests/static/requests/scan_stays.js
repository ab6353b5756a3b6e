// On the public pages a scan, or a program that types as fast as one, stays in the field it fell into.

document.addEventListener("flueproof:scan", (event) => {
  const field = document.activeElement;
  if (!field?.matches("input:not([type=checkbox], [type=radio]), textarea")) return;
  event.preventDefault();
  field.value += event.detail.text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
});
