// The paths from what a student knows to what is asked, and where they lead with something worked otherwise. A path starts
// at what was answered before: only the steps behind it may have gone astray.

import { plainValue } from "./floats.js";

/** The extent of the reaction, by which the limiting reagent was chosen. */
export const EXTENT = "extent()";
export const extentOf = (source) => `extent(${source})`;

/** The steps that one quantity needs where some others are known already, its own last, in order. */
export function stepsSince(plan, name, known) {
  const needed = new Set([name]);
  const picked = [];
  for (const step of [...plan.steps].reverse()) {
    if (!needed.has(step.id)) continue;
    for (const one of step.needs) if (!known.has(one)) needed.add(one);
    picked.unshift(step);
  }
  return picked;
}

/** Of some steps in order, those that change when the named quantities do. */
function staleSteps(steps, changed) {
  const dirty = new Set(changed);
  return steps.filter((step) => {
    const isStale = dirty.has(step.id) || step.needs.some((one) => dirty.has(one));
    if (isStale) dirty.add(step.id);
    return isStale;
  });
}

/** The values after a way: those that it changes in the place of the others. */
export function workedAlong(way, values) {
  const result = new Map(values);
  for (const [name, expression] of way.steps) result.set(name, plainValue(expression, result));
  return result;
}

/** The way of some tries. Who has named a limiting reagent goes on with that one, unless it is there that they err. */
function wayOf(tries, steps, anew, chosen) {
  const instead = new Map(tries.map((one) => [one.step, one.expression]));
  const worked = new Map([...(chosen ? [[EXTENT, extentOf(chosen)]] : []), ...instead]);
  const changed = anew ?? staleSteps(steps, instead.keys());
  return {
    tries,
    rank: Math.max(...tries.map((one) => one.rank)),
    steps: changed.map((step) => [step.id, worked.get(step.id) ?? step.expression]),
  };
}

/** The same error at every step that it applies to, where there are several. */
function groupedTries(steps) {
  const groups = new Map();
  for (const one of steps.flatMap((step) => step.tries)) {
    if (!one.group) continue;
    if (!groups.has(one.group)) groups.set(one.group, new Map());
    const group = groups.get(one.group);
    if (!group.has(one.step)) group.set(one.step, one);
  }
  return [...groups.values()].filter((group) => group.size > 1).map((group) => Array.from(group.values()));
}

const chosenOn = (path) => (path.asked === EXTENT ? "" : path.chosen);
const keyOf = (path) => JSON.stringify([path.asked, path.chosen, [...path.known].sort()]);

function kept(plan, kind, path, work) {
  plan[kind] ??= new Map();
  const key = keyOf(path);
  if (!plan[kind].has(key)) plan[kind].set(key, work());
  return plan[kind].get(key);
}

/** All ways with one thing worked otherwise: at one step, or the same at every step along the path. */
export const waysAlong = (plan, path) =>
  kept(plan, "ways", path, () => {
    const chosen = chosenOn(path);
    const steps = stepsSince(plan, path.asked, path.known);
    const alone = steps.flatMap((step) => step.tries.map((one) => [one]));
    const found = [...alone, ...groupedTries(steps)].map((tries) => wayOf(tries, steps, null, chosen));
    for (const route of plan.routes.filter((one) => one.to === path.asked)) {
      const off = route.steps.filter((step) => !step.isOnPlan).flatMap((step) => step.tries);
      found.push(...off.map((one) => wayOf([one], route.steps, route.steps, chosen)));
    }
    return found;
  });

/** All ways with two things worked otherwise, at two steps of the path; tries of a rank up to `most` alone. */
export const pairsAlong = (plan, path, most) =>
  kept(plan, "pairs", path, () => {
    const steps = stepsSince(plan, path.asked, path.known);
    const near = steps.flatMap((step) => step.tries).filter((one) => one.rank <= most);
    const pairs = near.flatMap((one, index) => near.slice(index + 1).map((other) => [one, other]));
    return pairs
      .filter(([one, other]) => one.step !== other.step)
      .map((pair) => wayOf(pair, steps, null, chosenOn(path)));
  });
