// A form that takes long says so, counts the seconds, and is not sent twice.

for (const form of document.querySelectorAll("form[data-waits]")) {
  form.addEventListener("submit", (event) => {
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    const place = form.querySelector(".waits");
    const began = Date.now();
    const tell = () => {
      const seconds = Math.round((Date.now() - began) / 1000);
      place.textContent = seconds < 2 ? form.dataset.waits : `${form.dataset.waits} ${seconds} s so far.`;
    };
    setTimeout(tell, 600);
    setInterval(tell, 5000);
  });
}

// Back in the browser shows the page as it was left: it may be sent again.
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-waits]")) {
    delete form.dataset.sent;
    form.querySelector(".waits").textContent = "";
  }
});
