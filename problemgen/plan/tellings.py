"""What a student is told of an error that was derived: which step, which operation for which, and what comes of it.

The unit that the student's calculation would have is told where it is not the unit of what was asked: 50.0 mL divided
by 0.250 mol/L is no amount.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from problemgen.language.messages import N_, _
from problemgen.model.expression import Expression
from problemgen.model.plan import Step
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, quantity_named
from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.missteps import factors_of
from problemgen.plan.paths import EXTENT
from problemgen.plan.tries import RANK, Try

__all__ = ["OTHER_REAGENT", "Telling", "telling_of"]

OTHER_REAGENT = N_("Your limiting reagent is right; this was worked out from another one.")
"""What is said where the limiting reagent was named rightly, and not gone on with."""

_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "upside-down": N_("a quotient upside down"),
        "inverted": N_("multiplied in place of divided, or the other way round"),
        "left-out": N_("a factor left out"),
        "twice": N_("a factor used twice"),
        "coefficient-left-out": N_("coefficients left out"),
        "coefficient-inverted": N_("ratio of coefficients upside down"),
        "ratio-left-out": N_("a ratio left out"),
        "ratio-inverted": N_("a ratio upside down"),
        "term-left-out": N_("a term left out of a sum"),
        "term-alone": N_("a term of a sum alone"),
        "sign": N_("added in place of subtracted, or the other way round"),
        "another": N_("a reagent other than the limiting one gone on with"),
        "sum": N_("what the reagents could give added up"),
        "average": N_("what the reagents could give averaged"),
        "complement": N_("the rest taken for the part, or the part for the rest"),
        "subscript": N_("a subscript left out of the molar mass"),
        "digits": N_("two digits exchanged in a molar mass"),
        "coefficient-twice": N_("a coefficient used twice"),
        "difference": N_("a difference in the place of a quotient"),
        "element": N_("an element's molar mass for the compound's"),
        "element-left-out": N_("an element left out of the molar mass"),
        "one-water": N_("one water of crystallisation for several"),
        "other": N_("another quantity of the same kind"),
        "together": N_("two volumes added up"),
        "apart": N_("the difference of two volumes"),
        "celsius": N_("degrees Celsius for kelvin"),
        "gas-constant": N_("the gas constant for other units"),
        "molar-volume": N_("the molar volume under other conditions"),
        "masses": N_("masses in the place of amounts"),
    }
)
"""What an error is called, by how it was made."""

_SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "upside-down": N_("{Law}: the quotient for the {result} seems to be upside down{unit}."),
        "inverted": N_("{Law}: did you divide by the {first} where you should multiply, or the other way round{unit}?"),
        "left-out": N_("{Law}: the {first} seems to be left out{unit}."),
        "twice": N_("{Law}: the {first} seems to be used twice{unit}."),
        "coefficient-left-out": N_(
            "Read the equation once more: how many of one substance go with how many of the other?"
        ),
        "coefficient-inverted": N_("Test your ratio on the equation itself: does it give what it should for each?"),
        "ratio-left-out": N_("{Law}: the ratio of the {first} to the {second} seems to be left out."),
        "ratio-inverted": N_("{Law}: the ratio of the {first} to the {second} seems to be upside down."),
        "term-left-out": N_("{Law}: the {first} seems to be left out."),
        "term-alone": N_("{Law}: this seems to be the {first} alone."),
        "sign": N_("{Law}: did you add the {first} where it should be subtracted, or the other way round?"),
        "another": N_("The reaction stops when the first reagent is used up: did you go on with that one?"),
        "sum": N_(
            "The reaction stops when the first reagent is used up: what the others could give does not add to it."
        ),
        "average": N_("The reaction stops when the first reagent is used up: there is nothing to average."),
        "complement": N_("Is it the part that was asked for, or the rest of the whole?"),
        "subscript": N_("Count the atoms once more for the {result}: a small number multiplies what stands before it."),
        "digits": N_("Check the {result}: two digits of it seem to have changed places."),
        "coefficient-twice": N_("Each coefficient of the equation counts once: where did you use it?"),
        "difference": N_("{Law}: the quotient of the two is asked for, not their difference."),
        "element": N_("One atom is not the whole formula: add up all atoms for the {result}."),
        "element-left-out": N_("Count the elements of the formula once more: each of them adds to the {result}."),
        "one-water": N_(
            "How many molecules of water does one formula unit of the hydrate carry? All of them are weighed."
        ),
        "other": N_("{Law}: the {second} seems to be used in place of the {first}."),
        "other-alike": N_("{Law}: another {first} seems to be used."),
        "together": N_("{Law}: the {first} seems to have the {second} added to it."),
        "apart": N_("{Law}: the difference from the {second} seems to be used in place of the {first}."),
        "celsius": N_("{Law}: it holds for the temperature in kelvin."),
        "gas-constant": N_("{Law}: the gas constant has to be in the units of the pressure and the volume."),
        "molar-volume": N_(
            "{Law}: the molar volume depends on temperature and pressure; is yours that of the problem?"
        ),
        "masses": N_("{Law}: the equation and the formula compare amounts, not masses."),
    }
)
"""What a student is told, by how the error was made. {unit} is what the unit of the calculation tells."""

_BASE: Mapping[str, tuple[str, int]] = MappingProxyType(
    {"amount": ("mol", 1), "mass": ("g", 1), "length": ("L", 3), "temperature": ("K", 1)}
)
"""The unit of each base that a student's calculation is told in, and its exponent of the base."""

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


