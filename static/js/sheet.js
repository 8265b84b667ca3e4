// Whoever was in a part of the page that is replaced stays in it, also where the control pressed is gone.
let wasInside = false;
document.addEventListener("htmx:beforeSwap", (event) => {
  wasInside = event.detail.target.contains(document.activeElement);
});
document.addEventListener("htmx:afterSwap", (event) => {
  if (!wasInside || document.activeElement !== document.body) return;
  (event.target.querySelector("a[href], button") ?? document.getElementById("sheet")).focus();
});

// A print button prints; without scripts the browser's own menu does.
document.addEventListener("click", (event) => {
  if (event.target.closest?.("[data-print]")) window.print();
});
