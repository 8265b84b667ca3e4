// After a part of the page was replaced, the person is where the news is.
document.addEventListener("htmx:afterSwap", (event) => {
  const place = event.detail.target.querySelector?.("[data-focus]");
  if (place) place.focus();
});

// A print button prints; without scripts the browser's own menu does.
document.addEventListener("click", (event) => {
  if (event.target.closest?.("[data-print]")) window.print();
});
