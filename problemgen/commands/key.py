"""Writing the worked key of one student."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.pipeline.worked_key import WorkedKeyRequest, write_worked_key

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Write the key and say where it is."""
    request = WorkedKeyRequest(
        options.folder, options.student, options.attempt, options.responses, options.out, options.replace
    )
    file, doubt = write_worked_key(request)
    say(*filter(None, [doubt]))
    say(f"Written to {file}. It is confidential.")
    return DONE
