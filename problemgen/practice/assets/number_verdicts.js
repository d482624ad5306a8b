// Judging a number: the window, slips, what follows from earlier answers, usual mistakes.

import {
  RIGHT,
  asWindow,
  finding,
  readingsOf,
  remarksOn,
  roundedOnceMore,
  roundedTooFar,
  saidIn,
  slipOf,
  toldReading,
  unreadFinding,
} from "./findings.js";
import { mistakesBehind, namedFinding } from "./mistakes.js";
import { greaterOf, lesserOf } from "./rational.js";
import { isRoundedEarly } from "./rounded_early.js";
import { rules } from "./rules.js";
import { toEngine, windowOf } from "./windows.js";

/** The result of a part that asks for a number. */
export function judgeNumber(bench, part, truth, wrote) {
  const { asked } = part;
  const { preferred } = rules.number_verdicts;
  const judged = readingsOf(wrote, asked, bench.decimalMark).map((read) => [
    numberFinding(bench, part, truth, read),
    read,
  ]);
  const [found, read] = judged.reduce((a, b) =>
    preferred.indexOf(b[0].verdict) < preferred.indexOf(a[0].verdict) ? b : a,
  );
  const said = saidIn(read, asked, truth);
  const values = { figures: truth.figures, unit: read.unit?.text ?? "", asked: asked.unit.text };
  if (said === null) return { ...found, values };
  if (found.verdict !== "right") carryNumber(bench, part, said, asWindow(read, asked, truth));
  bench.numbers.push(said);
  const remarks = ["right", "follows"].includes(found.verdict) ? remarksOn(read, asked, truth) : [];
  return { ...found, values, read: toldReading(read, asked), remarks };
}

function numberFinding(bench, part, truth, read) {
  const { asked } = part;
  const said = saidIn(read, asked, truth);
  if (said === null) return unreadFinding(read);
  if (said.value.isWithin(truth.low, truth.high)) return RIGHT;
  if (roundedOnceMore(read, asked, truth)) return { ...RIGHT, reason: "one-figure-fewer" };
  const own = bench.ownFor(asked);
  const slip = slipOf(truth, said.value);
  const paid = slip === null ? [] : [finding("slip", slip)];
  if (follows(bench, part, said, own)) paid.push(finding("follows", "follow-through"));
  if (paid.length) return paid.reduce((a, b) => (rules.shares[b.verdict].compare(rules.shares[a.verdict]) > 0 ? b : a));
  const explanations = said.telling ? mistakesBehind(bench, asked, said) : [];
  if (explanations.length) return namedFinding(explanations);
  return roundedFinding(bench, part, truth, read, said, own) ?? finding("wrong", "no-match");
}

function follows(bench, part, said, own) {
  return own !== null && bench.fits(said, own) && !isCopied(bench, part, said, own);
}

/** Whether an earlier wrong answer stands here once more, where the right answers differ. */
function isCopied(bench, part, said, own = null) {
  return bench.astray.some(([other, earlier]) => {
    if (!earlier.engine.equals(said.engine) || !differ(bench, other, part)) return false;
    if (own === null) return true;
    const mine = own.get(part.asked.quantity).value;
    return mine.minus(earlier.engine).size().compare(earlier.engine.size().times(rules.follow_through.same)) > 0;
  });
}

function differ(bench, one, other) {
  if (one.asked.quantity === other.asked.quantity || one.asked.unit.dimension !== other.asked.unit.dimension)
    return false;
  const bounds = (part) => {
    const truth = bench.truths.get(part.id);
    return [toEngine(part.asked.unit, truth.low), toEngine(part.asked.unit, truth.high)];
  };
  const [mine, theirs] = [bounds(one), bounds(other)];
  return mine[1].compare(theirs[0]) < 0 || theirs[1].compare(mine[0]) < 0;
}

function carryNumber(bench, part, said, window) {
  const { coarsest, fewest } = rules.follow_through;
  bench.astray.push([part, said]);
  if (!window) return;
  const margin = window.value.size().times(coarsest);
  const low = greaterOf(window.low, window.value.minus(margin));
  const high = lesserOf(window.high, window.value.plus(margin));
  bench.carry(part.asked, windowOf(window.value, low, high, Math.max(window.figures, fewest)));
}

function roundedFinding(bench, part, truth, read, said, own) {
  if (roundedTooFar(read, part.asked, truth)) return finding("rounded", "rounded-too-far");
  if (!said.telling || isCopied(bench, part, said)) return null;
  const starts = own === null ? [bench.right] : [bench.right, new Map([...bench.right, ...own])];
  return starts.some((start) => isRoundedEarly(bench, part.asked, said, start))
    ? finding("rounded", "rounded-early")
    : null;
}
