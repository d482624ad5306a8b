"""A cell of an answer sheet as one of a few substances.

answer = (name | synonym | formula | filler)*      naming exactly one of the options
       | (letter | number) [name]                  its place among them: A or 1 is the first that the sheet prints

Names are compared without case, accents, spaces and punctuation ("copper II sulphate" is copper(II) sulfate).
Formulas are compared as problemgen.chemistry.formula reads them, with subscripts or without, then in any case
("h2so4"), then by composition where only one option has it ("CH3COOH" or "AcOH" for C2H4O2). The water of
crystallisation and the oxidation number may be left out ("copper sulfate"), and "acid" behind an acid's name where no
other option begins so ("salicylic"), with a remark. Fillers are words that change nothing: "the limiting reagent is
NaCl". Any other word beside an option makes the answer unreadable: "not NaCl" and "NaCl in excess" do not name NaCl.

A letter or a number may stand in brackets, have a sign behind it, and "option" or "answer" before it. Where the letter
is another option's formula (C, K), or a name behind it is another option's, the answer is ambiguous.

A name may have typing slips, one for every four letters of a word: a letter too many, missing, wrong, or
two letters swapped. No slip turns one substance into another: figures and Roman numerals must agree, and so must
the endings and stems that tell substances apart, where both have one ("sulfite" is no slip of "sulfate", nor
"ethanol" of "methanol"). Where two options are equally or nearly as close, the answer is ambiguous.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple, TypeAlias

from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import FormulaError
from problemgen.grade.reading.slips import name_slips
from problemgen.grade.reading.spelling import LONGEST, groups_written_out, is_blank, plain_characters, quoted
from problemgen.language.messages import _

__all__ = ["ChoiceOption", "ChoiceReading", "ChoiceStatus", "read_choice"]

ChoiceStatus: TypeAlias = Literal["chosen", "ambiguous", "unreadable", "blank"]

_MOST_WORDS = 24  # a sentence or two: in more, a name that occurs may not be what is meant
_LONGEST_NAME = 8  # words that one name may have: the longest of the bank have four, and a student may take them apart
_SPELLINGS = (("sulph", "sulf"), ("aluminum", "aluminium"), (r"\bcesium", "caesium"))
_FILLERS = frozenset[str]().union(
    ("the", "a", "an", "is", "it", "its", "so", "therefore", "i", "think", "answer", "because", "as", "lr"),
    ("limiting", "limits", "limit", "reagent", "reagents", "reactant", "reactants", "agent", "substance"),
    ("compound", "solution", "solid", "liquid", "gas", "aqueous", "aq", "s", "l", "g", "metal", "powder"),
    ("turnings", "ribbon", "filings", "pellets", "crystals", "crystalline", "has", "have", "since", "there", "of"),
    ("smallest", "smaller", "least", "less", "lowest", "lower", "fewest", "fewer", "amount", "moles", "extent"),
    ("used", "consumed", "up", "runs", "out", "first", "completely", "reacts", "will", "be", "would", "this", "that"),
)
_NUMERAL = r" (?:i{1,3}|iv|vi{0,3})\b"
_HYDRATE = r" \w*hydrate$"
_ACID = " acid"
_COEFFICIENT = re.compile(r"^[0-9]{1,2} ?(?=[A-Z(\[])")
_NOTE = re.compile(r" \([^()]*\)$")
_IN_FIGURES = {f"({i})": f"({roman})" for i, roman in enumerate(("I", "II", "III", "IV", "V", "VI", "VII"), 1)}
_AS_TYPED = _IN_FIGURES | {f"({'l' * i})": f"({'I' * i})" for i in (1, 2, 3)}
_OXIDATION_NUMBER = re.compile(r"(?<=[a-z]) ?(\([1-7]\)|\(l{1,3}\))")
_EDGES = ".,;:!?\"'=-"
_PLACE = re.compile(
    r"(?:the )?(?:(?:option|answer|choice|letter|number|no\.?|nr\.?|it)(?: is)? ?[:=]? ?)?"
    r"[(\[{]?(?P<place>[a-z]|[1-9][0-9]?)(?:[)\]}.:=?!]+ ?|\Z| (?=\())(?P<rest>.*)",
    re.IGNORECASE,
)
"""The place of an option, and perhaps its name: "B", "b)", "(2)", "option B", "B: silver nitrate"."""


@dataclass(frozen=True)
class ChoiceOption:
    """One substance to choose: its id, its names (the bank's name first, then synonyms), its formula or ""."""

    id: str
    names: tuple[str, ...]
    formula: str


@dataclass(frozen=True)
class ChoiceReading:
    """What a cell chooses: the id of the option, None unless the status is "chosen".

    `reason` is a sentence for the student or the instructor, "" where there is nothing to say.
    """

    text: str
    status: ChoiceStatus
    id: str | None
    reason: str


class _Names(NamedTuple):
    """The options by what they are called."""

    by_key: dict[str, frozenset[str]]
    shortened: dict[str, frozenset[str]]  # without the water of crystallisation or the oxidation number
    spelled: tuple[tuple[str, str], ...]  # name in plain letters, id
    by_formula: tuple[tuple[Formula, str], ...]
    shown: dict[str, str]


def read_choice(text: str, options: Sequence[ChoiceOption]) -> ChoiceReading:
    """Read which of the options an answer names; the rules are in the module's docstring.

    No text raises an exception.

    >>> salt = ChoiceOption("sodium-chloride", ("sodium chloride", "table salt"), "NaCl")
    >>> read_choice("sodium chlorde", [salt]).id, read_choice("nacl", [salt]).id
    ('sodium-chloride', 'sodium-chloride')
    """
    stripped = text.strip()
    if len(stripped) > LONGEST:
        reason = _("An answer of {n} characters is not read; write one substance.").format(n=len(stripped))
        return ChoiceReading(text, "unreadable", None, reason)
    plain, names = plain_characters(stripped), _names(tuple(options))
    # NA is "not available"; Na is sodium, which may be an option: names go first.
    meant, mended = _whole(plain, names) | _find(plain, names), False
    if not meant and is_blank(plain):
        return ChoiceReading(text, "blank", None, "")
    if not meant:
        meant = _among_fillers(plain, names)
    if not meant:
        meant, mended = _shortened(plain, names) or _closest(plain, names), True
    return _chosen(text, meant, names, mended=mended)


def _chosen(text: str, meant: frozenset[str], names: _Names, *, mended: bool) -> ChoiceReading:
    """The reading of an answer that may mean so many options."""
    if len(meant) == 1:
        (only,) = meant
        remark = _("{text} is read as {name}.").format(text=quoted(text), name=names.shown[only]) if mended else ""
        return ChoiceReading(text, "chosen", only, remark)
    if meant:
        any_of = f" {_('or')} ".join(name for option, name in names.shown.items() if option in meant)
        told = _("{text} can mean {names}; name one.").format(text=quoted(text), names=any_of)
        return ChoiceReading(text, "ambiguous", None, told)
    told = _("{text} is not clear; name one of: {names}.")
    return ChoiceReading(
        text, "unreadable", None, told.format(text=quoted(text), names=", ".join(names.shown.values()))
    )


def _find(plain: str, names: _Names) -> frozenset[str]:
    """The option that an answer tells by its letter or number, with those that a name behind it means."""
    found = _PLACE.fullmatch(plain)
    if found is None:
        return frozenset()
    place, rest = found["place"], found["rest"].strip(_EDGES + " ()")
    number = int(place) if place.isdecimal() else ord(place.lower()) - ord("a") + 1
    option = frozenset(list(names.shown)[number - 1 : number])
    if not rest or not option:
        return option
    meant = _whole(rest, names) or _among_fillers(rest, names) or _shortened(rest, names) or _closest(rest, names)
    is_filler = all(word in _FILLERS for word in _letters(rest).split())
    return option | meant if meant or is_filler else frozenset()


def _called(option: ChoiceOption) -> Iterable[str]:
    """What an option is called: its names, with and without a note behind them, and its id.

    "hydrochloric acid (in water)" is also "hydrochloric acid".
    """
    return (*option.names, *(_NOTE.sub("", name) for name in option.names), option.id)


@lru_cache(maxsize=256)
def _names(options: tuple[ChoiceOption, ...]) -> _Names:
    """What the options are called, by key and by formula."""
    spelled = [(_letters(name), option.id) for option in options for name in _called(option)]
    formulas = [(formula, option.id) for option in options if (formula := _formula(option.formula))]
    shortened = [(short, option) for name, option in spelled for short in _short_forms(name)]
    shortened += [(known.text.split(".")[0], option) for known, option in formulas if known.crystal_water]
    shortened += _acids(spelled)
    shown = {option.id: (*option.names, option.formula, option.id)[0] for option in options}
    keyed = [(name.replace(" ", ""), option) for name, option in spelled]
    return _Names(_index(keyed), _index(shortened), tuple(dict.fromkeys(spelled)), tuple(formulas), shown)


def _index(pairs: Iterable[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """Every key that is not empty, to the options that have it."""
    index: dict[str, frozenset[str]] = {}
    for key, option in pairs:
        if key:
            index[key] = index.get(key, frozenset()) | {option}
    return index


def _short_forms(name: str) -> set[str]:
    """A name as it is shortened: without the water of crystallisation, the oxidation number, or both."""
    dry = re.sub(_HYDRATE, "", name)
    return {dry, re.sub(_NUMERAL, "", name), re.sub(_NUMERAL, "", dry)} - {name}


def _acids(spelled: Sequence[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """What stands before "acid", with the options that begin with it: "acetic" may be an anhydride too."""
    for short in {name.removesuffix(_ACID) for name, _option in spelled if name.endswith(_ACID)}:
        yield from ((short, option) for name, option in spelled if name.split()[: len(short.split())] == short.split())


def _letters(text: str) -> str:
    """A name in small plain letters, digits and single spaces; British and American spellings made one."""
    text = _OXIDATION_NUMBER.sub(lambda number: _AS_TYPED[number[1]], text)
    folded = unicodedata.normalize("NFKD", text).casefold()
    kept = "".join(c if c.isalnum() else " " for c in folded if not unicodedata.combining(c))
    for spelling, one in _SPELLINGS:
        kept = re.sub(spelling, one, kept)
    return " ".join(kept.split())


def _key(text: str) -> str:
    """A name without case, accents, spaces and punctuation."""
    return _letters(text).replace(" ", "")


def _whole(text: str, names: _Names) -> frozenset[str]:
    """The options that the whole text names, as a formula or as a name."""
    plain = text.strip(_EDGES + " ")
    return (
        _by_formula(plain, names)
        or names.by_key.get(_key(plain), frozenset())
        or _by_formula(_COEFFICIENT.sub("", plain), names)
    )


@lru_cache(maxsize=4096)
def _formula(text: str) -> Formula | None:
    """The formula that a text is, or None."""
    try:
        return read_formula(text)
    except FormulaError:
        return None


def _by_formula(text: str, names: _Names) -> frozenset[str]:
    """The options with this formula: as written, else in any case, else of the same composition."""
    formula, folded = _formula(text), _folded(text)
    written_out = _formula(groups_written_out(text, elements=True))
    tests: tuple[Callable[[Formula], bool], ...] = (
        lambda known: formula is not None and known.text == formula.text,
        lambda known: _folded(known.text) == folded,
        lambda known: formula is not None and _atoms(known) == _atoms(formula),
        lambda known: written_out is not None and _atoms(known) == _atoms(written_out),
    )
    found = (frozenset(option for known, option in names.by_formula if test(known)) for test in tests)
    return next(filter(None, found), frozenset())


@lru_cache(maxsize=4096)
def _folded(text: str) -> str:
    """A formula in small letters, without state, subscripts, spaces and the kind of dot."""
    plain = re.sub(r" ?\((?:s|l|g|aq)\)$", "", unicodedata.normalize("NFKC", text).casefold())
    return re.sub("[·⋅•*]", ".", plain.replace(" ", ""))


def _atoms(formula: Formula) -> tuple[frozenset[tuple[str, int]], int]:
    """What a formula is made of, in no order."""
    return frozenset(formula.counts), formula.charge


def _among_fillers(text: str, names: _Names) -> frozenset[str]:
    """The options named in a sentence of which every other word is a filler; several if several are named."""
    words = [word for word in re.split(r"[\s=:,;/]+", text) if word.strip(_EDGES)][: _MOST_WORDS + 1]
    if len(words) > _MOST_WORDS:
        return frozenset()
    found: list[frozenset[str]] = []
    strange = False
    at = 0
    while at < len(words):
        meant, used = _longest_name(words, at, names)
        if meant:
            found.append(meant)
        elif words[at].strip(_EDGES + "()[]").casefold() not in _FILLERS:
            strange = True
        at += used
    together = frozenset[str]().union(*found)
    shared = together.intersection(*found)
    # "hydrochloric acid (HCl)": the name and the formula of one option, and what they share.
    meant = shared or together
    return frozenset() if strange and len(meant) == 1 else meant


def _longest_name(words: list[str], at: int, names: _Names) -> tuple[frozenset[str], int]:
    """The options that the longest name from a word on can mean, and its words; nothing and 1 if none is."""
    for length in range(min(_LONGEST_NAME, len(words) - at), 0, -1):
        joined = " ".join(words[at : at + length])
        # A small letter is a state or an article in a sentence, not sulfur or iodine.
        if joined.strip(_EDGES + "()[]") in _FILLERS:
            break
        meant = _whole(joined, names) or _whole(joined.strip(_EDGES + " ()[]"), names)
        if meant:
            return meant, length
    return frozenset(), 1


def _shortened(text: str, names: _Names) -> frozenset[str]:
    """The options that a shortened name or formula means: "copper sulfate", "CuSO4" for the pentahydrate."""
    formula = _formula(text.strip(_EDGES + " "))
    key = formula.text if formula else _without_fillers(_letters(text))
    return names.shortened.get(key, frozenset())


def _closest(text: str, names: _Names) -> frozenset[str]:
    """The options whose names are within the slips allowed, and no more than one slip behind the closest."""
    written = _without_fillers(_letters(text))
    counts: dict[str, int] = {}
    for name, option in names.spelled:
        count = name_slips(written, name)
        if count is not None:
            counts[option] = min(count, counts.get(option, count))
    nearest = min(counts.values(), default=0)
    return frozenset(option for option, count in counts.items() if count <= nearest + 1)


def _without_fillers(letters: str) -> str:
    """The words of an answer without those that change nothing; all of them if no other is left.

    Single letters stay: they may be an oxidation number or a place in the molecule.
    """
    kept = [word for word in letters.split() if len(word) == 1 or word not in _FILLERS]
    return " ".join(kept) or letters
