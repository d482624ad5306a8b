"""What commands share: exit codes, and messages."""

from __future__ import annotations

import sys

__all__ = ["DONE", "ENDED", "FAILED", "LOOK", "say"]

DONE, FAILED, LOOK, ENDED = 0, 1, 3, 128
"""Exit codes; 2, wrong usage, is argparse's own. To the last, the number of the signal that ended the run is added."""


def say(*lines: str) -> None:
    """Messages go to standard error, one a line."""
    for line in lines:
        print(line, file=sys.stderr)
