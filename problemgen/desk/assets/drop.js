// Dropping files onto a frame around a field of files; choosing one sends the form at once.

import { sendForm } from "./send.js";

for (const frame of document.querySelectorAll(".drop")) {
  const field = frame.querySelector("input[type=file]");
  for (const kind of ["dragenter", "dragover"]) {
    frame.addEventListener(kind, (event) => {
      if (!event.dataTransfer.types.includes("Files")) return;
      event.preventDefault();
      frame.classList.add("over");
    });
  }
  for (const kind of ["dragleave", "drop"]) frame.addEventListener(kind, () => frame.classList.remove("over"));
  frame.addEventListener("drop", (event) => {
    event.preventDefault();
    field.files = event.dataTransfer.files;
    field.dispatchEvent(new Event("change", { bubbles: true }));
  });
  field.addEventListener("change", () => {
    if (field.files.length === 0) return;
    void sendForm(field.form);
    field.value = ""; // sent already; the same file, once mended, may be chosen again, and another one meanwhile
  });
}
