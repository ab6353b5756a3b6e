// A form with data-guard asks before the page is left while something typed is not saved.

const touched = new Set();

export function guardTyping() {
  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (form?.matches("[data-guard]")) touched.add(form);
  });
  document.addEventListener("submit", (event) => touched.delete(event.target));
  document.addEventListener("reset", (event) => touched.delete(event.target));
  document.addEventListener("htmx:sendError", (event) => {
    const form = event.target.closest?.("form[data-guard]");
    if (form) touched.add(form);
  });
  window.addEventListener("beforeunload", (event) => {
    for (const form of touched) if (!form.isConnected) touched.delete(form);
    if (touched.size) event.preventDefault();
  });
}
