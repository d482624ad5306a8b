"""How exports head their columns: the usual words for an id, a name, a section, and how forms write a part of a set.

What these words are stands here alone: class lists and tables of answers are recognised by them, on a command line as
on a page. A heading that may be read in two ways is read in none.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

__all__ = ["Headings", "Recognised", "meaning_of", "part_of", "recognised"]

_NUMBER = "(number|num|no|nr|nro|numero|n°?)"
USUAL: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {
        ours: re.compile(pattern)
        for ours, pattern in {
            "id": rf"id|identifier|(id|identification|user) {_NUMBER}|student(s| s)? (id|identifier)( {_NUMBER})?"
            rf"|student(s| s)? {_NUMBER}|studentid|matric\w*( ({_NUMBER}|id))?|registration( ({_NUMBER}|id))?"
            r"|user( ?name| id)?|login( name)?"
            r"|matr(ikel)? ?(no|nr|nummer)|mat ?nr|matrikel|kennung|benutzer(name|kennung)|nutzer(name|kennung)"
            r"|stud(ierende|ente)n ?(nummer|nr|id)"
            rf"|{_NUMBER} (d |de |del |do )?(alumn[oa]|alun[oa]|estudiante|estudante|matricula|expediente|etudiante?)"
            r"|expediente|usuario|identificador|identifiant|(numero (di )?)?matricola|studentnummer",
            "name": r"name|students?|students? name|full name|(vollständiger|voller) name|vor und nachname"
            r"|(name|nachname|familienname) vorname|vorname (name|nachname)|studierende[r]?"
            r"|nombre completo|nombre y apellidos?|apellidos?( y)? nombres?|nom complet|(nom )?(et )?prenom nom"
            r"|nom (et )?prenom|nome completo|nome (e )?cognome|cognome (e )?nome|naam",
            "first name": r"first ?name|given ?names?|fore ?name|vornamen?|rufname|nombres?|prenoms?|nome|voornaam",
            "last name": r"last ?name|family ?name|surname|nachname|familienname|zuname|apellidos?|nom( de famille)?"
            r"|cognome|sobrenome|achternaam",
            "section": r"section|group|class|lab(oratory)? ?(section|group)|course section|tutorial( group)?"
            r"|gruppe|kurs|(labor|praktikums|übungs)gruppe|grupo|seccion|groupe|gruppo|turma|groep",
            "language": "language|sprache|idioma|lengua|langue|lingua",
        }.items()
    }
)
"""Our columns by the headings that they usually have, as `_plain` gives these: each pattern is a whole heading."""

_BETWEEN = re.compile(r"[\s._:,;/#*'’()-]+")
_MARKS = re.compile("[\u0300-\u0307\u0309-\u036f]")
"""What stands over letters, but for two dots, which make another letter: who types "seccion" means "sección"."""

_ASKS = (
    "aufgabe|frage|teil|teilaufgabe|question|problem|part|task|exercise|item|q|pregunta|ejercicio|problema|apartado"
    "|exercice|probleme|esercizio|domanda|opgave|vraag"
)
_PART = re.compile(
    rf"(?:(?:{_ASKS})(?![a-z])\s*(?:nr|no|n°)?[.:]?\s*|q)?"
    r"0*(?P<number>[1-9][0-9]{0,2})(?P<between>\s*[.\-–_]?\s*)(?P<open>\(?)(?P<letter>[a-z]{1,2})"
    r"(?P<end>\s*\)|\s*[.:;,=](?=\s|$)|\s+[-–—|:](?=\s)|(?=\s*[\[(])|(?=\s)|$)(?P<rest>.*)"
)
"""How forms head the column of a part: "1 a", "Aufgabe 1a", "Question 1a) mass in g", "1 (b): amount"."""

_ANOTHER = re.compile(r"(?<![0-9])([1-9][0-9]*)\s?\(?([a-z]{1,2})(?![a-z])")
_ABOUT_ANSWERS = re.compile(
    r"\b(points?|scores?|marks?|grades?|graded|feedback|comments?|remarks?|punkte?|note|bewertung|kommentare?|anmerkung"
    r"|puntos|puntuación|nota|comentarios?)\b"
)
"""What stands in the heading of a column that is about an answer, and does not hold it."""

_LONGEST_NAME, _LONGEST_PROMPT = 60, 2000
"""Letters of a heading of ids or names, and of one with a part's whole question in it: more is no heading."""

_DIGIT = re.compile(r"[0-9０-９]")

_UNITS = frozenset("ghlmsk")
"""Letters which in brackets may be a unit: "1 (g)" is the part, or the mass in grams that problem 1 asks for."""


@dataclass(frozen=True)
class Recognised:
    """Our name for each of their columns that is one of ours; and of ours those for which that cannot be told.

    In `doubts` is for one of ours what may be it: several of theirs, or one whose heading may mean something else.
    """

    names: Mapping[str, str]
    doubts: Mapping[str, tuple[str, ...]]


