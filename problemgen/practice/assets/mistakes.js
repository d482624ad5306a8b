// Which mistakes explain an answer, from what the same student knew when they came to it.

import { asFloat, floatOnce } from "./floats.js";
import { EXTENT, extentOf, pairsAlong, waysAlong, workedAlong } from "./paths.js";
import { ONE } from "./rational.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";

const { log } = Math;

/** From where a student may have gone astray: their own values, where some are wrong, and the right ones. */
export function startsOf(paper, asked) {
  const carried = paper.carriedTo(asked);
  const right = { path: paper.path(asked.quantity, false), values: paper.rightFloats, carried: null };
  if (carried === null) return [right];
  const values = new Map([...paper.right, ...carried].map(([name, window]) => [name, asFloat(window.value)]));
  return [{ path: paper.path(asked.quantity, true), values, carried: paper.answer({ asked }, carried) }, right];
}

/** What counts as leading to a number, in the unit asked for. */
class Nearness {
  constructor(truth, said) {
    const size = truth.value.isZero ? ONE : truth.value.size();
    this.halfWindow = asFloat(truth.high.minus(truth.low).over(size)) / 2;
    this.halfSize = asFloat(truth.high.minus(truth.low)) / 2;
    this.halfWritten = said.value.isZero ? 0 : asFloat(halfUnit(said.value, said.written));
    this.figures = truth.figures;
    this.target = asFloat(said.value);
    [this.low, this.high] = [asFloat(truth.low), asFloat(truth.high)];
    this.unit = said.asked.unit;
  }

  inUnit(value) {
    return (value - floatOnce(this.unit.offset)) / floatOnce(this.unit.factor);
  }

  isRight(value) {
    return this.low <= value && value <= this.high;
  }

  off(value) {
    return value === 0 ? Infinity : Math.abs(this.target - value) / Math.abs(value);
  }

  close(value) {
    if (!Number.isFinite(value) || value === 0) return 0;
    const written = this.halfWritten / Math.abs(value);
    const { nearest, least_written } = rules.mistakes;
    return Math.max(Math.min(nearest, written + 10 ** (1 - this.figures)), Math.min(written, least_written));
  }

  loose(way, value) {
    if (!Number.isFinite(value) || value === 0) return 0;
    if (way.tries.at(-1).how === rules.mistakes.complement) {
      return Math.max(this.halfSize, this.halfWritten) / Math.abs(value);
    }
    const isListed = way.rank === rules.mistakes.ranks.get("listed");
    return isListed ? Math.max(this.halfWindow, this.halfWritten / Math.abs(value)) : 0;
  }

  /** How many of some values an unrelated number is expected to come as near to as is told of. */
  byChance(values) {
    const { around, same } = rules.mistakes;
    const isAround = (value) => 1 / around < value / this.target && value / this.target < around;
    const near = this.target === 0 ? [] : values.filter(isAround).sort((a, b) => a - b);
    const distinct = near.filter((value, i) => i === 0 || value - near[i - 1] > same * Math.abs(value)).length;
    return (distinct * this.close(this.target)) / log(around);
  }
}

/** The ways with one thing worked otherwise that lead from a start to a number; at most two, the nearest at hand. */
export function mistakesBehind(paper, truth, said, start, misread = false) {
  const { least_written, likely_by_chance, ranks } = rules.mistakes;
  const near = new Nearness(truth, said);
  const reached = [];
  const found = [];
  for (const way of waysAlong(paper.plan, start.path)) {
    if ((way.tries[0].how === rules.mistakes.misread) !== misread) continue;
    const value = near.inUnit(workedAlong(way, start.values).get(start.path.asked));
    const off = near.off(value);
    const closely = off <= least_written && off <= near.close(value);
    const fits = (closely || off <= near.loose(way, value)) && !near.isRight(value);
    if (fits) found.push({ rank: closely ? way.rank : ranks.size, way, off });
    reached.push([way.rank, value]);
  }
  const standsOut = (rank) =>
    near.byChance(reached.filter(([other]) => other <= rank).map(([, value]) => value)) <= likely_by_chance;
  return nearestAtHand(found.filter(({ way }) => way.rank === ranks.get("listed") || standsOut(way.rank)));
}

