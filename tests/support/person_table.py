"""Fixed cells by family: what students and their spreadsheets write, and what a careful person takes from it.

All of it is common practice, no source, but for the spellings of units (see person_cells) and numbers (person_parts).
The first families build their cells from the parts, so that each part is tried by itself and in a usual cell.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.support.person_cells import MEASURES, Cell, Family, asks, reads
from tests.support.person_parts import APPROXIMATIONS, LABELS, NUMERALS, TAILS, UNITS, Part, composed

__all__ = ["FAMILIES"]

_NONE, _NUMERAL, _UNIT = Part(""), Part("39.5", "39.5"), Part("mmol", "mmol")

_WORKING = "working beside the answer: to ask what was meant is safe"
_RARE = "few write it so, and a person may read more into it than a rule"


def _numerals() -> Iterator[Cell]:
    for numeral in NUMERALS:
        yield composed(_NONE, _NONE, numeral, _NONE, _NONE)
        yield composed(_NONE, _NONE, numeral, _UNIT, _NONE)
        yield composed(Part("n(NaOH) = "), _NONE, numeral, Part("mol", "mol"), _NONE)


def _labels() -> Iterator[Cell]:
    for label in LABELS:
        yield composed(label, _NONE, _NUMERAL, _NONE, _NONE)
        if not label.meaning:
            yield composed(label, _NONE, _NUMERAL, _UNIT, _NONE)


def _ends() -> Iterator[Cell]:
    """A label's unit and another behind the number: the same, one of the same kind, one of another kind."""
    for label in LABELS:
        if label.meaning:
            other = {"mmol": "mol", "mol": "mmol", "g": "mg"}.get(label.meaning, "g")
            yield composed(label, _NONE, _NUMERAL, Part(label.meaning, label.meaning), _NONE)
            yield composed(label, _NONE, _NUMERAL, Part(other, other), _NONE)


def _tails() -> Iterator[Cell]:
    for tail in TAILS:
        yield composed(_NONE, _NONE, _NUMERAL, _UNIT, tail)
        yield composed(_NONE, _NONE, _NUMERAL, _NONE, tail)


def _said(cells: Iterator[Cell], read: bool) -> tuple[Cell, ...]:
    """Of these cells, those that a person reads, or those that make them ask."""
    return tuple(one for one in cells if bool(one.accepted) is read)


_PARTS = (
    Family("number", _said(_numerals(), read=True)),
    Family("number that is none", _said(_numerals(), read=False)),
    Family("unit", _said((composed(_NONE, _NONE, _NUMERAL, unit, _NONE) for unit in UNITS), read=True)),
    Family("unit that is none", _said((composed(_NONE, _NONE, _NUMERAL, unit, _NONE) for unit in UNITS), read=False)),
    Family("label", _said(_labels(), read=True)),
    Family("label that changes the meaning", _said(_labels(), read=False)),
    Family("the same unit at both ends", _said(_ends(), read=True)),
    Family("two units that disagree", _said(_ends(), read=False)),
    Family("about", _said((composed(_NONE, one, _NUMERAL, _UNIT, _NONE) for one in APPROXIMATIONS), read=True)),
    Family("bound or factor", _said((composed(_NONE, one, _NUMERAL, _UNIT, _NONE) for one in APPROXIMATIONS), False)),
    Family("word behind", _said(_tails(), read=True)),
    Family("word behind that changes the meaning", _said(_tails(), read=False)),
)

