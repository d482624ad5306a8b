"""Showing how answers are read."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable
from dataclasses import asdict

from problemgen.chemistry.units import read_unit
from problemgen.commands.console import DONE, Commands
from problemgen.errors import UnitError
from problemgen.pipeline.front import read_answer

__all__ = ["add_parser", "run"]

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
        reading = read_answer(text, unit=options.unit, decimal_mark=options.decimal_mark)
        print(json.dumps(asdict(reading)) if options.json else _printable(str(reading)))
    return DONE


def _printable(text: str) -> str:
    """A line without what the terminal cannot show."""
    encoding = sys.stdout.encoding or "utf-8"
    return text.encode(encoding, errors="backslashreplace").decode(encoding)


def _unit(text: str) -> str:
    """A unit of the list; raises argparse.ArgumentTypeError."""
    try:
        read_unit(text)
    except UnitError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
    return text


def _lines() -> Iterable[str]:
    """The lines of standard input; bytes that are no UTF-8 are replaced."""
    for line in sys.stdin.buffer:
        yield line.decode(errors="replace").rstrip("\r\n")
