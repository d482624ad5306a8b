"""Telling why points were given."""

from __future__ import annotations

import argparse
from pathlib import Path

from rich.console import Console
from rich.text import Text

from problemgen.commands.console import DONE, Commands, count, show_failures
from problemgen.pipeline.explain import OVERRIDES_FILE, RESPONSES_FILE, ExplanationRequest, explain

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("explain", help="tell why a student's parts were given their points (shows the key)")
    one.add_argument("folder", type=Path, metavar="SET", help="the folder of the built set")
    one.add_argument("student", metavar="STUDENT", help="the student's id")
    one.add_argument("part", nargs="?", default="", metavar="PART", help="one part, for example 1a (default: all)")
    one.add_argument("--responses", type=Path, metavar="FILE", help=f"the answers (default: SET/{RESPONSES_FILE})")
    one.add_argument("--overrides", type=Path, metavar="FILE",
                     help=f"your decisions (default: SET/{OVERRIDES_FILE}, where there is one)")  # fmt: skip
    one.add_argument("--attempt", type=count, default=1, metavar="N", help="which attempt (default: 1)")
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    show_failures()
    responses = options.responses or options.folder / RESPONSES_FILE
    beside = options.folder / OVERRIDES_FILE
    overrides = options.overrides or (beside if beside.is_file() else None)
    request = ExplanationRequest(options.folder, responses, options.student, options.part, overrides, options.attempt)
    console = Console(soft_wrap=True, highlight=False)
    for line in explain(request):
        console.print(Text(line, style=_style(line)))
    return DONE


def _style(line: str) -> str:
    """On a terminal what fits stands out, and what was ruled out steps back; elsewhere nothing is added."""
    if line.startswith("- ✓"):
        return "bold green"
    return "dim" if line.startswith("- ✗") else ""
