// All topics at once, or none.

for (const button of document.querySelectorAll("[data-all]")) {
  button.addEventListener("click", () => {
    for (const one of document.querySelectorAll("#topics input")) one.checked = button.dataset.all !== "";
  });
}
