// Judging the answers to one problem, by the rules of the instructor's program and in its order.

import { Bench } from "./bench.js";
import { equationText, imbalanceOf, readEquationText, sameEquations } from "./equation.js";
import {
  RIGHT,
  asWindow,
  readingsOf,
  remarksOn,
  roundedOnceMore,
  roundedTooFar,
  saidIn,
  slipOf,
  toldReading,
  unreadFinding,
} from "./findings.js";
import { NotationError, pythonStrip, readFormulaText } from "./formula.js";
import { allMistaken, mistakesBehind, mistakesBehindChoice, namedFinding } from "./mistakes.js";
import { Rational, greaterOf, lesserOf } from "./rational.js";
import { isRoundedEarly } from "./rounded_early.js";
import { LONGEST_ANSWER, isBlank, plainCharacters } from "./spelling.js";
import { pointWindow, toEngine, windowOf } from "./windows.js";

const PREFERRED = ["right", "follows", "mistake", "slip", "rounded", "wrong", "unit", "unread", "blank"];
/** What a practising student's answers count: shares as of a set with its defaults, to weigh a slip against following. */
const SHARES = { slip: 0.5, follows: 1 };
const COARSEST = new Rational(1n, 20n);
const FEWEST_CARRIED = 2;
const SAME_VALUE = new Rational(1n, 1000000n);

const finding = (verdict, reason) => ({ verdict, reason, mistakes: [] });

/**
 * Judge all parts: { label, verdict, reason, mistakes, hints, titles, remarks, read, values } each, in order. `cells`
 * holds what was written, by label.
 */
export function judgeProblem(template, key, cells, decimalMark) {
  const bench = new Bench(template, key, decimalMark);
  return template.parts.map((part) => {
    const truth = bench.truths.get(part.id);
    const judge =
      { species: judgeChoice, formula: judgeFormula, equation: judgeEquation }[part.asked.form] ?? judgeNumber;
    return {
      label: part.label,
      read: "",
      remarks: [],
      hints: [],
      titles: [],
      values: {},
      ...judge(bench, part, truth, cells[part.label] ?? ""),
    };
  });
}

// numbers

