"""Fixed cells by family: what students and their spreadsheets write, and what a careful person takes from it.

All of it is common practice, no source, but for the spellings of units (see person_cells) and numbers (person_parts).
"""

from __future__ import annotations

from tests.support.person_built import BUILT
from tests.support.person_cells import MEASURES, Family, asks, reads
from tests.support.person_words import WORDS

__all__ = ["FAMILIES"]

_WORKING = "working beside the answer: to ask what was meant is safe"
_RARE = "few write it so, and a person may read more into it than a rule"

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
                "n (×10⁻³ mol): 39.5",
                "n (x 10^-3 mol) = 39.5",
                "n × 10³ (mol): 39.5",
                "in thousands: 39.5",
                "39.5 k",
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
            *reads("0.395", "about .395", "Ans .395", "answer .395", "ca .395", "~.395", "roughly .395"),
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
        asks("O.395 mol", "l.58 g", "39.S mmol", "I.58 g", "39.5O mmol", "3g.5 mmol", "3 9 . 5", "39 . 5 . 1"),
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

FAMILIES: tuple[Family, ...] = (*BUILT, *_NUMBERS, *WORDS, *_SEVERAL)

if unknown := {take.unit for one in FAMILIES for cell in one.cells for take in cell.accepted} - {"", *MEASURES}:
    raise ValueError(f"units without a measure: {unknown}")