_NUMBERS = (
    Family(
        "one group of three",
        (
            *asks("1,234 mmol", "1,234", "12,345 mmol", "n = 1,234 mmol", "123,456"),
            *asks("1,234 mL", "V = 1,234 mL", asked="mL"),
            *reads("1.234 mmol", "1.234 mmol"),
            *reads("12.345 mmol", "12.345 mmol", "n = 12.345 mmol"),
            *reads("0.395 mol", "0,395 mol", "0.395 mol"),
        ),
        doubt_told=True,
    ),
    Family(
        "exponent written oddly",
        (
            *reads(
                "0.0395 mol", "3.95 x 10-2 mol", "3.95 × 10−2 mol", "3.95 x10 -2 mol", "3.95 e-2 mol", "3.95 E -2 mol"
            ),
            *reads("0.0395 mol", "3.95 x 10 ^ -2 mol", "3.95 x 10^{-2} mol", "3.95*10**-2 mol", "3.95 10^-2 mol"),
            *reads(
                "0.0395 mol", "3.95EE-2 mol", "3.95 times 10^-2 mol", "3.95 × 10^(−2) mol", "3.95 × 10 to the -2 mol"
            ),
            *reads("39.5 mmol", "3.95 x 10^+1 mmol", "3.95e+1 mmol", "3.95e01 mmol", "3.95 x 10 mmol"),
        ),
        tolerated=_RARE,
    ),
    Family(
        "power of ten at another place",
        (
            *asks(
                "39.5 mmol e-2", "39.5 mmol × 10^-3", "x 10^-2 mol", "39.5 mol 10^-3", "39.5 x 10 x 10", "10^-2 × 10^3"
            ),
            *asks(
                "n (×10⁻³ mol): 39.5", "n (x 10^-3 mol) = 39.5", "n × 10³ (mol): 39.5", "in thousands: 39.5", "39.5 k"
            ),
            *asks("3.95e-2e-2 mol", "3.95 x 10^-2 x 2 mol", "39.5 mmol e3", "39.5 thousands", "1000 n = 39.5 mol"),
        ),
    ),
    Family(
        "head of a column with a power of ten",
        (
            *reads(
                "0.0395 mol", "n/10^-3 mol = 39.5", "n / 10⁻³ mol = 39.5", "10³ n/mol = 39.5", "n × 10³ / mol = 39.5"
            ),
        ),
        tolerated=_RARE,
    ),
    Family(
        "uncertainty",
        (
            *reads("39.5 mmol", "39.5 ± 0.1 mmol", "39.5±0.1 mmol", "39.5 mmol ± 0.1 mmol", "(39.5 ± 0.1) mmol"),
            *reads("39.5 mmol", "39.5 +/- 0.1 mmol", "39.5 +- 0.1 mmol", "39.5(1) mmol", "n = 39.5(1) mmol"),
            *reads("39.5 mmol", "39.5 mmol ± 1 %", "39.5 mmol +/- 0.1 mmol", "39.5(12) mmol", "39.5 mmol ± 0.1"),
            *reads("0.0395 mol", "(3.95 ± 0.01) × 10^-2 mol", "3.95(1)e-2 mol", "3.95(1) × 10⁻² mol"),
            *reads("82.3 %", "82.3 ± 0.5 %", "(82.3 ± 0.5) %", "82.3 % ± 0.5 %", "82.3(5) %"),
        ),
    ),
    Family(
        "point in front, behind a word or a mark",
        (
            *reads("0.0395 mol", ".0395 mol", "about .0395 mol", "ca. .0395 mol", "c. .0395 mol", "n = .0395 mol"),
            *reads("0.0395 mol", "ans. .0395 mol", "Ans.: .0395 mol", "n: .0395 mol", "a) .0395 mol", "≈ .0395 mol"),
            *reads("0.0395 mol", "1) .0395 mol", "approx. .0395 mol", "-> .0395 mol", "n. .0395 mol", "i. .0395 mol"),
            *reads("-0.0395 mol", "-.0395 mol", "−.0395 mol", "n = -.0395 mol"),
            *reads("0.0395", ".0395", "c. .0395", "ca. .0395", "n .0395", "b. .0395", "no. .0395", "eq. .0395"),
        ),
        tolerated="a point on its own: to ask is safe, to lose it is not",
    ),
    Family(
        "number in words",
        (
            *reads("40 mmol", "forty mmol", "about forty mmol", "forty millimoles", "4 tens mmol", "40 (forty) mmol"),
            *reads("-39.5 mmol", "negative 39.5 mmol", "minus 39.5 mmol", "- 39.5 mmol"),
            *reads("39500 mmol", "39.5 thousand mmol"),
            *reads("0 mmol", "zero", "nil", "zero mmol", asked="mmol")[2:],
            *reads("0.5 mol", "half a mole", "1/2 mol", "½ mol"),
        ),
        tolerated=_RARE,
    ),
    Family(
        "letters for figures",
        asks("O.395 mol", "l.58 g", "39.S mmol", "I.58 g", "39.5O mmol", "3g.5 mmol", "39,s", "3 9 . 5", "39 . 5 . 1"),
    ),
)

