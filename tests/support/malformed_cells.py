"""Cells that nobody should write, seeded: real answers with slips, and everything that breaks readers of text."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from problemgen.chemistry.units import read_unit
from problemgen.grade.judging.notation import Notation, read_equation_answer, read_formula_answer
from problemgen.grade.reading.cell import read_answer
from problemgen.grade.reading.choices import ChoiceOption, read_choice

__all__ = ["READERS", "malformed_cells"]

_ANSWERS = (
    *("3.95 g", "3,95 g", "1 234,5 mg", "1,234.5", "3.95 x 10^1 g", "3.95 × 10⁻² kg", "3.95E+01", "10^-2 mol", "-5 °C"),
    *("m(NaCl) = 3.95 g", "n = 0.25 mol NaCl", "≈ 250 mmol", "about 3.95 g.", "3/4", "½ g", "82.0 %", "0.5 mol·L⁻¹"),
    *("12 g (0.012 kg)", "3.95 ± 0.05 g", "25 cm³", "250 µL", "1.2e24 molecules", "0.5 M NaOH", "12 g CuSO4·5H2O"),
    *("magnesium", "Mg", "NaOH is limiting", "copper(II) sulfate pentahydrate", "C6H5Br", "PhCO2Me", "H₂SO₄"),
    *(
        "2 H2 + O2 -> 2 H2O",
        "2KMnO4 + 16HCl = 2KCl + 2MnCl2 + 5Cl2 + 8H2O",
        "Fe^3+ + 3 OH- ⇌ Fe(OH)3(s)",
        "[Ag(NH3)2]+",
    ),
)
_HOSTILE = (
    *(
        "=SUM(A1:A9)",
        "=cmd|' /C calc'!A0",
        '+HYPERLINK("http://x",1)',
        "@import",
        "-2+3",
        "{{7*7}}",
        "${7*7}",
        "%n%s%x",
    ),
    *("<script>alert(1)</script>", "'; DROP TABLE answers; --", "__import__('os').system('ls')", "../../etc/passwd"),
    *(
        "$(reboot)",
        "`reboot`",
        "\\input{x}",
        '#import "x"',
        "&lt;b&gt;",
        "%00",
        "\\u0000",
        "NaN",
        "Infinity",
        "1/0",
        "0/0",
    ),
    *(
        "9" * 90,
        "0." + "0" * 90 + "1",
        "1e999999999",
        "1e-999999999",
        "10^10^10^10",
        "1/3/5/7",
        "1e1e1",
        "--5",
        "+-+-5",
    ),
)
_TOKENS = (
    *("0", "1", "12", "3.95", "3,95", "1,234", "-1", "10^", "×10^", "e", "E", "½", "²", "⁻¹", "±", "%", "°", "µ"),
    *(".", ",", "'", "/", "*", "x", "×", "·", "^", "**", "-", "−", "+", "=", "≈", "~", "->", "⇌", "<", ">"),
    *("(", ")", "[", "]", "{", "}", ":", ";", "?", "!", "of", "or", "and", "about", "ca.", "m", "n", "NaCl", "H2O"),
    *("g", "mg", "kg", "mol", "mmol", "L", "mL", "M", "mol/L", "g/mol", "°C", "K", "kPa", "cm³", "cc", "CuSO4·5H2O"),
    *(" ", "\u00a0", "\u2009", "\t", "\n", "\u200b", "\u202e", "\ufeff", "\x00"),
)
_DIGITS = "0123456789٠١٢٣٤٥٦٧٨٩۰۱۲۳०१२३０１２３𝟎𝟏𝟐𝟑⁰¹²³₀₁₂₃①②③ⅣⅫ㊿"
_BIDI = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_CONTROLS = "".join(map(chr, (*range(32), *range(127, 160), 0xAD, 0x2028, 0x2029, 0xFFFD, 0xFFFF)))
_OPENING_AND_CLOSING = ("()", "[]", "{}", "([", "}])", "(C", "H2)", "^(", "^{", "⁽⁾")


def _slips(draw: random.Random, text: str) -> str:
    """A text with a few characters put in, left out, doubled, replaced or swapped."""
    letters = list(text)
    for _ in range(draw.randint(1, 4)):
        at = draw.randrange(len(letters) + 1)
        match draw.randrange(5):
            case 0:
                letters.insert(at, draw.choice(_TOKENS))
            case 1:
                del letters[at : at + draw.randint(1, 3)]
            case 2:
                letters[at:at] = letters[at : at + 3]
            case 3:
                letters[at : at + 1] = [chr(draw.randrange(0x3000))]
            case _:
                letters[at : at + 2] = reversed(letters[at : at + 2])
    return "".join(letters)


def _mixed_in(draw: random.Random, text: str, marks: str) -> str:
    """A text with marks at random places."""
    return "".join(c + draw.choice(marks) * (draw.random() < 0.4) for c in text)


def _any_unicode(draw: random.Random) -> str:
    return "".join(chr(draw.randrange(0x110000)) for _ in range(draw.randrange(60)))


def _numbers(draw: random.Random) -> str:
    """Figures of many scripts, with marks and powers of any size."""
    figures = "".join(draw.choice(_DIGITS + ".,' ") for _ in range(draw.randint(1, 40)))
    power = draw.choice(("", "e", "E+", "×10^", "x 10^-", "·10⁻", "/", "^")) + str(
        draw.getrandbits(draw.choice((4, 12, 300)))
    )
    return figures + draw.choice(("", power)) + draw.choice(("", " g", " mol/L", "%"))


def _brackets(draw: random.Random) -> str:
    depth = draw.choice((3, 30, 300))
    return draw.choice(_OPENING_AND_CLOSING) * depth + draw.choice(("", "5", "H2O")) + ")" * draw.randrange(depth)


def _long(draw: random.Random) -> str:
    piece = draw.choice((*_ANSWERS, *_HOSTILE, *_TOKENS))
    return piece * draw.choice((10, 60, 200, 1000))


_KINDS: tuple[Callable[[random.Random], str], ...] = (
    lambda draw: _slips(draw, draw.choice(_ANSWERS)),
    lambda draw: _slips(draw, draw.choice(_ANSWERS)),
    lambda draw: _slips(draw, draw.choice(_HOSTILE)),
    lambda draw: "".join(draw.choices(_TOKENS, k=draw.randrange(1, 30))),
    lambda draw: _mixed_in(draw, draw.choice(_ANSWERS), _CONTROLS),
    lambda draw: _mixed_in(draw, draw.choice(_ANSWERS), _BIDI),
    _any_unicode,
    _numbers,
    _brackets,
    _long,
)


def malformed_cells(seed: int, count: int) -> Iterator[str]:
    """So many cells, the same for the same seed, every kind equally often."""
    draw = random.Random(seed)  # noqa: S311 - a fuzz test keeps no secret
    for turn in range(count):
        yield _KINDS[turn % len(_KINDS)](draw)


_ASKED = tuple(map(read_unit, ("g", "mol", "mol/L", "%", "°C", "1", "molecules", "J/(mol·K)")))
_OPTIONS = (
    ChoiceOption("magnesium", ("magnesium",), "Mg"),
    ChoiceOption("sodium-hydroxide", ("sodium hydroxide", "caustic soda"), "NaOH"),
    ChoiceOption("vitriol", ("copper(II) sulfate pentahydrate", "blue vitriol"), "CuSO4.5H2O"),
    ChoiceOption("bromobenzene", ("bromobenzene", "phenyl bromide"), "C6H5Br"),
)


def _number(cell: str, turn: int) -> str:
    reading = read_answer(cell, _ASKED[turn % len(_ASKED)], decimal_mark=".,"[turn % 3 == 0])
    is_number = reading.status in {"number", "ambiguous"}
    assert is_number == (reading.value_in_unit is not None)
    assert (reading.written is not None) == (is_number or reading.status == "wrong_dimension")
    assert reading.reason or reading.status in {"number", "blank"}
    return reading.status


def _choice(cell: str, _: int) -> str:
    reading = read_choice(cell, _OPTIONS)
    assert (reading.status == "chosen") == (reading.id is not None)
    assert reading.reason or reading.status in {"chosen", "blank"}
    return reading.status


def _notation(notation: Notation) -> str:
    found = [one for one in (notation.formula, notation.equation, notation.unread) if one is not None]
    assert len(found) == 1
    assert notation.unread is None or notation.unread.sentence
    return notation.unread.reason if notation.unread else "read"


READERS: dict[str, Callable[[str, int], str]] = {
    "number": _number,
    "choice": _choice,
    "formula": lambda cell, _: _notation(read_formula_answer(cell)),
    "equation": lambda cell, _: _notation(read_equation_answer(cell)),
}
"""What reads a cell, by what is asked for: each returns its status and asserts that there is a reason for it.

The second argument is the cell's turn, which picks the unit asked for and the decimal mark.
"""
