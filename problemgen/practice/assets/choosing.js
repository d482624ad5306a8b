// Which problem comes next.

import { rules } from "./rules.js";
import { dueFamilies, familyOf } from "./spacing.js";

/** The mistakes that every class makes and that can be made in a template, by family. */
export function familiesOf(template) {
  const near = template.key.tries.steps.flat().filter(([, , rank]) => rank <= rules.mistakes.pairs_up_to);
  return new Set(near.map(([id]) => familyOf(id)));
}

const anyOf = (list, random) => list[Math.min(Math.floor(random() * list.length), list.length - 1)];

/** The templates of a choice: topic "" and level 0 stand for all. */
export function templatesFor(templates, topic, level) {
  return templates.filter((one) => (!topic || one.topic === topic) && (!level || one.level === level));
}

/** A problem of a template that was not seen yet; where all were, any but the present one. */
export function freshProblem(problems, template, seen, present, random) {
  const own = problems.filter((problem) => problem.template === template);
  const fresh = own.filter((problem) => !seen.includes(problem.code));
  const others = own.filter((problem) => problem.code !== present);
  return anyOf(fresh.length ? fresh : others.length ? others : own, random);
}

/** The template to go on with: one in which a mistake that is due can be made, else one that was seen least. */
export function nextTemplate(templates, record, present, random) {
  const others = templates.filter((one) => one.id !== present);
  const from = others.length ? others : templates;
  for (const family of dueFamilies(record.mistakes)) {
    const fitting = from.filter((one) => familiesOf(one).has(family));
    if (fitting.length) return anyOf(fitting, random);
  }
  const times = (one) => (record.seen[one.id] ?? []).length;
  const least = Math.min(...from.map(times));
  return anyOf(
    from.filter((one) => times(one) === least),
    random,
  );
}

/** A harder template: of the same topic where there is one, else of any; null at the top. */
export function harderTemplate(templates, present, random) {
  const harder = templates.filter((one) => one.level > present.level);
  if (!harder.length) return null;
  const near = harder.filter((one) => one.topic === present.topic);
  const from = near.length ? near : harder;
  const least = Math.min(...from.map((one) => one.level));
  return anyOf(
    from.filter((one) => one.level === least),
    random,
  );
}
