// A fuel's form shows the rows of the chosen kind alone, and their sum while one types.
const form = document.querySelector("form.fuel-form");
const line = form.querySelector(".sum");

function chosen() {
  return form.querySelector("[name=kind]:checked")?.value === "gas" ? "gas" : "mass";
}

function follow() {
  const kind = chosen();
  for (const part of form.querySelectorAll("[data-parts]")) part.hidden = part.dataset.parts !== kind;
  let sum = 0;
  for (const field of form.querySelectorAll(`fieldset[data-parts="${kind}"] input`)) {
    const value = Number.parseFloat(field.value.replace(",", "."));
    if (Number.isFinite(value)) sum += value;
  }
  line.querySelector("output").textContent = String(Number(sum.toFixed(3)));
  const off = Number((100 - sum).toFixed(3));
  let says = "";
  if (Math.abs(off) > 0.5) says = off > 0 ? `(${off} % missing)` : `(${-off} % too much)`;
  line.querySelector("[data-sum-says]").textContent = says;
  line.hidden = false;
}

form.addEventListener("input", follow);
follow();
