"""The student's own data on paper: blanks on the sheet, what was read on the feedback, what to check on the key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from problemgen.chemistry.units import unit_text
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import N_, _
from problemgen.model.answers import StudentKey
from problemgen.model.blocks import Blank, Block, Bullets, Line, Paragraph, Prose, Strong, Table
from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnReading, OwnValue, own_column
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.told import Told
from problemgen.model.variant import Variant
from problemgen.model.verdict import StudentResult
from problemgen.render.words.prompts import quantity_text, ratio_text, ratio_words
from problemgen.render.words.symbols import capitalised

__all__ = [
    "OWN_DATA_COLUMNS",
    "key_blocks",
    "own_rows",
    "own_words",
    "read_as",
    "read_blocks",
    "sheet_blocks",
    "story_text",
]

OWN_DATA_COLUMNS = ("id", "name", "section", "attempt", "about", "wrote", "read", "flag", "remark")

_BLANK = "_" * 14  # room for a number in handwriting, with its unit behind
_SHORT_BLANK = "_" * 6  # the same within a line of words
_EVERY_DIGIT = N_("every digit given")


def story_text(quantity: Quantity, given: Mapping[str, Datum], own: Iterable[OwnValue]) -> str:
    """A given value as a story tells it: a blank where it is the student's own."""
    mine = next((value for value in own if value.quantity == quantity), None)
    return f"{_SHORT_BLANK} {unit_text(mine.unit)}".rstrip() if mine else quantity_text(given[quantity.id])


def sheet_blocks(
    scene: Scene, variant: Variant, told: Iterable[Told], session: int, *, narrow: bool = False
) -> Iterator[Block]:
    """The blanks for the values that a student has measured by a session; `told` tells when each is at hand.

    In a `narrow` table the blanks have a greater share, so that their units stay beside them.
    """
    sessions = {one.quantity: one.session for one in told}
    mine = [value for value in variant.own if sessions.get(value.quantity, session) == session]
    rows = [_blank_row(scene, variant.problem, value) for value in mine]
    if rows:
        yield Paragraph(
            (Prose(_("Copy these from your notebook: your answers are marked by the values that you write here.")),)
        )
        header = _cells(_("What you measured"), _("Your own value"), _("Read to"))
        yield Table(
            _("Your own data"),
            header,
            tuple(rows),
            (False, False, False),
            shares=(4, 5, 5) if narrow else (5, 4, 5),
            tall=True,
        )


def _blank_row(scene: Scene, problem: str, value: OwnValue) -> tuple[Line, ...]:
    words, unit = capitalised(own_words(scene, value)), unit_text(value.unit)
    is_ratio = value.second is not None
    read_to = _("both numbers, such as 94\u00a0:\u00a06") if is_ratio else _read_to(value)
    said = ", ".join(filter(None, (words, "" if is_ratio else unit, read_to)))
    marks, behind = (f"{_SHORT_BLANK} : {_SHORT_BLANK}", "") if is_ratio else (_BLANK, f"\u00a0{unit}".rstrip())
    blank = Blank(own_column(problem, value.name), said, marks, behind)
    return ((Prose(words),), (blank,), (Prose(read_to),))


def _read_to(value: OwnValue) -> str:
    if value.step is None:
        return _(_EVERY_DIGIT)
    least = f"{number_text(value.step.text)}\u00a0{unit_text(value.unit)}".rstrip()
    return f"{least} ({value.instrument})" if value.instrument else least


def _cells(*texts: str) -> tuple[Line, ...]:
    return tuple((Prose(text),) for text in texts)


def key_blocks(variant: Variant) -> Iterator[Block]:
    """How a problem with own data is marked, and the example that its worked solution goes through."""
    scene = variant.template.scene
    yield Paragraph(
        (
            Strong(f"{_('From the student.')} "),
            Prose(
                _(
                    "The key of the parts that rest on these values is worked out for each student when the set is "
                    "marked. A value that is not usual is flagged and marked all the same."
                )
            ),
        )
    )
    header = _cells(_("Value"), _("Column of the responses"), _("Usual"), _("Example"))
    rows = tuple(_key_row(scene, variant, value) for value in variant.own)
    yield Table(_("The student's own data"), header, rows, (False, False, False, True), shares=(6, 7, 6, 3))