@dataclass(frozen=True)
class Telling:
    """What an error is called, and what the student is told.

    The title is a message, the same in every language, so that a class can be counted by it; the sentence is said.
    """

    title: str
    sentence: str


def telling_of(scene: Scene, step: Step, one: Try) -> Telling:
    """What is told of a try at a step; of a listed error what the law's file says."""
    if one.rank == RANK["listed"]:
        return Telling(one.mistake.title, _(one.mistake.hint))
    how = one.how
    if how == "another" and step.quantity.id != EXTENT:
        how = "other"
    words = [scene.words_of(quantity_named(name)) for name in one.what] + [_("value"), _("other value")]
    is_alike = how == "other" and words[0] == words[1]
    sentence = _(_SENTENCES["other-alike" if is_alike else how]).format(
        Law=_(LAWS_BY_ID[step.law].title),
        result=scene.words_of(step.quantity),
        first=words[0],
        second=words[1],
        unit=_unit_told(step, one.expression),
    )
    return Telling(_TITLES[how], sentence)


def _unit_told(step: Step, expression: Expression) -> str:
    """The unit that a calculation comes out in, where that is not the unit of what the step is for."""
    mine, due = _dimension(expression), Counter(dict(KINDS[step.quantity.kind].dimension))
    if mine is None or _exponents(mine) == _exponents(due):
        return ""
    told = _unit_words(mine)
    if not told:
        return ""
    # Translators: stands behind a sentence: "... seems to be left out (that gives g/mol, which is no mass)".
    sentence = _(" (that gives {unit}, which is no {kind})")
    return sentence.format(unit=told, kind=_(KINDS[step.quantity.kind].words))


def _dimension(expression: Expression) -> Counter[str] | None:
    """The dimension of a product of quantities; None for anything else."""
    total: Counter[str] = Counter()
    for factor, power in factors_of(expression)[1]:
        if not isinstance(factor, str):
            return None
        for base, exponent in KINDS[quantity_named(factor).kind].dimension:
            total[base] += exponent * power
    return total


def _exponents(dimension: Mapping[str, int]) -> dict[str, int]:
    return {base: exponent for base, exponent in dimension.items() if exponent}


def _unit_words(dimension: Mapping[str, int]) -> str:
    """A unit of grams, moles, litres and kelvins: "L²/mol"; "" for one that has others in it."""
    powers = []
    for base, exponent in sorted(_exponents(dimension).items()):
        symbol, per = _BASE.get(base, ("", 1))
        if not symbol or exponent % per:
            return ""
        powers.append((symbol, exponent // per))
    over = "·".join(_power(symbol, power) for symbol, power in powers if power > 0)
    under = [_power(symbol, -power) for symbol, power in powers if power < 0]
    if not over and not under:
        return _("a plain number")
    below = f"({'·'.join(under)})" if len(under) > 1 else "".join(under)
    return (over or "1") + (f"/{below}" if below else "")


def _power(symbol: str, power: int) -> str:
    return symbol if power == 1 else symbol + str(power).translate(_RAISED)
