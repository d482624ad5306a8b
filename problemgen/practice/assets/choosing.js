// Which problem comes next, and why.
//
// First an idea that was missed and is due; then the first idea in the order of the course that is not steady yet, one
// that was met before going before a new one; when all are steady, a mixture of the hardest that were seen least. Of the
// templates that exercise the idea, at the student's level or below, the one that asks least of other ideas that are not
// steady. The level begins at 1, rises after two problems running without a mistake and without help, and falls after
// two with a mistake (own choice).

import { dueIdeas, missedLately, stateOf } from "./ideas.js";

const HARDEST = 5;
const RUNNING = 2;

const anyOf = (list, random) => list[Math.min(Math.floor(random() * list.length), list.length - 1)];

/** The least of a list by a measure: all that have it. */
function allLeast(list, measure) {
  const sizes = list.map(measure);
  const least = Math.min(...sizes);
  return list.filter((_, index) => sizes[index] === least);
}

/** Of a template's problems, by their codes, one that was not seen yet; where all were, any but the present one. */
export function freshCode({ codes }, seen, present, random) {
  const fresh = codes.filter((code) => !seen.includes(code));
  const others = codes.filter((code) => code !== present);
  return anyOf(fresh.length ? fresh : others.length ? others : codes, random);
}

/** The record after a problem that was tried was left: `clean` without a mistake and without help, or `missed`. */
export function afterProblem(record, { clean, missed }) {
  const streak = clean ? Math.max(record.streak, 0) + 1 : missed ? Math.min(record.streak, 0) - 1 : 0;
  if (streak >= RUNNING) return { ...record, level: Math.min(record.level + 1, HARDEST), streak: 0 };
  if (streak <= -RUNNING) return { ...record, level: Math.max(record.level - 1, 1), streak: 0 };
  return { ...record, streak };
}

/**
 * The template to go on with: { template, why: { key, values } }. `wish` is "", "easier", "harder" or "else"; `present`
 * is the template to leave, with the idea it was chosen for; what is chosen is { template, idea, drill, why }, `drill` the
 * label of the one question to ask, or ""; `ideas` are those of the page, in their order.
 */
export function nextStep({ templates, ideas }, record, wish, present, random) {
  const level = wishedLevel(record.level, present, wish);
  const others = templates.filter((one) => one !== present?.template);
  const pool = others.length ? others : templates;
  const isWithin = wish === "harder" ? (one) => one.level >= level : (one) => one.level <= level;
  const wanted = targets(ideas, record, wish === "else" ? present?.idea : "")
    .map(([key, why]) => ({ key, why, fitting: pool.filter((one) => one.ideas.includes(key)) }))
    .filter(({ fitting }) => fitting.length);
  const target = wanted.find(({ fitting }) => fitting.some(isWithin)) ?? wanted[0];
  if (target) return forIdea(target, isWithin, record, wish, random);
  const near = allLeast(pool, (one) => Math.abs(one.level - level));
  const seldom = allLeast(near, (one) => timesSeen(record, one));
  return { template: anyOf(seldom, random), idea: "", drill: "", why: { key: "mixture", values: {} } };
}

/** A problem for an idea: within the level, or the shortest there is. */
function forIdea({ key, why, fitting }, isWithin, record, wish, random) {
  const within = fitting.filter(isWithin);
  const near = within.length ? within : allLeast(fitting, (one) => one.level);
  const step = { template: bestOf(near, key, record, random), idea: key, why: whyOf(why, key, record) };
  return drilled(step, record, wish);
}

/** Every other problem of an idea is a drill, one question that asks for it alone, where there is one. */
function drilled(step, record, wish) {
  const isTurn = record.turn % 2 === 1 && wish !== "harder";
  return { ...step, drill: (isTurn && step.template.drills[step.idea]) || "" };
}

function wishedLevel(level, present, wish) {
  const from = present?.template.level ?? level;
  if (wish === "easier") return Math.max(from - 1, 1);
  return wish === "harder" ? Math.min(from + 1, HARDEST) : level;
}

/** The ideas to go for, in their order, each with the reason; one may be left out. */
function targets(ideas, record, leftOut) {
  const keys = ideas.map((one) => one.key).filter((key) => !record.wanted || key === record.wanted);
  const due = dueIdeas(record).filter((key) => keys.includes(key));
  const inState = (state) => keys.filter((key) => stateOf(record, key) === state);
  const all = [
    ...due.map((key) => [key, "again"]),
    ...inState("shaky").map((key) => [key, "shaky"]),
    ...inState("new").map((key) => [key, "new"]),
    ...(record.wanted ? [[record.wanted, "wanted"]] : []),
  ];
  return all.filter(([key]) => key !== leftOut);
}

const timesSeen = (record, template) => (record.seen[template.id] ?? []).length;

function bestOf(templates, key, record, random) {
  const burden = (one) => one.ideas.filter((other) => other !== key && stateOf(record, other) !== "steady").length;
  const lightest = allLeast(templates, (one) => burden(one) + timesSeen(record, one));
  return anyOf(
    allLeast(lightest, (one) => one.level),
    random,
  );
}

function whyOf(why, key, record) {
  const [missed, of] = missedLately(record, key);
  return { key: why === "again" && !missed ? "shaky" : why, values: { idea: key, missed, of } };
}
