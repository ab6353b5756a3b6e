// In a form of looks Enter goes to the next field, as tab would; on the last one it goes to the button.
document.addEventListener("keydown", (event) => {
  const form = event.target.closest?.("form[data-enter-goes-on]");
  if (event.key !== "Enter" || !form || event.target.tagName !== "INPUT") return;
  event.preventDefault();
  const stops = [...form.querySelectorAll("input:not([type=hidden]), select, button")].filter((one) => !one.disabled);
  stops[stops.indexOf(event.target) + 1]?.focus();
});
for (const select of document.querySelectorAll("form[data-choose] select")) {
  select.addEventListener("change", () => select.form.requestSubmit());
}
