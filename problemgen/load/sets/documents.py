"""What set.toml and course.toml may hold.

A course's file says the defaults of all its sets: what a set says itself goes before.

    title = "Preparative Laboratory 1"        # printed as the course of each set
    term = "autumn 2026"                      # goes into every draw: another term, other numbers
    decimal_mark = ","
    paper = "us-letter"
    method = "extent"
    earlier = ["../2025/output/week-1"]       # built folders of other terms: none of their numbers comes again
    rosters = ["monday", "thursday"]          # files of rosters/, each a section; left out: all of them

    [policy]
    follow_through = 0.9
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import count
from typing import Annotated, Any, Literal, Self, TypeAlias

from pydantic import AfterValidator, Field

from problemgen.exact.digits import Written
from problemgen.language.languages import ENGLISH, LANGUAGES
from problemgen.model.document import Document, Flag, Identifier, Number, Text
from problemgen.model.policy import Attempts, Gradebook, Policy
from problemgen.model.problem_set import AnswerPlace, Head, Layout, Method, Paper

__all__ = [
    "CourseDocument",
    "MarkedProblemDocument",
    "MarkedSetDocument",
    "PartPolicy",
    "SetDocument",
    "SetProblemDocument",
    "problem_names",
]


def _points(value: Written) -> Written:
    if value.value < 0:
        raise ValueError("no fewer than 0 points")
    return value


def _spoken(language: str) -> str:
    if language not in LANGUAGES:
        raise ValueError(f"one of the languages {', '.join(LANGUAGES)}")
    return language


SpokenLanguage: TypeAlias = Annotated[Text, AfterValidator(_spoken)]
"""The code of a language that there is a catalogue for."""


class PartPolicy(Policy):
    """How one part is marked, and its points where they differ from the template's."""

    points: Annotated[Number, AfterValidator(_points)] | None = None


class SheetDocument(Document):
    """One sheet."""

    session: int = Field(ge=1, le=3)
    """The session whose parts it holds."""

    title: Text
    """Printed at its head."""


class MarkedProblemDocument(Document):
    """What marking needs of one problem."""

    id: Identifier | None = None
    """By which the problem is known from build to build; left out, it is made of the template's name."""

    template: Text | None = None
    """The template, by its name in `list`, or a file beside set.toml."""

    choose: tuple[Text, ...] = ()
    """Several templates, of which each student gets one; in the place of `template`."""

    policy: Policy = Policy()
    """What differs for its parts."""

    part: dict[str, PartPolicy] = Field(default_factory=dict)
    """What differs for one part, by its letter."""

    @property
    def names(self) -> tuple[str, ...]:
        """The templates that it names."""
        return self.choose or ((self.template,) if self.template else ())


class SetProblemDocument(MarkedProblemDocument):
    """One problem."""

    own: tuple[Text, ...] = ()
    """Given values that the student measures, `"aspirin.obtained"`: for sets of the kind "post-session"."""

    whose: tuple[Text, ...] | None = Field(default=None, alias="for", min_length=1)
    """The ids of the students who get it; left out, all do."""


class MarkedSetDocument(Document):
    """What marking needs of a set."""

    policy: Policy = Policy()
    """How parts are marked."""

    attempts: Attempts = Attempts()
    """How often students may try."""

    gradebook: Gradebook = Gradebook()
    """What becomes of the sum of the points."""

    def within(self, course: CourseDocument) -> Self:
        """The set with its course's defaults where it says nothing itself; policies add up key by key."""
        common = type(self).model_fields.keys() & _Defaults.model_fields.keys()
        kept = (common & course.model_fields_set) - self.model_fields_set
        said: dict[str, Any] = {name: getattr(course, name) for name in kept}
        return self.model_copy(update=said | {"policy": _beside(course.policy, self.policy)})


class FeedbackDocument(Document):
    """What feedback shows."""

    worked_solution: Flag = True
    """Whether feedback shows the worked solution."""


class _Defaults(MarkedSetDocument):
    """What a set may say, or its course for all sets."""

    language: SpokenLanguage = ENGLISH
    """The language of the sheets, the key and the class report; a column of the roster may give a student another."""

    paper: Paper = "a4"
    """The paper of the sheets."""

    decimal_mark: Literal[".", ","] | None = None
    """Decides how an ambiguous answer such as 1,234 is read; left out, the mark of the language does."""

    method: Method = "product"
    """How stoichiometry is taught: by the product from each reagent, by extents, or by amount ratios."""

    layout: Layout = "roomy"
    """With lines for the working, or two columns without."""

    head: Head = "name"
    """What stands at the head of every page: the student's name with the id, or the sheet's code alone."""

    answers: AnswerPlace = "beside"
    """Where answers are written: beside each part, or gathered in one box a sheet."""

    worked_key: Flag = False
    """Whether a build writes worked-key.pdf, the worked solution of every variant."""

    rosters: tuple[Text, ...] = ()
    """The files in the course's rosters/, each a section; left out, a set has its own roster.csv or all of them."""

    feedback: FeedbackDocument = FeedbackDocument()
    """What feedback shows."""


class CourseDocument(_Defaults):
    """A course."""

    title: Text
    """Printed as the course of each set that names none."""

    term: Text | None = None
    """Goes into every draw: another term, other numbers."""

    earlier: tuple[Text, ...] = ()
    """Built folders of earlier terms, beside this file: none of their numbers comes again."""


class SetDocument(_Defaults):
    """A set."""

    title: Text
    """Printed at the head of the sheets."""

    course: Text | None = None
    """Printed beside the title; left out, it is the course's own title."""

    kind: Literal["drawn", "post-session"] = "drawn"
    """"post-session": students fill in values of their own."""

    demonstration_secret: Text | None = None
    """A secret that everybody may know: for a set that shows what a set looks like."""

    sheet: tuple[SheetDocument, ...] = Field(min_length=1)
    """The printed sheets, one for each session that has parts."""

    problem: tuple[SetProblemDocument, ...] = Field(min_length=1)
    """The problems, in the order in which they are printed."""

    def within(self, course: CourseDocument) -> Self:
        """The set with its course's defaults, among them the course's title."""
        return super().within(course).model_copy(update={"course": self.course or course.title})


def problem_names(problems: Iterable[MarkedProblemDocument]) -> list[str]:
    """The problems' ids: as written, else by the template, with a number where that stands more than once.

    They hang on no place: where problems are moved or dropped, the others keep their numbers. An id that is written
    twice stands twice here.
    """
    found: list[str] = []
    for one in problems:
        derived = "-or-".join(name.rsplit("/", 1)[-1].casefold() for name in one.names[:2])
        found.append(one.id or _free(derived, found))
    return found


def _free(name: str, taken: Collection[str]) -> str:
    """The name, with the first number behind it that is free where it is taken."""
    numbered = (f"{name}-{number}" for number in count(2))
    return name if name not in taken else next(one for one in numbered if one not in taken)


def _beside(common: Policy, nearer: Policy) -> Policy:
    """What either policy says, the nearer one first; of windows only what one of them says."""
    keys = common.model_fields_set - (set(common.window_keys) if nearer.window_keys else set())
    said: dict[str, Any] = {name: getattr(common, name) for name in keys}
    said |= {name: getattr(nearer, name) for name in nearer.model_fields_set}
    if common.named_mistakes or nearer.named_mistakes:
        said["named_mistakes"] = {**common.named_mistakes, **nearer.named_mistakes}
    return Policy.model_construct(_fields_set=set(said), **said)
