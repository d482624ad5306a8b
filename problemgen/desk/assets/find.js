import { say } from "./send.js";

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
