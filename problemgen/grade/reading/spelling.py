"""Characters as people type and paste them, brought to the plain ones that the readers look at.

Full-width letters and every script's decimal digits become ASCII, dashes and the minus sign "-", signs
of approximation "~", arrows "=", no-break and thin spaces one no-break space, raised figures "^" and plain
ones, "½" becomes " 1/2", "㎖" becomes "ml". A line break or a tab becomes two spaces: what stands on two
lines is two things. Invisible marks are left out, but not the soft hyphen, which may have been a minus sign.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

__all__ = ["LONGEST", "NARROW", "RULES", "groups_written_out", "is_blank", "plain_characters", "quoted"]

LONGEST = 200
"""The longest answer that is read, in characters, without the spaces round it: some lines, no pasted page."""

NARROW = "\N{NO-BREAK SPACE}"
"""What every no-break or thin space becomes."""

_QUOTED_AT_MOST = 40  # enough to find the place again, and half a line of a report
_INVISIBLE = "\u061c\ufeff" + "".join(
    map(chr, (*range(0x200B, 0x2010), *range(0x202A, 0x202F), *range(0x2060, 0x2070)))
)
_NARROW_SPACES = "\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-")
_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"

_ONE_FOR_ONE: dict[int, str] = {
    **{code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)},
    **{ord(c): "-" for c in "‐‑‒–—―−﹣－"},
    **{ord(c): "'" for c in "‘’ʼ`´٬"},
    **{ord(c): "." for c in "٫。｡"},
    **{ord(c): "·" for c in "∙•"},
    **{code: unicodedata.normalize("NFKC", chr(code)) for code in range(0x3380, 0x33E0)},
    **{ord(c): '"' for c in "“”„«»"},
    **{ord(c): "~" for c in "≈∼≃≅≒〜"},
    **{ord(c): "=" for c in "→⇒⟶⟹"},
    **{ord(c): "/" for c in "⁄∕"},
    **{ord(c): "°" for c in "º˚"},
    **{ord(c): NARROW for c in _NARROW_SPACES},
    **{ord(c): "  " for c in "\t\n\r\v\f\x1c\x1d\x1e\x1f\x85\u2028\u2029"},
    **{ord(c): f" {unicodedata.normalize('NFKC', c).replace('⁄', '/')} " for c in _VULGAR},
    ord("…"): "...",
    ord("ℓ"): "L",
    ord("ɡ"): "g",
    **dict.fromkeys(map(ord, _INVISIBLE), ""),
}
_OTHER_DIGIT = re.compile(r"(?![0-9])\d")
_RAISED_RUN = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+")
_BRACKETED_POWER = re.compile(r"\^ ?(?:\( ?([+-]? ?[0-9]+) ?\)|\{ ?([+-]? ?[0-9]+) ?\})")
_ARROW = re.compile(r"[=-]+>")
_QUOTES = re.compile(r"""^"([^"]*)"$|^'([^']*)'?$""")

_GROUPS = {"Ph": "C6H5", "Me": "CH3", "Et": "C2H5", "Bu": "C4H9", "Bn": "C7H7", "Ts": "C7H7SO2"}
# Symbols of elements too: acetyl and propyl only in a formula that makes no sense with actinium or praseodymium.
_GROUPS_OR_ELEMENTS = {"Ac": "C2H3O", "Pr": "C3H7"}
_GROUP = re.compile("Ph|Me|Et|Bu|Bn|Ts|Ac|Pr")

_NOTHING = frozenset("-?._/*")
_NO_ANSWER = frozenset({"n/a", "n.a.", "n.a", "na", "(blank)", "(empty)"})

RULES: Mapping[str, object] = {
    "longest": LONGEST,
    "narrow": NARROW,
    "one_for_one": {chr(code): plain for code, plain in _ONE_FOR_ONE.items()},
    "raised": {chr(code): chr(plain) for code, plain in _RAISED.items()},
    "raised_run": _RAISED_RUN,
    "other_digit": _OTHER_DIGIT,
    "bracketed_power": _BRACKETED_POWER,
    "arrow": _ARROW,
    "quotes": _QUOTES,
    "groups": _GROUPS,
    "group": _GROUP,
    "nothing": _NOTHING,
    "no_answer": _NO_ANSWER,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def plain_characters(text: str) -> str:
    """An answer in plain characters, without spaces or quotation marks round it.

    >>> plain_characters("３．９５ × 10⁻²")
    '3.95 × 10^-2'
    """
    plain = text.translate(_ONE_FOR_ONE)
    if not plain.isascii():
        plain = _OTHER_DIGIT.sub(lambda digit: str(unicodedata.decimal(digit[0])), plain)
        plain = _RAISED_RUN.sub(lambda run: "^" + run[0].translate(_RAISED), plain)
    plain = _ARROW.sub("=", plain).replace("**", "^").replace("^^", "^")
    plain = _BRACKETED_POWER.sub(lambda power: f"^{power[1] or power[2]}", plain).strip()
    quotes = _QUOTES.match(plain)
    return (quotes[1] or quotes[2] or "").strip() if quotes else plain


def is_blank(plain: str) -> bool:
    """Whether plain text says that nothing was answered: empty, a dash, a question mark, "n/a"."""
    return _NOTHING.issuperset(plain.replace(" ", "")) or plain.casefold() in _NO_ANSWER


def groups_written_out(formula: str, *, elements: bool = False) -> str:
    """A formula with the usual abbreviations of organic groups written out; with `elements`, Ac and Pr too.

    >>> groups_written_out("Ph3COH"), groups_written_out("AcOH", elements=True)
    ('(C6H5)3COH', '(C2H3O)OH')
    """
    known = _GROUPS | _GROUPS_OR_ELEMENTS if elements else _GROUPS
    return _GROUP.sub(lambda group: f"({known[group[0]]})" if group[0] in known else group[0], formula)


def quoted(text: str) -> str:
    """Part of an answer as a reason quotes it: on one line, shortened, unprintable characters replaced."""
    line = "".join(c if c.isprintable() else " " for c in text[: _QUOTED_AT_MOST + 1]).strip()
    return f'"{line[:_QUOTED_AT_MOST]}…"' if len(line) > _QUOTED_AT_MOST else f'"{line}"'
