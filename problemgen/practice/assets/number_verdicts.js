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
export function judgeNumber(paper, part, truth, wrote) {
  const { asked } = part;
  const judged = readingsOf(wrote, asked, paper.decimalMark).flatMap((read) => {
    const ways = saidIn(read, asked, truth);
    if (!ways.length) return [[unreadFinding(read), read, null]];
    return ways.map((said) => [numberFinding(paper, part, truth, said), read, said]);
  });
  const [found, read, said] = judged.reduce((a, b) => (isKinder(b[0], a[0]) ? b : a));
  const values = { n: truth.figures, unit: read.unit?.text ?? "", asked: asked.unit.text, ...found.values };
  if (said === null) return { ...found, values };
  if (found.verdict !== "right") carryNumber(paper, part, said, asWindow(said, truth));
  else if (rules.number_verdicts.beside.includes(found.reason)) paper.carryAccepted(asked, asWindow(said, truth));
  if (found.verdict === "right") paper.rightParts.set(asked.quantity, part.label);
  paper.answerKnown(asked);
  const remarks = ["right", "follows"].includes(found.verdict) ? remarksOn(read, said, truth, found) : [];
  return { ...found, values, read: toldReading(read, asked), remarks };
}

function isKinder(one, other) {
  const { preferred } = rules.number_verdicts;
  const more = shareOf(one).compare(shareOf(other));
  return more > 0 || (more === 0 && preferred.indexOf(one.verdict) < preferred.indexOf(other.verdict));
}

function numberFinding(paper, part, truth, said) {
  if (said.value.isWithin(truth.low, truth.high)) return RIGHT;
  const { one_figure_fewer, last_digit, not_rounded } = rules.closeness;
  if (roundedOnceMore(said, truth)) return { ...RIGHT, reason: one_figure_fewer };
  if (isWithinLastDigit(said, truth)) return { ...RIGHT, reason: last_digit };
  if (paper.roundsTo(said, () => paper.right)) return { ...RIGHT, reason: not_rounded };
  if (follows(paper, part, said)) {
    if (paper.restsOnAccepted(part.asked)) return { ...RIGHT, reason: "follows-accepted" };
    const slip = slipFinding(part, truth, said);
    const found = finding("follows", "follow-through");
    return slip && shareOf(slip).compare(shareOf(found)) > 0 ? slip : found;
  }
  if (roundedTooFar(said, truth)) {
    return { ...finding("rounded", "rounded-too-far"), share: said.telling ? rules.shares.rounded : ZERO };
  }
  const isCopy = isCopied(paper, part, said);
  return (
    mistakenFinding(paper, part, truth, said, isCopy) ??
    mixedUpFinding(paper, part, said) ??
    roundedFinding(paper, part, said, rules.rounded_early.early, isCopy) ??
    misreadFinding(paper, truth, said, isCopy) ??
    pairFinding(paper, truth, said, isCopy) ??
    wrongFinding(paper, part)
  );
}

/** Mistakes that are named: a unit that was not converted counts as a slip of it, a copy of an earlier answer as nothing. */
function namedWays(paper, ways, isCopy) {
  const found = namedFinding(paper, ways);
  return { ...found, share: found.isUnit && !isCopy ? rules.shares.slip : ZERO };
}

/**
 * One thing worked otherwise, or a slip: from the student's own values, and then from the right ones. A slip that has a
 * name goes before an error derived from the step's algebra, and so does rounding that leads as far.
 */
function mistakenFinding(paper, part, truth, said, isCopy) {
  for (const start of startsOf(paper, part.asked)) {
    const ways = said.telling ? mistakesBehind(paper, truth, said, start) : [];
    if (ways.some((way) => way.rank === rules.mistakes.ranks.get("listed"))) return namedWays(paper, ways, isCopy);
    const slip = slipFinding(part, start.carried ?? truth, said);
    if (slip && (slip.key || !ways.length)) return slip;
    if (!ways.length) continue;
    return roundedFinding(paper, part, said, rules.rounded_early.close, isCopy) ?? namedWays(paper, ways, isCopy);
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
  const slip = slipOf(part.asked.unit, truth, said);
  if (slip === null) return null;
  return slip.key ? keyed(slip, rules.shares.slip) : { ...finding("slip", slip.reason), share: rules.shares.slip };
}

function mixedUpFinding(paper, part, said) {
  const mixed = said.telling ? mixedUp(paper, part, said) : null;
  return mixed && keyed(mixed, ZERO);
}

function misreadFinding(paper, truth, said, isCopy) {
  for (const start of said.telling ? startsOf(paper, said.asked) : []) {
    const ways = mistakesBehind(paper, truth, said, start, true);
    if (ways.length) return namedWays(paper, ways, isCopy);
  }
  return null;
}

function pairFinding(paper, truth, said, isCopy) {
  const ways = said.telling ? pairsBehind(paper, truth, said) : [];
  return ways.length ? namedWays(paper, ways, isCopy) : null;
}

/** What is known of a wrong answer: which of the answers that it builds on were right. */
function wrongFinding(paper, part) {
  const labels = paper.confirmed(part.asked.quantity);
  return { ...finding("wrong", "no-match"), values: { parts: labels, n: labels.length } };
}

function follows(paper, part, said) {
  return paper
    .carriedWaysTo(part.asked)
    .some(
      (carried) =>
        (paper.fits(said, carried) || paper.roundsTo(said, () => carried)) && !isCopied(paper, part, said, carried),
    );
}

/** Whether an earlier wrong answer stands here once more, where the right answers differ. */
function isCopied(paper, part, said, carried = null) {
  return paper.wrongNumbers.some(([other, earlier]) => {
    if (!earlier.engine.equals(said.engine) || !differ(paper, other, part)) return false;
    if (carried === null) return true;
    const mine = carried.get(part.asked.quantity).value;
    return mine.minus(earlier.engine).size().compare(earlier.engine.size().times(rules.follow_through.same)) > 0;
  });
}

function differ(paper, one, other) {
  if (one.asked.quantity === other.asked.quantity || one.asked.unit.dimension !== other.asked.unit.dimension)
    return false;
  const bounds = (part) => {
    const truth = paper.truths.get(part.id);
    return [toEngine(part.asked.unit, truth.low), toEngine(part.asked.unit, truth.high)];
  };
  const [mine, theirs] = [bounds(one), bounds(other)];
  return mine[1].compare(theirs[0]) < 0 || theirs[1].compare(mine[0]) < 0;
}

function carryNumber(paper, part, said, window) {
  const { coarsest, fewest } = rules.follow_through;
  paper.wrongNumbers.push([part, said]);
  if (!window) return;
  const margin = window.value.size().times(coarsest);
  const low = greaterOf(window.low, window.value.minus(margin));
  const high = lesserOf(window.high, window.value.plus(margin));
  paper.carry(part.asked, windowOf(window.value, low, high, Math.max(window.figures, fewest)));
}

function roundedFinding(paper, part, said, figures, isCopy) {
  if (!said.telling || isCopy) return null;
  const carried = paper.carriedTo(part.asked);
  const starts = carried === null ? [paper.right] : [paper.right, new Map([...paper.right, ...carried])];
  const isEarly = starts.some((start) => isRoundedEarly(paper, part.asked, said, start, figures));
  return isEarly ? { ...finding("rounded", "rounded-early"), share: rules.shares.rounded } : null;
}