function judgeNumber(bench, part, truth, wrote) {
  const { asked } = part;
  const judged = readingsOf(wrote, asked, bench.decimalMark).map((read) => [
    numberFinding(bench, part, truth, read),
    read,
  ]);
  const [found, read] = judged.reduce((a, b) =>
    PREFERRED.indexOf(b[0].verdict) < PREFERRED.indexOf(a[0].verdict) ? b : a,
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
  if (paid.length) return paid.reduce((a, b) => (SHARES[b.verdict] > SHARES[a.verdict] ? b : a));
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
    return mine.minus(earlier.engine).size().compare(earlier.engine.size().times(SAME_VALUE)) > 0;
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
  bench.astray.push([part, said]);
  if (!window) return;
  const margin = window.value.size().times(COARSEST);
  const low = greaterOf(window.low, window.value.minus(margin));
  const high = lesserOf(window.high, window.value.plus(margin));
  bench.carry(part.asked, windowOf(window.value, low, high, Math.max(window.figures, FEWEST_CARRIED)));
}

function roundedFinding(bench, part, truth, read, said, own) {
  if (roundedTooFar(read, part.asked, truth)) return finding("rounded", "rounded-too-far");
  if (!said.telling || isCopied(bench, part, said)) return null;
  const starts = own === null ? [bench.right] : [bench.right, new Map([...bench.right, ...own])];
  return starts.some((start) => isRoundedEarly(bench, part.asked, said, start))
    ? finding("rounded", "rounded-early")
    : null;
}

// choices: the page offers the reagents, so what is chosen is one of them, by its id

function judgeChoice(bench, part, truth, chosen) {
  if (!chosen) return finding("blank", "blank");
  const found = choiceFinding(bench, truth, chosen);
  if (found.verdict !== "right") bench.carryChoice(chosen);
  bench.chosen = chosen;
  return found;
}

function choiceFinding(bench, truth, chosen) {
  if (chosen === truth.choice) return RIGHT;
  if (bench.carried.size && bench.ownLeast() === chosen) return finding("follows", "follow-through");
  const explanations = mistakesBehindChoice(bench, chosen);
  return explanations.length ? namedFinding(explanations) : finding("wrong", "no-match");
}

// formulas and equations

function readNotation(wrote, read) {
  const stripped = pythonStrip(wrote);
  if ([...stripped].length > LONGEST_ANSWER) return { unread: finding("unread", "unreadable") };
  if (isBlank(plainCharacters(stripped))) return { unread: finding("blank", "blank") };
  try {
    return { found: read(wrote) };
  } catch (error) {
    if (error instanceof NotationError) return { unread: finding("unread", "unreadable") };
    throw error;
  }
}

const trimmedNotation = (wrote) => pythonStrip(wrote).replace(/[. ]+$/, "");

function judgeFormula(bench, part, truth, wrote) {
  const { found, unread } = readNotation(wrote, (text) =>
    readFormulaText(
      pythonStrip(text)
        .replace(/^[=≈ ]+/, "")
        .replace(/[. ]+$/, "")
        .replaceAll(" ", ""),
    ),
  );
  if (unread) return unread;
  const judged = formulaFinding(bench, part, truth, found);
  if (judged.verdict !== "right") carryFormula(bench, part, found);
  return { ...judged, read: found.text };
}

const sameAtoms = (one, other) =>
  one.counts.length === other.counts.length &&
  one.counts.every(([symbol, count]) => other.counts.some(([s, n]) => s === symbol && n === count));

function formulaFinding(bench, part, truth, formula) {
  if (sameAtoms(formula, readFormulaText(truth.text))) return RIGHT;
  const { quantity } = part.asked;
  const mass = massOf(bench, formula);
  const isMass = (windows) => mass !== null && windows.get(quantity).value.equals(mass);
  const own = bench.ownFor(part.asked);
  if (own !== null && isMass(own)) return finding("follows", "follow-through");
  const isRight = isMass(bench.right);
  const explanations = bench.plan.mistakes
    .filter((one) => !isRight && isMass(allMistaken(bench, one)))
    .map((one) => [one]);
  return explanations.length ? namedFinding(explanations) : finding("wrong", "no-match");
}

/** A formula's molar mass with the atomic weights of the plan; null for an element that the plan does not have. */
function massOf(bench, formula) {
  const weights = new Map(bench.plan.constants.filter((c) => c.kind === "atomic_weight").map((c) => [c.of, c.value]));
  if (!formula.counts.every(([symbol]) => weights.has(symbol))) return null;
  return formula.counts.reduce(
    (sum, [symbol, n]) => sum.plus(weights.get(symbol).times(new Rational(BigInt(n)))),
    new Rational(0n),
  );
}

function carryFormula(bench, part, formula) {
  const atoms = new Map(formula.counts);
  const subscripts = bench.plan.steps.filter((step) => step.kind === "subscript" && step.role === part.asked.role);
  for (const step of subscripts) bench.carried.set(step.id, pointWindow(new Rational(BigInt(atoms.get(step.of) ?? 0))));
  const mass = massOf(bench, formula);
  if (mass !== null && !mass.isZero) bench.carried.set(part.asked.quantity, pointWindow(mass));
}

/** "Cl-->" may be a long arrow, or a charge with an arrow behind it: the reading that is balanced is taken. */
function readEquationEitherWay(text) {
  const plain = trimmedNotation(text);
  const readings = [plain, plain.replace(/(?<=\S)-->/g, "- ->")].map((one) => {
    try {
      return readEquationText(one);
    } catch (error) {
      if (error instanceof NotationError) return null;
      throw error;
    }
  });
  const readable = readings.filter(Boolean);
  if (!readable.length) throw new NotationError("no equation");
  return readable.find((one) => !imbalanceOf(one).length) ?? readable[0];
}

function judgeEquation(_bench, _part, truth, wrote) {
  const { found, unread } = readNotation(wrote, readEquationEitherWay);
  if (unread) return unread;
  return { ...equationFinding(found, readEquationText(truth.text)), read: equationText(found) };
}

const gcdOf = (a, b) => (b ? gcdOf(b, a % b) : a);

function equationFinding(answer, right) {
  if (sameEquations(answer, right)) {
    const common = [...answer.left, ...answer.right].map((term) => term.coefficient).reduce(gcdOf);
    return { ...RIGHT, remarks: common > 1 ? [{ key: "common", values: {} }] : [] };
  }
  const species = ({ left, right: products }) =>
    [left, products].map((side) => [...new Set(side.map((term) => term.formula.text))].sort().join("+")).join("=");
  if (species(answer) !== species(right)) return finding("wrong", "other-substances");
  const uneven = imbalanceOf(answer).sort();
  if (uneven.length) return { ...finding("wrong", "unbalanced"), values: { uneven: uneven.join(", ") } };
  return finding("wrong", "other-reaction");
}
