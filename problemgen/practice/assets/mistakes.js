// Which usual mistakes explain an answer, and agree with all that was answered before. A single mistake goes before
// two made together; where several explain an answer, all of them are named.

import { EXTENT, touchedBy, unlessDividingByZero } from "./bench.js";
import { asFloat, variedFloats } from "./floats.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";
import { mistakenSteps } from "./windows.js";

/** Whether two ways to reach one value came out in floats as the same; `size` is what they are measured by. */
const isSameFloat = (one, other, size) => Math.abs(one - other) <= rules.likely_mistakes.same * Math.abs(size);
/** Whether two values are apart: not so where one of them could not be worked. */
const isOtherFloat = (one, other) => Math.abs(one - other) > rules.likely_mistakes.same * Math.abs(one);

/** The steps that mistakes made together rewrite; where two rewrite one step, the first stands. */
function rewritesOf(mistakes) {
  const rewrites = new Map();
  for (const mistake of mistakes) {
    for (const [name, expression] of mistake.rewrites) if (!rewrites.has(name)) rewrites.set(name, expression);
  }
  return rewrites;
}

/** Where all mistakes and pairs lead from one state of a problem, in floats. */
class Reached {
  constructor(plan, start) {
    this.plan = plan;
    this.right = new Map([...start].map(([name, window]) => [name, asFloat(window.value)]));
    this.singles = plan.mistakes.map((mistake) => variedFloats(plan.steps, this.right, rewritesOf([mistake])));
  }

  get pairs() {
    this.allPairs ??= this.workedPairs();
    return this.allPairs;
  }

  workedPairs() {
    const { mistakes, steps } = this.plan;
    const rewrites = mistakes.map((mistake) => rewritesOf([mistake]));
    const pairs = [];
    for (let i = 0; i < mistakes.length; i += 1) {
      for (let j = i + 1; j < mistakes.length; j += 1) {
        if ([...rewrites[i].keys()].some((name) => rewrites[j].has(name))) continue;
        const values = variedFloats(steps, this.right, rewritesOf([mistakes[i], mistakes[j]]));
        pairs.push({ mistakes: [mistakes[i], mistakes[j]], first: this.singles[i], second: this.singles[j], values });
      }
    }
    return pairs;
  }

  valueIn(values, name) {
    return values.get(name) ?? this.right.get(name);
  }

  /** Whether the values come near to what was answered before, or leave it as it was. */
  agrees(values, numbers) {
    return numbers.every((one) => {
      const name = one.asked.quantity;
      const [value, right] = [this.valueIn(values, name), this.right.get(name)];
      return isSameFloat(value, right, right) || isNearFloat(value, asFloat(one.engine));
    });
  }
}

function isNearFloat(value, target) {
  if (!target) return true;
  return Number.isFinite(target) && Math.abs(value - target) <= rules.likely_mistakes.loose * Math.abs(target);
}

function likelySingles(reached, said, numbers) {
  const name = said.asked.quantity;
  const right = reached.right.get(name);
  const target = asFloat(said.engine);
  return reached.plan.mistakes.filter((_, i) => {
    const value = reached.valueIn(reached.singles[i], name);
    return (
      !isSameFloat(value, right, right) && isNearFloat(value, target) && reached.agrees(reached.singles[i], numbers)
    );
  });
}

/** The pairs that may explain a value; those of one value together. */
function likelyPairs(reached, said, numbers) {
  const name = said.asked.quantity;
  const target = asFloat(said.engine);
  if (!target || !Number.isFinite(target)) return [];
  const right = reached.right.get(name);
  const eligible = reached.pairs
    .map((pair) => ({ ...pair, value: reached.valueIn(pair.values, name) }))
    .filter((pair) => {
      const others = [reached.valueIn(pair.first, name), reached.valueIn(pair.second, name), right];
      const shows = others.every((other) => isOtherFloat(pair.value, other));
      return Number.isFinite(pair.value) && pair.value !== 0 && shows && reached.agrees(pair.values, numbers);
    });
  const groups = [];
  for (const pair of eligible.filter((one) => isNearFloat(one.value, target))) {
    const same = (group) => isSameFloat(pair.value, group[0].value, pair.value);
    const group = groups.find(same);
    if (group) group.push(pair);
    else groups.push([pair]);
  }
  const values = eligible.map((pair) => pair.value);
  return groups
    .filter((group) => expectedByChance(values, group[0].value, said, target) <= rules.likely_mistakes.likely_by_chance)
    .map((group) => group.map((pair) => pair.mistakes));
}