/** Of several explanations those nearest at hand; of these, those that come nearest, each of another idea. */
function nearestAtHand(found) {
  if (!found.length) return [];
  const best = Math.min(...found.map((one) => one.rank));
  const kept = new Map();
  for (const one of found.filter(({ rank }) => rank === best).sort((a, b) => a.off - b.off)) {
    const key = one.way.tries.map((each) => each.id).join("+");
    if (!kept.has(key)) kept.set(key, one);
  }
  const told = simplest(Array.from(kept.values())).slice(0, rules.mistakes.most_told);
  return told.map(({ way }) => way);
}

/** Without what leads to the same number only because another reagent then limits: who takes that one is there at once. */
function simplest(found) {
  const compared = found.filter(({ way }) => way.tries.some((one) => one.step === EXTENT));
  const isApart = (one) => compared.every((other) => Math.abs(one.off - other.off) > rules.mistakes.same);
  return found.filter((one) => compared.includes(one) || isApart(one));
}

/** Two things worked otherwise at two steps that lead to a number, where that is hardly by chance. */
export function pairsBehind(paper, truth, said) {
  const { likely_by_chance, most_told, pairs_up_to, same } = rules.mistakes;
  for (const start of startsOf(paper, said.asked)) {
    const near = new Nearness(truth, said);
    const reached = pairsAlong(paper.plan, start.path, pairs_up_to)
      .map((way) => [way, near.inUnit(workedAlong(way, start.values).get(start.path.asked))])
      .filter(([, value]) => Number.isFinite(value) && value !== 0 && !near.isRight(value));
    const matching = reached.filter(([, value]) => near.off(value) <= near.close(value));
    const distinct = [];
    for (const [, value] of matching) {
      if (distinct.every((other) => Math.abs(value - other) > same * Math.abs(value))) distinct.push(value);
    }
    const values = reached.map(([, value]) => value);
    if (distinct.length === 1 && near.byChance(values) <= likely_by_chance) {
      return matching.slice(0, most_told).map(([way]) => way);
    }
  }
  return [];
}

/** The ways that make this reagent the limiting one, from what was answered before. */
export function mistakesBehindChoice(paper, chosen) {
  const { most_told, pairs_up_to, ranks } = rules.mistakes;
  const { plan } = paper;
  const found = waysAlong(plan, paper.path(EXTENT, false)).filter((way) => {
    if (way.rank > pairs_up_to) return false;
    const worked = workedAlong(way, paper.rightFloats);
    const off = plan.sources.map((source) => Math.abs(worked.get(extentOf(source)) - worked.get(EXTENT)));
    return off.every(Number.isFinite) && plan.sources[off.indexOf(Math.min(...off))] === chosen;
  });
  const listed = found.filter((way) => way.rank === ranks.get("listed"));
  const compared = listed.filter((way) => way.tries.some((one) => one.step === EXTENT));
  const meant = compared.filter((way) => way.tries[0].how !== "excess-taken");
  const others = listed.filter((way) => !compared.includes(way));
  return [meant, compared, others, found].find((some) => some.length)?.slice(0, most_told) ?? [];
}

/** The finding that names mistakes: their ids, titles, and what to look at. */
export function namedFinding(paper, ways) {
  const unique = (values) => [...new Set(values)];
  const each = ways.map((way) =>
    [...new Map([...way.tries].reverse().map((one) => [one.group || one.id, one])).values()].reverse(),
  );
  const all = each.flat();
  const isOther = (one) =>
    one.step === EXTENT && paper.chosen && !paper.carried.has(EXTENT) && ["another", "excess-taken"].includes(one.how);
  const titles = each.map((together) => unique(together.map((one) => one.title)));
  return {
    verdict: "mistake",
    reason: ways.map((way) => unique(way.tries.map((one) => one.id)).join("+")).join("|"),
    mistakes: unique(ways.flatMap((way) => way.tries.map((one) => one.id))),
    titles: [...new Map(titles.map((one) => [one.join(), one])).values()],
    hints: unique(all.map((one) => (isOther(one) ? rules.mistakes.other_reagent : one.sentence))),
    isUnit: ways.every((way) => way.tries.every((one) => one.movesPoint)),
  };
}
