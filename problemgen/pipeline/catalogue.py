"""What there is: templates and sets by topic, and the entries of the banks; searchable.

In a place inside a course it is the course's own beside what comes with the program.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from problemgen.load.documents import read_document
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import Course, course_of
from problemgen.load.sets.documents import SetDocument
from problemgen.load.templates.document import TemplateDocument
from problemgen.model.banks import Banks, Bottle, Reaction, Substance
from problemgen.pipeline.listed import Head, Row, fits, fitting

__all__ = ["bottles", "glassware", "heads", "reactions", "substances", "templates"]


def templates(words: Sequence[str], place: str = ".") -> Iterator[Row]:
    """Templates, then sets, that fit all words.

    Raises FaultsError for a file that cannot be read.
    """
    return fitting(words, heads(place))


def heads(place: str = ".") -> list[Head]:
    """All templates, then all sets. Raises FaultsError for a file that cannot be read."""
    course = course_of(Path(place))
    read = ((name, read_document(path, TemplateDocument)) for name, path in course.templates.items())
    return [*sorted(_head(name, document) for name, document in read), *map(_head_of_set, _sets(course))]


def _head(name: str, document: TemplateDocument) -> Head:
    searched = (name, document.title, document.topic, document.trains, document.reaction or "")
    return Head((document.topic, name, str(document.difficulty), document.title), searched)


def _head_of_set(row: Row) -> Head:
    return Head(row, row)


def _sets(course: Course) -> Iterator[Row]:
    for name, folder in course.sets.items():
        document = read_document(folder / SET_FILE, SetDocument)
        of = document.course or (course.document.title if course.document is not None else "")
        yield ("sets", name, str(len(document.problem)), f"{of}: {document.title}" if of else document.title)


def substances(words: Sequence[str], place: str = ".") -> Iterator[tuple[str, str, str, str]]:
    """The bank's substances that fit: (id, name, formula, CAS number)."""
    banks = course_of(Path(place)).banks()
    for substance in banks.substances.values():
        row = (substance.id, substance.name, substance.formula.text, substance.cas or "")
        if fits(words, *row, *banks.also_called(substance), substance.state or ""):
            yield row


def reactions(words: Sequence[str], place: str = ".") -> Iterator[tuple[str, str, str, str]]:
    """The bank's reactions that fit: (id, kind, equation, name)."""
    banks = course_of(Path(place)).banks()
    for reaction in banks.reactions.values():
        row = (reaction.id, reaction.kind, _equation(reaction, banks), reaction.name)
        if fits(words, *row, *(banks.substances[name].name for name in reaction.coefficients)):
            yield row


def bottles(words: Sequence[str], place: str = ".") -> Iterator[tuple[str, str, str, str]]:
    """The bank's bottles that fit: (id, the substance's id, strength, name)."""
    for bottle in course_of(Path(place)).banks().bottles.values():
        row = (bottle.id, bottle.of, _strength(bottle), bottle.name)
        if fits(words, *row):
            yield row


def _strength(bottle: Bottle) -> str:
    if bottle.mass_percent is not None:
        return f"{bottle.mass_percent.text} % by mass"
    return f"{bottle.concentration.value.text} {bottle.concentration.unit}" if bottle.concentration is not None else ""


def glassware(words: Sequence[str], place: str = ".") -> Iterator[tuple[str, str, str, str]]:
    """The bank's balances and vessels that fit: (id, kind, how far it reads, name)."""
    for one in course_of(Path(place)).banks().glassware.values():
        row = (one.id, one.kind, f"{one.capacity.text} {one.unit}, in steps of {one.step.text} {one.unit}", one.name)
        if fits(words, *row):
            yield row


def _equation(reaction: Reaction, banks: Banks) -> str:
    def side(sign: int) -> str:
        terms = ((abs(nu), banks.substances[name]) for name, nu in reaction.coefficients.items() if nu * sign > 0)
        return " + ".join(_term(nu, substance) for nu, substance in terms)

    return f"{side(-1)} -> {side(1)}"


def _term(nu: int, substance: Substance) -> str:
    return f"{nu} {substance.formula.text}" if nu > 1 else substance.formula.text
