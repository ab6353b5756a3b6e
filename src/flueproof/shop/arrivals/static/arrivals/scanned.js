// A scan anywhere on the page enters the box: it goes into the one field and is sent.

document.addEventListener("flueproof:scan", (event) => {
  const form = document.getElementById("scan-form");
  const field = document.getElementById("scan");
  if (!form || !field) return;
  event.preventDefault();
  field.value = event.detail.text;
  form.requestSubmit();
});
