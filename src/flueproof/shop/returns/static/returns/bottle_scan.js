// A scan on the page of a loan unit is the bottle that the unit is checked on: the page is asked for with it.
document.addEventListener("flueproof:scan", (event) => {
  event.preventDefault();
  const address = new URL(location.href);
  address.pathname = address.pathname.replace(/\/(lend|back|checked)$/, "");
  address.searchParams.set("bottle", event.detail.text);
  location.assign(address);
});