class Headings:
    """The headings by which the header of a table is found: of ids, and of a set's parts."""

    def __init__(self, parts: Collection[str] = ()) -> None:
        """`parts` are the names of the set's columns."""
        self._parts = frozenset(parts)

    def __contains__(self, heading: object) -> bool:
        """Whether a heading, in small letters, is one of them."""
        return isinstance(heading, str) and (meaning_of(heading) == "id" or bool(part_of(heading, self._parts)))


@lru_cache(maxsize=1 << 15)  # the first rows are looked through once for each separator
def meaning_of(heading: str) -> str:
    """Which of our columns about a student a heading, in small letters, usually stands for; "" for none.

    >>> meaning_of("matric. no."), meaning_of("nº de matrícula"), meaning_of("e-mail")
    ('id', 'id', '')
    """
    if len(heading) > _LONGEST_NAME or heading[:1].isdecimal():
        return ""
    plain = _plain(heading)
    return next((ours for ours, pattern in USUAL.items() if pattern.fullmatch(plain)), "")


def part_of(heading: str, parts: Collection[str]) -> str:
    """Which part of a set a heading, in small letters, names as forms do; "" for none, and where it may be another.

    >>> [part_of(one, {"1a", "1b"}) for one in ("1 a", "question 1b) mass in g", "1 a mass", "1a and 1b", "points 1a")]
    ['1a', '1b', '', '', '']
    """
    found = _part(heading, parts)
    return found.label if found is not None and found.is_sure else ""


def _plain(heading: str) -> str:
    """A heading without accents and points: letters, digits, and one blank between words."""
    apart = unicodedata.normalize("NFKD", heading.casefold())
    return " ".join(_BETWEEN.sub(" ", unicodedata.normalize("NFC", _MARKS.sub("", apart))).split())


@dataclass(frozen=True)
class _Named:
    """The part that a heading seems to name, and its problem's number; whether the letter stands in brackets."""

    label: str
    number: str
    in_brackets: bool
    is_sure: bool


def _part(heading: str, parts: Collection[str]) -> _Named | None:
    if len(heading) > _LONGEST_PROMPT or not _DIGIT.search(heading):
        return None
    found = _PART.fullmatch(unicodedata.normalize("NFKC", heading).strip())
    if found is None or f"{found['number']}{found['letter']}" not in parts:
        return None
    if found["open"] and found["end"].strip() != ")":
        return None
    more = {f"{number}{letter}" for number, letter in _ANOTHER.findall(found["rest"])}
    if more.intersection(parts) or _ABOUT_ANSWERS.search(found["rest"]):
        return None
    in_brackets = bool(found["open"])
    sure = found["letter"] not in _UNITS if in_brackets else _is_closed(found)
    return _Named(f"{found['number']}{found['letter']}", found["number"], in_brackets, sure)


def _is_closed(found: re.Match[str]) -> bool:
    """Whether the letter is the part's for sure: in "1 a mass" it may be the article."""
    return bool(found["end"].strip() or not found["between"] or not found["rest"])


def recognised(found: Iterable[str], parts: Collection[str] = (), named: Collection[str] = ()) -> Recognised:
    """What the columns of a table are by their headings, in small letters.

    `parts` are the columns of a set; `named` are those of ours that need no column any more, and the names of columns
    that are told already. A column that has one of our names is that, and no other is taken for it.
    """
    headings = [one for one in dict.fromkeys(found) if one]
    settled = {*named, *(one for one in headings if one in USUAL or one in parts)}
    readings: dict[str, list[str]] = {}
    unsure: set[str] = set()
    for heading, ours, is_sure in _readings([one for one in headings if one not in settled], parts):
        if ours not in settled:
            readings.setdefault(ours, []).append(heading)
            unsure.update(() if is_sure else (ours,))
    clear = {ours for ours, theirs in readings.items() if len(theirs) == 1} - unsure
    return Recognised(
        {theirs[0]: ours for ours, theirs in readings.items() if ours in clear},
        {ours: tuple(theirs) for ours, theirs in readings.items() if ours not in clear},
    )


def _readings(headings: Collection[str], parts: Collection[str]) -> Iterator[tuple[str, str, bool]]:
    """Each heading that says what it is, with that, and whether it surely says so.

    "1 (g)" is surely the part where another part of the same problem is written like it.
    """
    lettered = [(one, found) for one in headings if not meaning_of(one) and (found := _part(one, parts)) is not None]
    alike = {found.number for _one, found in lettered if found.in_brackets and found.is_sure}
    yield from ((one, ours, True) for one in headings if (ours := meaning_of(one)))
    yield from (
        (one, found.label, found.is_sure or (found.in_brackets and found.number in alike)) for one, found in lettered
    )
