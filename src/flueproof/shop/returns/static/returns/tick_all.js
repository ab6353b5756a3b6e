// "All of it goes back": ticks every box of the list before the button. A form that is sent again holds them as ticked.
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-tick-all]");
  if (!button) return;
  const list = button.closest("section").querySelector("[data-tick-group]");
  for (const box of list.querySelectorAll("input[type=checkbox]")) {
    if (box.checked) continue;
    box.checked = true;
    box.dispatchEvent(new Event("change", { bubbles: true }));
  }
});
