"""How exports head their columns: what is known, in several languages, and what may be two things and is neither."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.load.people.headings import USUAL, Headings, meaning_of, part_of, recognised

PARTS = ("1a", "1b", "1g", "2a", "10b")


@pytest.mark.parametrize(
    ("ours", "headings"),
    [
        ("id", "id; student id; student's id; student number; matric. no.; matriculation number; registration no"),
        ("id", "user; username; user name; login; matrikelnr; matr.-nr.; matrikel-nr; matrikelnummer; kennung"),
        ("id", "studierendennummer; matrícula; nº de matrícula; número de alumno; usuario; n° étudiant; matricola"),
        ("name", "name; student; student name; full name; nachname, vorname; nombre completo; apellidos, nombre"),
        ("first name", "first name; given name; forename; vorname; nombre; prénom; voornaam"),
        ("last name", "last name; family name; surname; nachname; apellidos; nom; cognome"),
        ("section", "section; group; lab section; laboratory group; gruppe; praktikumsgruppe; sección; grupo; groupe"),
        ("language", "language; sprache; idioma"),
        ("", "e-mail; number; id of the partner; name of the instrument; points; 1a; remarks; ids;"),
    ],
)
def test_a_heading_stands_for_one_of_ours(ours: str, headings: str) -> None:
    assert {one: meaning_of(one.strip()) for one in headings.split(";")} == dict.fromkeys(headings.split(";"), ours)


def test_each_of_our_names_stands_for_itself() -> None:
    assert {name: meaning_of(name) for name in USUAL} == {name: name for name in USUAL}


@pytest.mark.parametrize(
    ("heading", "part"),
    [
        *((one, "1a") for one in ("1a", "1 a", "1.a", "1-a", "1a)", "1 a)", "1a.", "01a", "1 (a)", "1(a)")),
        *((one, "1a") for one in ("aufgabe 1a", "aufgabe nr. 1 a", "frage 1.a", "question 1 a", "q1a", "q 1a")),
        *((one, "1a") for one in ("question 1a) mass in g", "aufgabe 1 a) masse in g", "1a mass", "1a: mass")),
        *((one, "1a") for one in ("1a – mass", "1a [g]", "teil 1a", "1 (a) mass", "1a (in g)", "pregunta 1a: masa")),
        ("aufgabe 10 b)", "10b"),
        ("task 1g", "1g"),
        # another part, or none of this set
        *((one, "") for one in ("1c", "question 1", "11a", "1aa", "0a", "a", "")),
        # what is about an answer, and what names two
        *((one, "") for one in ("points 1a", "1a points", "question 1a (points)", "aufgabe 1a: bewertung")),
        *((one, "") for one in ("1a comment", "1a and 1b", "1a-1b", "1a/b", "1a) and 1 b)", "session 1a", "1 (a")),
        # an article, and a unit
        *((one, "") for one in ("1 a mass", "question 1 a mass", "1 (g)", "question 1 (g)")),
    ],
)  # fmt: skip
def test_a_part_is_read_as_forms_write_it(heading: str, part: str) -> None:
    assert part_of(heading, PARTS) == part


@given(st.text(max_size=30))
def test_any_text_has_one_meaning_or_none(text: str) -> None:
    assert meaning_of(text) in {"", *USUAL}
    assert part_of(text, PARTS) in {"", *PARTS}


@pytest.mark.parametrize(
    ("found", "names", "doubts"),
    [
        (("matrikelnr", "name", "1a"), {"matrikelnr": "id"}, {}),
        (("matrikelnr", "login"), {}, {"id": ("matrikelnr", "login")}),
        (("id", "matrikelnr"), {}, {}),
        (("aufgabe 1a", "question 1a"), {}, {"1a": ("aufgabe 1a", "question 1a")}),
        (("1a", "question 1a"), {}, {}),
        (("1 a mass",), {}, {"1a": ("1 a mass",)}),
        (("1 (g)",), {}, {"1g": ("1 (g)",)}),
        (("1 (a)", "1 (g)"), {"1 (a)": "1a", "1 (g)": "1g"}, {}),
        (("2 (a)", "1 (g)"), {"2 (a)": "2a"}, {"1g": ("1 (g)",)}),
        (("", "mail", "mail"), {}, {}),
    ],
)
def test_what_may_be_two_things_is_neither(
    found: tuple[str, ...], names: dict[str, str], doubts: dict[str, tuple[str, ...]]
) -> None:
    got = recognised(found, PARTS)
    assert (got.names, got.doubts) == (names, doubts)


def test_what_is_told_needs_no_column_any_more() -> None:
    got = recognised(("number", "matrikelnr", "aufgabe 1a", "gruppe"), PARTS, {"id", "1a", "gruppe"})
    assert (got.names, got.doubts) == ({}, {})


def test_a_header_is_found_by_ids_and_parts() -> None:
    headings = Headings(PARTS)
    assert [one in headings for one in ("matrikelnr", "aufgabe 1a", "name", "week 1", 3)] == [
        True, True, False, False, False,
    ]  # fmt: skip
