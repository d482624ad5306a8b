// Forms with data-send: sent by fetch, for a form that a browser sends by itself says no origin under the policy that
// keeps addresses to ourselves, and the desk takes nothing without one.

import { look } from "./live.js";

/** Say something to who hears the page. */
export function say(text) {
  document.getElementById("live").textContent = text;
}

/** Send fields to an address; gives {go} or {html, ok}. With `keepalive` it is sent though the page is left. */
export async function send(address, body, keepalive = false) {
  try {
    const options = { method: "POST", body, credentials: "same-origin", redirect: "error", keepalive };
    const answer = await fetch(address, options);
    if ((answer.headers.get("content-type") ?? "").startsWith("application/json")) return answer.json();
    const text = await answer.text();
    return answer.headers.get("x-desk") === "fragment"
      ? { html: text, ok: answer.ok }
      : { html: "", text, ok: answer.ok };
  } catch {
    return { html: "", text: document.body.dataset.gone, ok: false };
  }
}

/** Show what was answered in an element: a piece of a page, or plain text; and bring it into view. */
export function show(element, answer) {
  if (answer.html) element.innerHTML = answer.html;
  else element.textContent = answer.text ?? "";
  const first = element.querySelector("[tabindex='-1']");
  if (first !== null) first.focus();
  element.scrollIntoView({ block: "nearest" });
}

/** Go where an answer says; an empty address is the page that is shown. */
export async function follow(address) {
  const target = new URL(address || location.href, location.href);
  if (address !== "" && target.href !== location.href) location.assign(target);
  else if (address === "") await look(true);
  else location.reload();
}

/** Send a form, and show what is answered. */
export async function sendForm(form, submitter) {
  const buttons = [...form.querySelectorAll("button")];
  const body = new FormData(form, submitter);
  for (const one of buttons) one.disabled = true;
  const answer = await send(submitter?.getAttribute("formaction") ?? form.getAttribute("action"), body);
  for (const one of buttons) one.disabled = false;
  const told = form.querySelector(".told");
  if (answer.go !== undefined) {
    told.textContent = "";
    if (form.dataset.atOnce !== undefined) location.reload();
    else await follow(answer.go);
    return;
  }
  show(answer.ok && form.dataset.over ? document.getElementById(form.dataset.over) : told, answer);
}

document.addEventListener("submit", (event) => {
  if (event.target.dataset.send === undefined) return;
  event.preventDefault();
  void sendForm(event.target, event.submitter);
});

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-at-once]");
  if (form !== null) form.requestSubmit();
});

// What was saved from another page's history would be an old state of the course.
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});
