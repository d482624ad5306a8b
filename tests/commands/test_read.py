"""The read command: JSON for each text, from the arguments or from standard input, and lines in words."""

from __future__ import annotations

import io
import json
import sys
from typing import Any

import pytest

from problemgen.cli import main

Capture = pytest.CaptureFixture[str]
Patch = pytest.MonkeyPatch
KEYS = ["text", "status", "number", "unit", "figures", "reason"]


def read(capsys: Capture, *arguments: str) -> list[dict[str, Any]]:
    assert main(["read", "--json", *arguments]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    records = [json.loads(line) for line in out.splitlines()]
    assert all(list(record) == KEYS for record in records)
    return records


def typed(monkeypatch: Patch, data: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data), encoding="utf-8"))


@pytest.mark.parametrize(
    ("text", "number", "unit", "figures"),
    [
        ("3.95 g", "3.95", "g", 3),
        ("3,95 x 10^1 mg", "39.5", "mg", 3),
        ("3.95 × 10¹", "39.5", None, 3),
        ("3.95E+01", "39.5", None, 3),
        ("1.5e3", "1500", None, 2),
        ("10^-2", "0.01", None, 1),
        ("0.0500 mol L^-1", "0.0500", "mol/L", 3),
        ("0.0500 M", "0.0500", "M", 3),
        ("25.0 cc", "25.0", "cm3", 3),
        ("250 \N{GREEK SMALL LETTER MU}L", "250", "\N{MICRO SIGN}L", 3),
        ("82 percent", "82", "%", 2),
        ("−5 °C", "-5", "°C", 1),
        ("-5", "-5", None, 1),
        ("3/4", "0.75", None, None),
        ("1/3", "0.333333333333", None, None),
        ("m = 3.95", "3.95", None, 3),
        ("0", "0", None, 1),
    ],
)
def test_number_and_unit_are_as_written(
    capsys: Capture, text: str, number: str, unit: str | None, figures: int | None
) -> None:
    (record,) = read(capsys, text)
    assert record == {
        "text": text, "status": "number", "number": number, "unit": unit, "figures": figures, "reason": None
    }  # fmt: skip


def test_number_and_unit_belong_together_whatever_unit_is_asked_for(capsys: Capture) -> None:
    for asked in ("L", "mL", "cm3"):
        (record,) = read(capsys, "250 mL", "--unit", asked)
        assert (record["status"], record["number"], record["unit"]) == ("number", "250", "mL")


@pytest.mark.parametrize(
    ("arguments", "status", "number", "unit", "figures", "reason"),
    [
        (["1,234"], "ambiguous", "1234", None, 4, '"1,234" can mean 1234 or 1.234; it is read as 1234.'),
        (
            ["1.234", "--decimal-mark", ","], "ambiguous", "1234", None, 4,
            '"1.234" can mean 1234 or 1.234; it is read as 1234.',
        ),
        (
            ["1,234", "--decimal-mark", ","], "number", "1.234", None, 4,
            '"1,234" can mean 1.234 or 1234; it is read as 1.234.',
        ),
        (
            ["3.95 mol", "--unit", "g"], "wrong_dimension", "3.95", "mol", 3,
            "The answer is given in mol (amount); g (mass) is asked for.",
        ),
        (["12 gms"], "number", "12", "g", 2, '"gms" is read as g.'),
        (["no idea"], "unreadable", None, None, None, 'No number is found in "no idea".'),
        ([""], "unreadable", None, None, None, "No answer is written."),
        (["?"], "unreadable", None, None, None, "No answer is written."),
        (["=SUM(A1:A2)"], "unreadable", None, None, None, "A spreadsheet's formula is not read; write its result."),
        (["2+2"], "unreadable", None, None, None, "The answer is a calculation; write its result only."),
        (
            ["x" * 5000], "unreadable", None, None, None,
            "An answer of 5000 characters is not read; write a number.",
        ),
        (["--", "-5.0e1g"], "number", "-50", "g", 2, None),
    ],
)  # fmt: skip
def test_what_is_not_a_plain_number(
    capsys: Capture,
    arguments: list[str],
    status: str,
    number: str | None,
    unit: str | None,
    figures: int | None,
    reason: str | None,
) -> None:
    (record,) = read(capsys, *arguments)
    assert [record[key] for key in KEYS[1:]] == [status, number, unit, figures, reason]


def test_several_texts_are_several_lines(capsys: Capture) -> None:
    assert [record["number"] for record in read(capsys, "1", "2 g", "x", "--unit", "g")] == ["1", "2", None]


def test_a_line_each_of_standard_input(capsys: Capture, monkeypatch: Patch) -> None:
    typed(monkeypatch, "3.95 g\r\n\n٣.٥ g\n12".encode())
    records = read(capsys)
    assert [record["text"] for record in records] == ["3.95 g", "", "٣.٥ g", "12"]
    assert [record["number"] for record in records] == ["3.95", None, "3.5", "12"]


def test_an_empty_standard_input_is_no_line(capsys: Capture, monkeypatch: Patch) -> None:
    typed(monkeypatch, b"")
    assert read(capsys) == []


@pytest.mark.parametrize(
    "data",
    [
        *(b"\xff\xfe3.95", b"3.95\x00g", b"\x1b[31m3.95 g", b"\xed\xa0\x80", b"a\rb"),
        *(b"9" * 1_000_000, bytes(range(11, 256))),
    ],
)
def test_any_bytes_give_one_line_with_a_reason(capsys: Capture, monkeypatch: Patch, data: bytes) -> None:
    typed(monkeypatch, data)
    (record,) = read(capsys)
    assert (record["status"], record["number"]) == ("unreadable", None)
    assert record["reason"]


def test_in_words(capsys: Capture) -> None:
    texts = ("3.95 x 10^1 g", "1,234", "3 mol", "5", "3/4", "hello", "", "\x1b[2J", "\udcff")
    assert main(["read", *texts, "--unit", "g"]) == 0
    assert capsys.readouterr().out.splitlines() == [
        '"3.95 x 10^1 g": 39.5 g; 3 figures',
        '"1,234": 1234; 4 figures; ambiguous; "1,234" can mean 1234 or 1.234; it is read as 1234.',
        '"3 mol": 3 mol; 1 figure; wrong dimension; The answer is given in mol (amount); g (mass) is asked for.',
        '"5": 5; 1 figure',
        '"3/4": 0.75',
        '"hello": unreadable; No number is found in "hello".',
        '"": unreadable; No answer is written.',
        '"[2J": unreadable; No number is found at the start of "[2J".',
        '"": unreadable; No number is found in "".',
    ]


def test_a_terminal_of_few_characters_is_no_error(capsys: Capture, monkeypatch: Patch) -> None:
    out = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(out, encoding="ascii", write_through=True))
    assert main(["read", "25 °C"]) == 0
    assert out.getvalue() == b'"25 \\xb0C": 25 \\xb0C; 2 figures\n'
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("arguments", [["1", "--unit", "gg"], ["1", "--decimal-mark", ";"]])
def test_wrong_usage(arguments: list[str], capsys: Capture) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["read", *arguments])
    assert stopped.value.code == 2
    assert "usage: problemgen read" in capsys.readouterr().err
