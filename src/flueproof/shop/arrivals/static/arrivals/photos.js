// Photos are sent as soon as they are taken or chosen; without this the button sends them.

document.addEventListener("change", (event) => {
  const field = event.target.closest?.("[data-send-at-once]");
  if (field?.files.length) field.form.requestSubmit();
});