def _key_row(scene: Scene, variant: Variant, value: OwnValue) -> tuple[Line, ...]:
    return _cells(
        capitalised(own_words(scene, value)),
        own_column(variant.problem, value.name),
        _usual(scene, value),
        _told(variant.given[value.quantity.id], variant.given[value.second.id] if value.second else None),
    )


def own_words(scene: Scene, value: OwnValue) -> str:
    """What a value is called in a sentence."""
    if value.second is not None:
        return ratio_words(scene, value.quantity, value.second)
    return scene.words_of(value.quantity)


def _told(datum: Datum, second: Datum | None) -> str:
    return quantity_text(datum) if second is None else ratio_text(datum, second)


def _usual(scene: Scene, value: OwnValue) -> str:
    low, high = (_short(figures_text(bound, 4)) for bound in (value.low, value.high))
    if KINDS[value.quantity.kind].has_own_scale:
        return _("any above 0")
    if value.second is not None:
        return _("{low} to {high} % {name}").format(low=low, high=high, name=scene.species[value.quantity.of].name)
    if value.share_of is not None:
        whole = scene.words_of(value.share_of)
        return _("{low} to {high} % of the {quantity}").format(low=low, high=high, quantity=whole)
    return _("{low} to {high} {unit}").format(low=low, high=high, unit=unit_text(value.unit)).rstrip()


def _short(text: str) -> str:
    return number_text(text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text)


def read_blocks(readings: Sequence[OwnReading]) -> Iterator[Block]:
    """What a student filled in and how it was read, with what wants a second look; nothing without own data."""
    if not readings:
        return
    header = _cells(_("What you measured"), _("You wrote"), _("Read as"))
    rows = tuple(
        _cells(capitalised(one.key.words), one.wrote.strip()[:_LONGEST] or "–", read_as(one)) for one in readings
    )
    yield Table(_("Your own data"), header, rows, (False, False, False), shares=(5, 4, 4))
    remarks: list[Line] = [
        (Strong(f"{_('Your {quantity}').format(quantity=one.key.words)}: "), Prose(flag.sentence))
        for one in readings
        for flag in one.flags
    ]
    if remarks:
        yield Bullets(tuple(remarks))


_LONGEST = 60
"""Letters of what was filled in that are shown: a value is shorter."""


def read_as(reading: OwnReading) -> str:
    """How a value that was filled in is read, as it is printed."""
    if reading.datum is not None:
        return _told(reading.datum, reading.second)
    return _("nothing") if reading.is_blank else _("not readable")


def own_rows(key: StudentKey, result: StudentResult) -> Iterator[tuple[str, ...]]:
    """A student's rows of own-data.csv: each own value, a row a flag; then what the data leave open, a row a part."""
    who = (result.student, result.name, result.section, str(result.attempt))
    for problem in key.problems:
        for one in problem.own:
            read = "" if one.datum is None else _plainly(one.datum, one.second)
            for code, sentence in _flags(one) or [("", "")]:
                yield (*who, one.key.column, one.wrote.strip(), read, code, sentence)
    for part in result.parts:
        for note in part.notes:
            yield (*who, part.label, part.wrote, part.read, "undecided-by-these-data", note)


def _plainly(datum: Datum, second: Datum | None) -> str:
    """What was read, in plain characters: "2.434 g", "94:6"."""
    if second is not None:
        return f"{datum.written.text}:{second.written.text}"
    return f"{datum.written.text} {unit_text(datum.unit)}".rstrip()


def _flags(reading: OwnReading) -> list[tuple[str, str]]:
    if reading.datum is None:
        missing = ("missing", _("No value.")) if reading.is_blank else ("unreadable", reading.reason)
        return [missing]
    return [(flag.code, flag.sentence) for flag in reading.flags]
