// The print button: the browser prints the page as it is; the style sheet for paper leaves away what is only for hands.

for (const button of document.querySelectorAll("[data-print]")) {
  button.addEventListener("click", () => window.print());
}
