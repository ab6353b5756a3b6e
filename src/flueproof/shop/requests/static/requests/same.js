// "The same for all" folds the other analyzers away; without this file they stand there and are not read.

const tick = document.querySelector("[data-same]");
const others = [...document.querySelectorAll(".one-of-others")];

function show() {
  for (const sheet of others) sheet.hidden = tick.checked;
}

if (tick) {
  tick.addEventListener("change", show);
  show();
}