_WORDS = (
    Family(
        "unit in a word before",
        (
            *reads(
                "39.5 mmol", "mmol = 39.5", "millimoles: 39.5", "mmol of NaOH = 39.5", "mmol NaOH: 39.5", "mmol 39.5"
            ),
            *reads("0.0395 mol", "mol = 0.0395", "mol NaOH = 0.0395", "mol: 0.0395", "mol of NaOH: 0.0395"),
            *reads("0.0395 mol", "moles = 0.0395", "moles of NaOH = 0.0395", "moles NaOH: 0.0395", "Moles: 0.0395"),
            *reads("1.58 g", "g = 1.58", "grams = 1.58", "grams of NaOH: 1.58", "g NaOH: 1.58", "mass in grams: 1.58"),
            *reads("39.5 mL", "mL = 39.5", "ml: 39.5", "mL of water: 39.5", "milliliters: 39.5"),
            *reads(
                "82.3 %", "% = 82.3", "% 82.3", "percent: 82.3", "% yield = 82.3", "percent yield: 82.3", "% yield 82.3"
            ),
        ),
        tolerated="a label that is a unit's word: to ask is safe, to pass the unit over is not",
    ),
    Family(
        "unit in a label, another way",
        (
            *reads(
                "0.0395 mol",
                "n in moles = 0.0395",
                "amount (moles): 0.0395",
                "n(NaOH) (mol) = 0.0395",
                "n (in mol): 0.0395",
            ),
            *reads(
                "0.0395 mol", "n(NaOH) in mol: 0.0395", "n_NaOH/mol: 0.0395", "n(NaOH), mol = 0.0395", "n/mol: 0.0395"
            ),
            *reads("1.58 g", "m(NaOH)/g: 1.58", "m(NaOH) [g] = 1.58", "mass of NaOH (g) = 1.58", "mass / g: 1.58"),
            *reads("0.00158 kg", "mass in kg: 0.00158", "in kilograms: 0.00158", "m in kilograms = 0.00158"),
            *reads("0.395 mol/L", "c/M = 0.395", "c (mol L⁻¹): 0.395", "[NaOH] (M) = 0.395", "conc. (mol/L): 0.395"),
            *reads("25.0 °C", "T (°C): 25.0", "T/°C = 25.0", "temperature in °C: 25.0"),
            *reads("1.05 g/mL", "ρ/(g/mL) = 1.05", "ρ / g cm⁻³ = 1.05", "density (g/mL): 1.05", "d in g/cm3: 1.05"),
        ),
    ),
    Family(
        "symbol that looks like a unit",
        (
            *reads("1.58", "m = 1.58", "m: 1.58", asked="g"),
            *reads("1.58 g", "m = 1.58 g"),
            *reads("40.0 g/mol", "M = 40.0 g/mol", "M(NaOH) = 40.0 g/mol", "M: 40.0 g/mol"),
            *reads("40.0", "M = 40.0", "M(NaOH) = 40.0", asked="g/mol"),
            *reads("39.5 mL", "V = 39.5 mL", "V(NaOH) = 39.5 mL", "V1 = 39.5 mL", "V2: 39.5 mL"),
            *reads("298 K", "T = 298 K", "T: 298 K"),
            *reads("0.395 mol/L", "c = 0.395 M", "[NaOH] = 0.395 M", "c(NaOH) = 0.395 mol/L", "C = 0.395 M"),
            *reads("39.5", "A: 39.5", "c = 39.5", "C) 39.5", "g) 39.5", "m) 39.5", "(g) 39.5", "l) 39.5"),
        ),
    ),
    Family(
        "words that make a unit another",
        asks(
            "39.5 mmol per mL",
            "39.5 mmol per mole",
            "39.5 mmol per g",
            "39.5 mmol %",
            "39.5 mmol percent",
            "39.5 % of 2 mol",
        ),
    ),
    Family(
        "words that qualify",
        (
            *reads("1.58 g", "m 1.58 g", "mass 1.58 g", "mass is 1.58 g", "m is 1.58 g"),
            *reads(
                "39.5 mmol",
                "39.5 mmol (by titration)",
                "39.5 mmol, I think",
                "39.5 mmol at 25 °C",
                "39.5 mmol (theory)",
            ),
            *reads(
                "39.5 mmol", "39.5 mmol in excess", "I think 39.5 mmol", "39.5 mmol (see p. 2)", "39.5 mmol (from 1a)"
            ),
            *reads(
                "39.5 mmol", "39.5 mmol or so", "39.5 mmol, more or less", "39.5 mmol of 2-propanol", "39.5 mmol final"
            ),
            *reads(
                "39.5 mmol",
                "final answer: 39.5 mmol",
                "39.5 mmol (2 d.p.)",
                "39.5 mmol NaOH (aq)",
                "39.5 mmol of 1 M NaOH",
            ),
        ),
        tolerated="a note in free words: to ask is safe",
    ),
    Family(
        "words against the number",
        asks(
            *(
                "not 39.5 mmol",
                "39.5 mmol is wrong",
                "no idea, 39.5 mmol?",
                "39.5 mmol (crossed out)",
                "wrong: 39.5 mmol",
            ),
            *(
                "anything but 39.5 mmol",
                "39.5 mmol?? or less",
                "39.5 mmol too little",
                "39.5 mmol off",
                "error: 39.5 mmol",
            ),
            *("never 39.5 mmol", "the opposite of 39.5 mmol", "39.5 mmol short of 2 mol", "negative of 39.5 mmol"),
            *(
                "square of 39.5 mmol",
                "one over 39.5 mmol",
                "39.5 mmol inverted",
                "sum of 39.5 mmol",
                "39.5 mmol or none",
            ),
            *(
                "39.5 mmol every hour",
                "39.5 mmol from each",
                "three lots of 39.5 mmol",
                "39.5 mmol twice",
                "39.5 mmol thrice",
            ),
            *(
                "39.5 mmol half",
                "39.5 mmol and a bit",
                "39.5 mmol a third",
                "quarter of 39.5 mmol",
                "39.5 mmol tenfold",
            ),
            *("n isn't 39.5 mmol", "n is not 39.5 mmol", "n = not 39.5 mmol", "except 39.5 mmol", "39.5 mmol excluded"),
            *(
                "a tenth of 39.5 mmol",
                "39.5 mmol over 2",
                "39.5 mmol by 2",
                "39.5 mmol with sign changed",
                "ten 39.5 mmol",
            ),
        ),
    ),
    Family(
        "no number",
        asks("", "?", "mmol", "n = ", "n = mmol", "none", "n/a", "-", "–", "…", "idk", "see sheet", "#DIV/0!"),
    ),
)

