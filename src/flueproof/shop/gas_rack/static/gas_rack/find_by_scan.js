// A scan opens the bottle, or, in the morning check, goes to its first field. Print buttons print.
document.addEventListener("flueproof:scan", (event) => {
  event.preventDefault();
  const code = event.detail.text;
  const here = [...document.querySelectorAll("[data-code]")].find((one) => one.dataset.code.toLowerCase() === code.trim().toLowerCase());
  if (here) {
    here.querySelector("input:not([type=hidden])")?.focus();
    return;
  }
  const address = new URL(document.querySelector("[data-find-address]").dataset.findAddress, location.href);
  address.searchParams.set("code", code);
  location.assign(address);
});
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});
