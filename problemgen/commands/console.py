"""What commands share: exit codes, and messages."""

from __future__ import annotations

import sys

__all__ = ["DONE", "FAILED", "INTERRUPTED", "LOOK", "say"]

DONE, FAILED, LOOK, INTERRUPTED = 0, 1, 3, 130
"""Exit codes; 2, wrong usage, is argparse's own."""


def say(*lines: str) -> None:
    """Messages go to standard error, one a line."""
    for line in lines:
        print(line, file=sys.stderr)
