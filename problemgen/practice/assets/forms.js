// The forms of a part: the field that an answer is written in, and who judges it. A new form is one entry here; one that
// lists its answers, and from which nothing follows, needs none.

import { judgeChoice, judgeOption } from "./choice_verdicts.js";
import { choiceField, textField } from "./fields.js";
import { judgeEquation, judgeFormula } from "./formula_verdicts.js";
import { judgeNumber } from "./number_verdicts.js";

const FORMS = {
  number: { field: (part) => textField(part, { unit: part.unit !== "1", keys: "number" }), judge: judgeNumber },
  species: { field: choiceField, judge: judgeChoice },
  formula: { field: (part) => textField(part, {}), judge: judgeFormula, isExact: true },
  equation: { field: (part) => textField(part, { kind: "wide", keys: "equation" }), judge: judgeEquation },
};
const LISTED = { field: choiceField, judge: judgeOption };

/**
 * A form by its name: `field` makes an answer's field (see fields.js) for a part, `judge` gives a part's result; `isExact`
 * where what is asked has a number behind it that nobody rounds.
 */
export const formCalled = (name) => FORMS[name] ?? LISTED;
