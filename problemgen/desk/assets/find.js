import { say, send } from "./send.js";

// Fields with data-find: what is typed leaves of a list what has all the words; Enter goes to the first. Choices with
// data-narrow leave what has the one that is chosen among those of its own attribute of that name, "a|b".

for (const field of document.querySelectorAll("[data-find]")) {
  const list = document.getElementById(field.dataset.find);
  const told = document.getElementById("found");
  const choices = [...document.querySelectorAll("[data-narrow]")];
  const fits = (one) =>
    choices.every(({ value, dataset }) => value === "" || one.dataset[dataset.narrow].split("|").includes(value));
  const find = () => {
    const asked = field.value.toLowerCase().split(/\s+/u).filter(Boolean);
    let count = 0;
    for (const one of list.children) {
      one.hidden = !asked.every((word) => one.dataset.words.includes(word)) || !fits(one);
      if (!one.hidden) count += 1;
    }
    told.textContent = field.dataset.told.replace("{count}", count).replace("{all}", list.children.length);
  };
  field.addEventListener("input", find);
  for (const choice of choices) choice.addEventListener("change", find);
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    list.querySelector("li:not([hidden]) a")?.focus();
  });
  find();
}

// Looking up takes a while the first time, for tables of substances are read: it is said, until the button is free again.
for (const form of document.querySelectorAll("form[data-busy]")) {
  const told = form.querySelector(".busy");
  new MutationObserver(() => {
    const busy = form.querySelector("[type=submit]").disabled;
    told.textContent = busy ? form.dataset.busy : "";
    if (busy) say(form.dataset.busy);
  }).observe(form.querySelector("[type=submit]"), { attributeFilter: ["disabled"] });
}

// A button with data-fill fills the form of its data-into with what is known; the cursor stands in the
// field of its data-to.
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-fill]");
  if (button === null) return;
  const form = document.getElementById(button.dataset.into);
  for (const [name, value] of Object.entries(JSON.parse(button.dataset.fill))) form.elements[name].value = value;
  form.querySelector(".told").textContent = "";
  if (form.dataset.over !== undefined) document.getElementById(form.dataset.over).textContent = "";
  const around = form.closest("details");
  if (around !== null) around.open = true;
  form.elements[button.dataset.to].focus();
});

// What was looked up is looked up again when a substance of it has been written.
const added = document.getElementById("added-substance");
if (added !== null) {
  new MutationObserver(() => {
    const asked = document.getElementById("own-reaction");
    if (added.childElementCount > 0 && document.getElementById("looked-up").childElementCount > 0) void renew(asked);
  }).observe(added, { childList: true });
}

async function renew(form) {
  const answer = await send(form.getAttribute("action"), new FormData(form));
  if (answer.ok && answer.html) document.getElementById("looked-up").innerHTML = answer.html;
}
