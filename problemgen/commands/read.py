"""Showing how answers are read."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable
from dataclasses import asdict

from problemgen.chemistry.units import read_unit
from problemgen.commands.console import DONE
from problemgen.errors import UnitError
from problemgen.pipeline.reading import read_answer

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Print a line for each text: an answer that is not read is no fault of the command."""
    if options.unit is not None:
        _check_unit(options)
    for text in options.texts or _lines():
        reading = read_answer(text, unit=options.unit, decimal_mark=options.decimal_mark)
        print(json.dumps(asdict(reading)) if options.json else _printable(str(reading)))
    return DONE


def _check_unit(options: argparse.Namespace) -> None:
    """A unit that is not in the list is wrong usage: nothing is read."""
    try:
        read_unit(options.unit)
    except UnitError as error:
        options.wrong_usage(f"argument --unit: {error}")


def _printable(text: str) -> str:
    """A line without what the terminal cannot show."""
    encoding = sys.stdout.encoding or "utf-8"
    return text.encode(encoding, errors="backslashreplace").decode(encoding)


def _lines() -> Iterable[str]:
    """The lines of standard input; bytes that are no UTF-8 are replaced."""
    for line in sys.stdin.buffer:
        yield line.decode(errors="replace").rstrip("\r\n")
