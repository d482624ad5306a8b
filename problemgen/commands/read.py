"""Showing how answers are read."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from typing import Any

from problemgen.chemistry.units import Unit, read_unit
from problemgen.commands.console import DONE, Commands
from problemgen.errors import UnitError
from problemgen.exact.digits import Written
from problemgen.exact.rounding import plain_text
from problemgen.grade.reading import Reading, read_answer
from problemgen.grade.spelling import quoted

__all__ = ["add_parser", "as_record", "run"]

_NO_ANSWER = "No answer is written."
_ABOUT = """Shows how a marked cell is read. Number and unit belong together and are as written: the number in plain
decimal notation (a fraction to twelve figures), the unit in its usual spelling; --unit decides whether the dimension
is right. Status: number; ambiguous (1,234: read by the decimal mark); wrong_dimension; unreadable (blank cells too).
Figures are the significant figures written; a fraction has none. Exit code 0, whatever is read."""
_DASH = "A text that starts with - and is no plain number goes behind --, as in: problemgen read -- -5g"


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("read", help="show how answers are read: number, unit, figures, or why not")
    one.description, one.epilog = _ABOUT, _DASH
    one.add_argument("texts", nargs="*", metavar="TEXT", help="the answers (default: a line each of standard input)")
    one.add_argument("--unit", type=_unit, metavar="U", help="the unit asked for (default: the unit written)")
    mark = "the decimal mark of the sheet, . or , (default: .): decides about 1,234"
    one.add_argument("--decimal-mark", choices=(".", ","), default=".", metavar="MARK", help=mark)
    one.add_argument("--json", action="store_true", help="print one JSON object a line")
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print a line for each text: an answer that is not read is no fault of the command."""
    for text in options.texts or _lines():
        reading = _read(text, options.unit, options.decimal_mark)
        if options.json:
            print(json.dumps(as_record(reading)))
        else:
            print(_printable(_told(reading)))
    return DONE


def _printable(text: str) -> str:
    """A line without what the terminal cannot show."""
    encoding = sys.stdout.encoding or "utf-8"
    return text.encode(encoding, errors="backslashreplace").decode(encoding)


def _unit(text: str) -> Unit:
    try:
        return read_unit(text)
    except UnitError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _lines() -> Iterable[str]:
    """The lines of standard input; bytes that are no UTF-8 are replaced."""
    for line in sys.stdin.buffer:
        yield line.decode(errors="replace").rstrip("\r\n")


def _read(text: str, unit: Unit | None, decimal_mark: str) -> Reading:
    """A text as the grader reads it; without a unit asked for, the unit written counts as asked for."""
    reading = read_answer(text, unit, decimal_mark=decimal_mark)
    if unit is None and reading.status == "wrong_dimension" and reading.unit is not None:
        return read_answer(text, reading.unit, decimal_mark=decimal_mark)
    return reading


def as_record(reading: Reading) -> dict[str, Any]:
    """A reading for JSON: text, status, number, unit, figures, reason.

    `number` and `unit` are as written and belong together: the number in plain decimal notation, the unit in its
    canonical spelling. `figures` is null for a fraction, which is exact. A blank cell is unreadable.
    """
    blank = reading.status == "blank"
    reason = _NO_ANSWER if blank else reading.reason
    return {
        "text": reading.text,
        "status": "unreadable" if blank else reading.status,
        "number": _decimal(reading.written) if reading.written else None,
        "unit": reading.unit.text if reading.unit else None,
        "figures": reading.written.figures if reading.written and reading.counts_figures else None,
        "reason": reason or None,
    }


def _decimal(written: Written) -> str:
    """A number in plain decimal notation: a fraction to the place where it ends, or to twelve figures."""
    return plain_text(written.value, min(written.place, 0))


def _told(reading: Reading) -> str:
    """A reading in words: "3.95 x 10^1 g": 39.5 g, 3 figures."""
    record = as_record(reading)
    return f"{quoted(reading.text)}: {'; '.join(_pieces(record))}"


def _pieces(record: dict[str, Any]) -> Iterator[str]:
    if record["number"] is not None:
        yield f"{record['number']} {record['unit'] or ''}".strip()
        if record["figures"] is not None:
            yield f"{record['figures']} figure{'s' if record['figures'] != 1 else ''}"
    if record["status"] != "number":
        yield record["status"].replace("_", " ")
    if record["reason"]:
        yield record["reason"]