_SEVERAL = (
    Family(
        "second number",
        asks(
            *(
                "39.5 mmol, 45 mmol",
                "39.5 mmol or 45 mmol",
                "39.5-45 mmol",
                "39.5–45 mmol",
                "39.5 to 45 mmol",
                "39.5 mmol 45",
            ),
            *("39.5; 45", "39.5, 45", "39.5 45", "39.5 / 45 mmol", "between 39.5 and 45 mmol", "39.5 mmol (45 mmol)"),
            *("39.5 mmol & 45 mmol", "39.5 mmol vs 45 mmol", "39.5 mmol → 45 mmol", "39.5 mmol\n45 mmol", "39.5|45"),
            *("39.5 mmol [45 mmol]", "39.5 mmol (or 45)", "a) 39.5 b) 45", "1) 39.5; 2) 45", "39.5 mmol, not 45 mmol"),
            *(
                "n1 = 39.5 mmol, n2 = 45 mmol",
                "39.5 = 45 mmol",
                "39.5 mmol = 45 mmol",
                "from 39.5 to 45",
                "39.5…45 mmol",
            ),
            *(
                "39.5 ~ 45 mmol",
                "39.5..45 mmol",
                "39.5 mmol = 0.395 mol",
                "39.5 mmol (0.395 mol)",
                "39.5 mmol, 0.395 mol",
            ),
        ),
    ),
    Family(
        "the same twice",
        (
            *reads("39.5 mmol", "39.5 mmol = 0.0395 mol", "0.0395 mol = 39.5 mmol", "39.5 mmol (0.0395 mol)"),
            *reads("39.5 mmol", "0.0395 mol (39.5 mmol)", "n = 0.0395 mol = 39.5 mmol", "39.5 mmol = 39.5 mmol"),
            *reads("39.48 mmol | 39.5 mmol", "39.48 mmol ≈ 39.5 mmol", "39.48 mmol = 39.5 mmol", "39.48 ≈ 39.5 mmol"),
            *reads("1.58 g", "1.58 g = 1580 mg", "1580 mg = 1.58 g", "1.58 g (1580 mg)", "m = 1.58 g = 1580 mg"),
        ),
    ),
    Family(
        "quantity of another kind beside it",
        (
            *reads(
                "39.5 mmol",
                "39.5 mmol, 1.58 g",
                "39.5 mmol (1.58 g)",
                "39.5 mmol (M = 40.0 g/mol)",
                "39.5 mmol; 1.58 g",
            ),
            *reads(
                "39.5 mmol",
                "1.58 g (39.5 mmol)",
                "1.58 g, 39.5 mmol",
                "m = 1.58 g, n = 39.5 mmol",
                "1.58 g = 39.5 mmol",
            ),
        ),
        tolerated="two quantities: to ask which is the answer is safe",
    ),
    Family(
        "working with its result",
        (
            *reads("39.5 mmol", "n = m/M = 39.5 mmol", "n = c·V = 39.5 mmol", "n = 1.58 g / 40.0 g/mol = 39.5 mmol"),
            *reads(
                "0.0395 mol", "n = 1.58/40.0 = 0.0395 mol", "1.58/40.0 = 0.0395 mol", "1.58 g ÷ 40.0 g/mol = 0.0395 mol"
            ),
            *reads(
                "3.16 g", "1.58 × 2 = 3.16 g", "2 x 1.58 g = 3.16 g", "1.58 + 1.58 = 3.16 g", "m = 2·1.58 g = 3.16 g"
            ),
        ),
        tolerated=_WORKING,
    ),
    Family(
        "working without a result",
        asks(
            *(
                "1.58/40.0",
                "1.58/40.0 mol",
                "1.58*25 mmol",
                "45-0.5 mmol",
                "39.5 + 1 mmol",
                "2 x 39.5 mmol",
                "39.5 x 2",
            ),
            *(
                "39.5^2",
                "√39.5",
                "39.5²",
                "=39.5+1",
                "=A1*2",
                "39.5 mmol/2",
                "39.5 mmol x 2",
                "39.5 mmol · 2",
                "39.5!2",
            ),
            *(
                "1.58 g / 40.0 g/mol",
                "39.5 ÷ 2 mmol",
                "(39.5 + 1) mmol",
                "2(39.5) mmol",
                "39.5 (2) x",
                "-(-39.5 mmol",
                "--39.5",
            ),
            *(
                "+-39.5 mmol",
                "39.5 - mmol",
                "39.5 + mmol",
                "*39.5*2",
                "39.5/mmol",
                "1/39.5 mmol",
                "5 % of 39.5 mmol",
                "e^3.95",
            ),
        ),
    ),
    Family(
        "unit twice, disagreeing",
        asks("39.5 mmol (mol)", "39.5 mmol in mol", "1.58 g in kg", "1.58 g [mg]", "g 1.58 kg"),
    ),
)

FAMILIES: tuple[Family, ...] = (*_PARTS, *_NUMBERS, *_WORDS, *_SEVERAL)

if unknown := {take.unit for one in FAMILIES for cell in one.cells for take in cell.accepted} - {"", *MEASURES}:
    raise ValueError(f"units without a measure: {unknown}")
