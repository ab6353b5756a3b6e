// A scan fills the first empty field that waits for a code, else opens what was scanned. In forms for hands Enter goes
// to the next field and only F2 sends, so that a scanner's Enter never sends half a form. Print buttons print.
document.addEventListener("flueproof:scan", (event) => {
  event.preventDefault();
  const text = event.detail.text;
  const waiting = [...document.querySelectorAll("[data-takes-code]")].find((one) => !one.value);
  if (waiting) {
    waiting.value = text;
    waiting.dispatchEvent(new Event("input", { bubbles: true }));
    next(waiting);
    return;
  }
  const address = new URL(document.querySelector("[data-find-address]").dataset.findAddress, location.href);
  address.searchParams.set("code", text);
  location.assign(address);
});

function next(field) {
  const fields = [...field.form.querySelectorAll("input:not([type=hidden], [type=file]), textarea, select")];
  const after = fields[fields.indexOf(field) + 1] ?? field.form.querySelector("button");
  after.focus();
  after.select?.();
}

document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.defaultPrevented || !event.target.matches?.(".hands input")) return;
  event.preventDefault();
  next(event.target);
});
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});
(document.querySelector("main [aria-invalid=true]") ?? document.querySelector(".counting input[type=number], .hands [data-takes-code]"))?.focus();
