"""Telling why points were given."""

from __future__ import annotations

import argparse

from rich.console import Console
from rich.text import Text

from problemgen.commands.console import DONE
from problemgen.commands.failures import show_failures
from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.pipeline.explain import ExplanationRequest, explain

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    show_failures()
    responses = tuple(options.responses or (options.folder / RESPONSES_FILE,))
    request = ExplanationRequest(
        folder=options.folder,
        responses=responses,
        student=options.student,
        part=options.part,
        overrides=options.overrides,
        attempt=options.attempt,
        means=options.means,
        set_folder=options.set_folder,
    )
    console = Console(soft_wrap=True, highlight=False)
    for line in explain(request):
        console.print(Text(line, style=_style(line)))
    return DONE


def _style(line: str) -> str:
    """On a terminal what fits stands out, and what was ruled out steps back; elsewhere nothing is added."""
    if line.startswith("- ✓"):
        return "bold green"
    return "dim" if line.startswith("- ✗") else ""