/** How many of the pairs' values an unrelated number is expected to come as near to as this answer does to one. */
function expectedByChance(values, value, said, target) {
  const { around, decimals } = rules.likely_mistakes;
  const ratios = values.map((one) => one / target).filter((ratio) => ratio > 1 / around && ratio < around);
  const distinct = new Set(ratios.map((ratio) => Math.round(Math.log(ratio) * 10 ** decimals))).size;
  const half = asFloat(halfUnit(said.value, said.written).times(said.asked.unit.factor));
  const nearness = Math.max(Math.abs(value - target), half) / Math.abs(target);
  return (distinct * nearness) / Math.log(around);
}

/** Whether mistakes, made from a state of the problem, lead to a value and to what was answered before. */
function leadTo(bench, mistakes, said, start) {
  const { plan } = bench;
  const touched = mistakes.map((mistake) =>
    touchedBy(
      plan,
      mistake.rewrites.map(([name]) => name),
    ),
  );
  if (!touched.every((names) => names.has(said.asked.quantity))) return false;
  let wrong = start;
  const worked = unlessDividingByZero(() => {
    for (const [name, windows] of mistakenSteps(plan, mistakes, start, bench.leastFigures)) {
      wrong = windows;
      const asked = [said, ...bench.numbers].filter((one) => one.asked.quantity === name);
      if (!asked.every((one) => bench.gives(one, windows))) return false;
    }
    return true;
  });
  if (!worked) return false;
  return touched.every((names) => !bench.chosen || !names.has(EXTENT) || bench.sourceOf(wrong) === bench.chosen);
}

const worthNaming = (found) => {
  const { most_named } = rules.mistakes;
  const some = found.length > most_named ? found.filter((together) => rewritesOf(together).has(EXTENT)) : found;
  return some.length <= most_named ? some : [];
};

/** The explanations of a value by usual mistakes, each one or two mistakes; none where there is none, or too many. */
export function mistakesBehind(bench, asked, said) {
  const own = bench.ownFor(asked);
  bench.reached ??= new Reached(bench.plan, bench.right);
  const starts = [[bench.right, bench.reached]];
  if (own !== null) {
    const mine = new Map([...bench.right, ...own]);
    starts.push([mine, new Reached(bench.plan, mine)]);
  }
  for (const [start, reached] of starts) {
    const found = likelySingles(reached, said, bench.numbers).filter((one) => leadTo(bench, [one], said, start));
    if (found.length) return worthNaming(found.map((one) => [one]));
  }
  for (const [start, reached] of starts) {
    const groups = likelyPairs(reached, said, bench.numbers)
      .map((group) => group.filter((pair) => leadTo(bench, pair, said, start)))
      .filter((group) => group.length);
    if (groups.length === 1 && groups[0].length <= rules.mistakes.most_named) return groups[0];
  }
  return [];
}

function leadsToChoice(bench, mistake, chosen) {
  const touched = touchedBy(
    bench.plan,
    mistake.rewrites.map(([name]) => name),
  );
  if (!touched.has(EXTENT)) return false;
  const wrong = unlessDividingByZero(() => allMistaken(bench, mistake));
  if (wrong === null || bench.sourceOf(wrong) !== chosen) return false;
  return bench.numbers.every((said) => !touched.has(said.asked.quantity) || bench.gives(said, wrong));
}

/** All windows after a mistake made with the right numbers. */
export function allMistaken(bench, mistake) {
  let wrong = bench.right;
  for (const [, windows] of mistakenSteps(bench.plan, [mistake], bench.right, bench.leastFigures)) wrong = windows;
  return wrong;
}

/** The mistakes that make this reagent the limiting one, and lead to what was answered before. */
export function mistakesBehindChoice(bench, chosen) {
  bench.reached ??= new Reached(bench.plan, bench.right);
  const agrees = (i) => bench.reached.agrees(bench.reached.singles[i], bench.numbers);
  const found = bench.plan.mistakes.filter((one, i) => agrees(i) && leadsToChoice(bench, one, chosen));
  return worthNaming(found.map((one) => [one]));
}

/** The finding that names usual mistakes: their ids, titles, and what to look at. */
export function namedFinding(explanations) {
  const all = explanations.flat();
  const titles = explanations.map((together) => [...new Set(together.map((one) => one.title))]);
  return {
    verdict: "mistake",
    reason: explanations.map((together) => together.map((one) => one.id).join("+")).join("|"),
    mistakes: [...new Set(all.map((one) => one.id))],
    titles: [...new Map(titles.map((one) => [one.join(), one])).values()],
    hints: [...new Set(all.map((one) => one.hint))],
  };
}
