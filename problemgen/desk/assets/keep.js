// A form that shows a file of the course: it is sent as a whole; what is not saved is said, and asked about before the
// page is left; and it is said where the file changes in another tab or by an editor.

import { say, send, show } from "./send.js";

/** Look after a form: `wanted` gives what it holds, `fields` what is sent of that. Gives what says whether it is saved. */
export function keep(form, wanted, fields) {
  const told = document.getElementById("kept");
  const text = () => JSON.stringify(wanted());
  let saved = text();
  let word = new URL(location.href).searchParams.has("saved") ? form.dataset.saved : "";

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = form.querySelector("[type=submit]");
    const now = wanted();
    button.disabled = true;
    const answer = await send(form.getAttribute("action"), fields(now));
    button.disabled = false;
    if (answer.go === undefined) {
      show(form.querySelector(".save .told"), answer);
      return;
    }
    saved = JSON.stringify(now);
    location.assign(answer.go);
  });

  addEventListener("beforeunload", (event) => {
    if (text() !== saved) event.preventDefault();
  });

  document.addEventListener("renewed", (event) => {
    const fresh = event.detail.getElementById(form.getAttribute("id")); // a field may be called "id", and hides it
    const elsewhere = document.getElementById("elsewhere");
    if (fresh !== null && elsewhere !== null) elsewhere.hidden = fresh.dataset.seen === form.dataset.seen;
  });

  if (word !== "") {
    say(word);
    history.replaceState(null, "", location.pathname + location.hash);
  }
  return () => {
    const isSaved = text() === saved;
    if (!isSaved) word = "";
    told.textContent = isSaved ? word : form.dataset.unsaved;
  };
}
