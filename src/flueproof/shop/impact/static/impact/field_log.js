// The field log by keyboard: Enter in a row goes on, in the last one it adds a row; a word stands while it works.
for (const table of document.querySelectorAll("table.typed")) {
  table.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
    event.preventDefault();
    const row = event.target.closest("tr");
    let next = row.nextElementSibling;
    const most = Number(table.dataset.most || 20);
    if (!next && row.parentElement.rows.length < most) {
      next = row.cloneNode(true);
      const number = row.parentElement.rows.length + 1;
      for (const wrong of next.querySelectorAll(".wrong")) wrong.remove();
      for (const control of next.querySelectorAll("input, select")) {
        if (control.tagName === "INPUT") control.value = "";
        control.removeAttribute("aria-invalid");
        control.removeAttribute("aria-describedby");
        control.setAttribute("aria-label", control.getAttribute("aria-label").replace(/\d+/, String(number)));
      }
      row.after(next);
    }
    next?.querySelector("input").focus();
  });
}

const word = document.querySelector("[data-working-word]");
for (const button of document.querySelectorAll("button[data-working]")) {
  button.addEventListener("click", () => { if (word) word.hidden = false; });
}
addEventListener("pageshow", () => { if (word) word.hidden = true; });

// What was answered or found comes into view, where the page has not gone there by itself.
const place = document.querySelector("#asked") ?? (location.hash === "#result" ? document.querySelector("#result") : null);
if (place) place.scrollIntoView({ block: "start" });
