// Judging a number: the window, slips, what follows from earlier answers, usual mistakes.

import {
  RIGHT,
  asWindow,
  finding,
  isWithinLastDigit,
  readingsOf,
  remarksOn,
  roundedOnceMore,
  roundedTooFar,
  saidIn,
  slipOf,
  toldReading,
  unreadFinding,
} from "./findings.js";
import { mistakesBehind, namedFinding, pairsBehind, startsOf } from "./mistakes.js";
import { mixedUp } from "./mix_ups.js";
import { ONE, ZERO, greaterOf, lesserOf } from "./rational.js";
import { isRoundedEarly } from "./rounded_early.js";
import { rules } from "./rules.js";
import { toEngine, windowOf } from "./windows.js";

const shareOf = (found) => (found.verdict === "right" ? ONE : (found.share ?? rules.shares[found.verdict] ?? ZERO));

/** The result of a part that asks for a number. */
export function judgeNumber(bench, part, truth, wrote) {
  const { asked } = part;
  const judged = readingsOf(wrote, asked, bench.decimalMark).flatMap((read) => {
    const ways = saidIn(read, asked, truth);
    if (!ways.length) return [[unreadFinding(read), read, null]];
    return ways.map((said) => [numberFinding(bench, part, truth, said), read, said]);
  });
  const [found, read, said] = judged.reduce((a, b) => (isKinder(b[0], a[0]) ? b : a));
  const values = { n: truth.figures, unit: read.unit?.text ?? "", asked: asked.unit.text, ...found.values };
  if (said === null) return { ...found, values };
  if (found.verdict !== "right") carryNumber(bench, part, said, asWindow(said, truth));
  else if (rules.number_verdicts.beside.includes(found.reason)) bench.carryAccepted(asked, asWindow(said, truth));
  if (found.verdict === "right") bench.rightParts.set(asked.quantity, part.label);
  bench.answerKnown(asked);
  const remarks = ["right", "follows"].includes(found.verdict) ? remarksOn(read, said, truth, found) : [];
  return { ...found, values, read: toldReading(read, asked), remarks };
}

function isKinder(one, other) {
  const { preferred } = rules.number_verdicts;
  const more = shareOf(one).compare(shareOf(other));
  return more > 0 || (more === 0 && preferred.indexOf(one.verdict) < preferred.indexOf(other.verdict));
}

function numberFinding(bench, part, truth, said) {
  if (said.value.isWithin(truth.low, truth.high)) return RIGHT;
  const { one_figure_fewer, last_digit, not_rounded } = rules.closeness;
  if (roundedOnceMore(said, truth)) return { ...RIGHT, reason: one_figure_fewer };
  if (isWithinLastDigit(said, truth)) return { ...RIGHT, reason: last_digit };
  if (bench.roundsTo(said, () => bench.right)) return { ...RIGHT, reason: not_rounded };
  if (follows(bench, part, said)) {
    if (bench.restsOnAccepted(part.asked)) return { ...RIGHT, reason: "follows-accepted" };
    const slip = slipFinding(part, truth, said);
    const found = finding("follows", "follow-through");
    return slip && shareOf(slip).compare(shareOf(found)) > 0 ? slip : found;
  }
  if (roundedTooFar(said, truth)) {
    return { ...finding("rounded", "rounded-too-far"), share: said.telling ? rules.shares.rounded : ZERO };
  }
  const isCopy = isCopied(bench, part, said);
  return (
    mistakenFinding(bench, part, truth, said, isCopy) ??
    mixedUpFinding(bench, part, said) ??
    roundedFinding(bench, part, said, rules.rounded_early.early, isCopy) ??
    misreadFinding(bench, truth, said, isCopy) ??
    pairFinding(bench, truth, said, isCopy) ??
    wrongFinding(bench, part)
  );
}

/** Mistakes that are named: a unit that was not converted counts as a slip of it, a copy of an earlier answer as nothing. */
function namedWays(bench, ways, isCopy) {
  const found = namedFinding(bench, ways);
  return { ...found, share: found.isUnit && !isCopy ? rules.shares.slip : ZERO };
}

/**
 * One thing worked otherwise, or a slip: from the student's own values, and then from the right ones. A slip that has a
 * name goes before an error derived from the step's algebra, and so does rounding that leads as far.
 */
function mistakenFinding(bench, part, truth, said, isCopy) {
  for (const start of startsOf(bench, part.asked)) {
    const ways = said.telling ? mistakesBehind(bench, truth, said, start) : [];
    if (ways.some((way) => way.rank === rules.mistakes.ranks.get("listed"))) return namedWays(bench, ways, isCopy);
    const slip = slipFinding(part, start.own ?? truth, said);
    if (slip && (slip.key || !ways.length)) return slip;
    if (!ways.length) continue;
    return roundedFinding(bench, part, said, rules.rounded_early.close, isCopy) ?? namedWays(bench, ways, isCopy);
  }
  return null;
}

const keyed = ({ reason, key, values }, share) => ({
  ...finding("mistake", reason),
  mistakes: [reason],
  key,
  values,
  share,
});

function slipFinding(part, truth, said) {
  const slip = slipOf(part.asked.unit, truth, said.value);
  if (slip === null) return null;
  return slip.key ? keyed(slip, rules.shares.slip) : { ...finding("slip", slip.reason), share: rules.shares.slip };
}

function mixedUpFinding(bench, part, said) {
  const mixed = said.telling ? mixedUp(bench, part, said) : null;
  return mixed && keyed(mixed, ZERO);
}

function misreadFinding(bench, truth, said, isCopy) {
  for (const start of said.telling ? startsOf(bench, said.asked) : []) {
    const ways = mistakesBehind(bench, truth, said, start, true);
    if (ways.length) return namedWays(bench, ways, isCopy);
  }
  return null;
}

function pairFinding(bench, truth, said, isCopy) {
  const ways = said.telling ? pairsBehind(bench, truth, said) : [];
  return ways.length ? namedWays(bench, ways, isCopy) : null;
}

/** What is known of a wrong answer: which of the answers that it builds on were right. */
function wrongFinding(bench, part) {
  const labels = bench.confirmed(part.asked.quantity);
  return { ...finding("wrong", "no-match"), values: { parts: labels, n: labels.length } };
}

function follows(bench, part, said) {
  return bench
    .ownWays(part.asked)
    .some((own) => (bench.fits(said, own) || bench.roundsTo(said, () => own)) && !isCopied(bench, part, said, own));
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

function roundedFinding(bench, part, said, figures, isCopy) {
  if (!said.telling || isCopy) return null;
  const own = bench.ownFor(part.asked);
  const starts = own === null ? [bench.right] : [bench.right, new Map([...bench.right, ...own])];
  const isEarly = starts.some((start) => isRoundedEarly(bench, part.asked, said, start, figures));
  return isEarly ? { ...finding("rounded", "rounded-early"), share: rules.shares.rounded } : null;
}
