"""TOML files as strict documents: every fault at once, with its key path and a hint."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from pydantic import Field

from problemgen.errors import FaultsError
from problemgen.load.documents import read_document, shown
from problemgen.model.document import Document, Identifier, Number, Text, UnitText


class Inner(Document):
    name: Identifier
    size: Number | None = None


class Whole(Document):
    title: Text
    unit: UnitText = "1"
    step: Number | None = None
    inner: tuple[Inner, ...] = ()
    at: dict[int, Inner] = Field(default_factory=dict)


Write = Callable[[str, str], Path]


def faults(path: Path) -> list[str]:
    with pytest.raises(FaultsError) as caught:
        read_document(path, Whole)
    return [str(fault).replace(str(path), "w.toml") for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("text", "digits", "value"),
    [
        ("1.0080", "1.0080", Fraction("1.008")),
        ("250", "250", Fraction(250)),
        ("0.0500", "0.0500", Fraction(1, 20)),
        ("-3.20", "-3.20", Fraction(-16, 5)),
        ("1.50e-3", "0.00150", Fraction(3, 2000)),
        ('"9.2e-4"', "9.2e-4", Fraction(23, 25000)),
    ],
)
def test_a_number_keeps_its_digits(written: Write, text: str, digits: str, value: Fraction) -> None:
    step = read_document(written("w.toml", f'title = "x"\nstep = {text}\n'), Whole).step
    assert step is not None
    assert (step.text, step.value) == (digits, value)


def test_a_unit_is_brought_to_its_canonical_spelling(written: Write) -> None:
    assert read_document(written("w.toml", 'title = "x"\nunit = "g mL^-1"\n'), Whole).unit == "g/mL"


def test_text_loses_the_blanks_around_it(written: Write) -> None:
    assert read_document(written("w.toml", 'title = "  x y "\n'), Whole).title == "x y"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "w.toml: title: found nothing; expected a value for this key"),
        ("title = 3\n", "w.toml: title: found 3; expected text that is not empty"),
        ('title = " "\n', "w.toml: title: found ' '; expected text that is not empty"),
        (
            'title = "x"\nunti = "g"\n',
            "w.toml: unti: found an unknown key; expected one of at, inner, step, title, unit. Did you mean 'unit'?",
        ),
        (
            'title = "x"\ncolour = "red"\n',
            "w.toml: colour: found an unknown key; expected one of at, inner, step, title, unit",
        ),
        (
            'title = "x"\n[[inner]]\nname = "a"\nsiez = 1\n',
            "w.toml: inner.1.siez: found an unknown key; expected one of name, size. Did you mean 'size'?",
        ),
        (
            'title = "x"\n[[inner]]\nname = "a"\n[[inner]]\nname = "B c"\n',
            "w.toml: inner.2.name: found 'B c'; expected a name of small letters, digits, dots and hyphens",
        ),
        ('title = "x"\nstep = true\n', "w.toml: step: found True; expected a number"),
        ('title = "x"\nstep = "two"\n', "w.toml: step: found 'two'; expected a number: 'two' is not a number"),
        ('title = "x"\nstep = nan\n', "w.toml: step: found NaN; expected a number: 'NaN' is not a number"),
        ('title = "x"\ninner = 3\n', "w.toml: inner: found 3; expected a list"),
        ('title = "x"\ninner = [3]\n', "w.toml: inner.1: found 3; expected a table of keys and values"),
        ('title = "x"\nat = 3\n', "w.toml: at: found 3; expected a table of keys and values"),
        (
            'title = "x"\n[at.two]\nname = "a"\n',
            "w.toml: at.two: found 'two'; expected a valid integer, unable to parse string as an integer",
        ),
        ('title = "x"\nunit = 3\n', "w.toml: unit: found 3; expected a unit"),
        (
            'title = "x"\nunit = "gramme"\n',
            "w.toml: unit: found 'gramme'; expected a unit of the list: unknown unit 'gramme'; did you mean 'gram'?",
        ),
        (
            'title = "x"\ntitle = "y"\n',
            (
                "w.toml: found a slip in the notation: Cannot overwrite a value (at line 2, column 12); "
                "expected valid TOML"
            ),
        ),
    ],
)
def test_a_fault_names_file_key_found_and_expected(written: Write, text: str, expected: str) -> None:
    assert faults(written("w.toml", text)) == [expected]


def test_all_faults_come_at_once_in_the_order_of_their_keys(written: Write) -> None:
    found = faults(written("w.toml", 'unit = "x"\nstep = false\n[[inner]]\nsize = "?"\n'))
    assert [line.split(": ")[1] for line in found] == ["inner.1.name", "inner.1.size", "step", "title", "unit"]


def test_a_missing_file_a_folder_and_bytes_are_told_apart(tmp_path: Path) -> None:
    assert faults(tmp_path / "none.toml") == ["w.toml: found no such file or directory; expected a readable TOML file"]
    assert faults(tmp_path) == ["w.toml: found is a directory; expected a readable TOML file"]
    raw = tmp_path / "raw.toml"
    raw.write_bytes(b'title = "\xff"\n')
    assert faults(raw) == ["w.toml: found bytes that are not UTF-8; expected text in UTF-8"]


def test_an_entry_goes_by_its_id_where_it_has_one(written: Write) -> None:
    text = 'title = "x"\n[[inner]]\nid = "flask"\nname = "a"\n[[inner]]\nid = 3\nname = "b"\n'
    places = [line.split(": ")[1] for line in faults(written("w.toml", text))]
    assert places == ["inner.2.id", "inner.flask.id"]


@pytest.mark.parametrize(
    ("value", "text"), [(3, "3"), (True, "True"), ("a", "'a'"), ("x" * 80, "'" + "x" * 56 + "...")]
)
def test_a_value_is_shown_in_readable_length(value: object, text: str) -> None:
    assert shown(value) == text
    assert len(shown(value)) <= 60
