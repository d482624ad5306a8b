// Judging formulas and balanced equations.

import { equationText, imbalanceOf, readEquationText, sameEquations } from "./equation.js";
import { RIGHT, finding } from "./findings.js";
import { NotationError, readFormulaText } from "./formula.js";
import { asFloat } from "./floats.js";
import { namedFinding } from "./mistakes.js";
import { waysAlong, workedAlong } from "./paths.js";
import { Rational } from "./rational.js";
import { rules } from "./rules.js";
import { isBlank, isTooLong, plainCharacters } from "./spelling.js";
import { strippedLeft, strippedRight, withoutSpaces } from "./strings.js";
import { pointWindow } from "./windows.js";

function readNotation(wrote, read) {
  const outer = withoutSpaces(wrote);
  if (isTooLong(outer)) return { unread: finding("unread", "unreadable") };
  if (isBlank(plainCharacters(outer))) return { unread: finding("blank", "blank") };
  try {
    return { found: read(wrote) };
  } catch (error) {
    if (error instanceof NotationError) return { unread: finding("unread", "unreadable") };
    throw error;
  }
}

const trimmedNotation = (wrote) => strippedRight(withoutSpaces(wrote), rules.notation.behind);

/** The result of a part that asks for a formula. */
export function judgeFormula(paper, part, truth, wrote) {
  const { found, unread } = readNotation(wrote, (text) =>
    readFormulaText(strippedLeft(trimmedNotation(text), rules.notation.before).replaceAll(" ", "")),
  );
  if (unread) return unread;
  const judged = formulaFinding(paper, part, truth, found);
  if (judged.verdict !== "right") carryFormula(paper, part, found);
  return { ...judged, read: found.text };
}

const sameAtoms = (one, other) =>
  one.counts.length === other.counts.length &&
  one.counts.every(([symbol, count]) => other.counts.some(([s, n]) => s === symbol && n === count));

function formulaFinding(paper, part, truth, formula) {
  if (sameAtoms(formula, readFormulaText(truth.text))) return RIGHT;
  const { quantity } = part.asked;
  const mass = massOf(paper, formula);
  const isMass = (windows) => mass !== null && windows.get(quantity).value.equals(mass);
  const carried = paper.carriedTo(part.asked);
  if (carried !== null && isMass(carried)) return finding("follows", "follow-through");
  const ways = mass === null ? [] : waysTo(paper, quantity, asFloat(mass));
  return ways.length ? namedFinding(paper, ways) : finding("wrong", "no-match");
}

/** The ways to a formula of this molar mass. */
function waysTo(paper, quantity, mass) {
  const { most_told, pairs_up_to, ranks } = rules.mistakes;
  const same = rules.formula_verdicts.same * mass;
  const found = waysAlong(paper.plan, paper.path(quantity, false)).filter((way) => {
    if (way.rank > pairs_up_to) return false;
    const value = workedAlong(way, paper.rightFloats).get(quantity);
    return Math.abs(value - mass) <= same && same < Math.abs(value - paper.rightFloats.get(quantity));
  });
  const listed = found.filter((way) => way.rank === ranks.get("listed"));
  return (listed.length ? listed : found).slice(0, most_told);
}

/** A formula's molar mass with the atomic weights of the plan; null for an element that the plan does not have. */
function massOf(paper, formula) {
  const weights = new Map(paper.plan.constants.filter((c) => c.kind === "atomic_weight").map((c) => [c.of, c.value]));
  if (!formula.counts.every(([symbol]) => weights.has(symbol))) return null;
  return formula.counts.reduce(
    (sum, [symbol, n]) => sum.plus(weights.get(symbol).times(new Rational(BigInt(n)))),
    new Rational(0n),
  );
}

function carryFormula(paper, part, formula) {
  const atoms = new Map(formula.counts);
  const subscripts = paper.plan.steps.filter((step) => step.kind === "subscript" && step.role === part.asked.role);
  for (const step of subscripts) paper.carried.set(step.id, pointWindow(new Rational(BigInt(atoms.get(step.of) ?? 0))));
  const mass = massOf(paper, formula);
  if (mass !== null && !mass.isZero) paper.carried.set(part.asked.quantity, pointWindow(mass));
}

/** "Cl-->" may be a long arrow, or a charge with an arrow behind it: the reading that is balanced is taken. */
function readEquationEitherWay(text) {
  const plain = trimmedNotation(text);
  const readings = [plain, rules.notation.charge_or_arrow.sub("- ->", plain)].map((one) => {
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

/** The result of a part that asks for a balanced equation. */
export function judgeEquation(_paper, _part, truth, wrote) {
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
  if (uneven.length) return { ...finding("wrong", "unbalanced"), values: { uneven } };
  return finding("wrong", "other-reaction");
}
