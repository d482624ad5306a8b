"""The command line: reads arguments and runs one command of `problemgen.commands`.

Exit codes: 0 done; 1 not done, or answers not accepted; 2 wrong usage; 3 done, but something needs a look;
130 interrupted.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

from problemgen.commands.console import FAILED, INTERRUPTED, say
from problemgen.errors import FaultsError, ProblemgenError

__all__ = ["main"]

_COMMANDS = {
    "build": "build",
    "grade": "grade",
    "explain": "explain",
    "read": "read",
    "practice": "practice",
    "solve": "solve",
    "check": "check",
    "audit": "audit",
    "sample": "sample",
    "list": "listing",
}
"""Each command's module in `problemgen.commands`. Only the one wanted is loaded: some take a second to."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    options = _parser(given[:1]).parse_args(given)
    try:
        code: int = options.run(options)
    except FaultsError as error:
        count = len(error.faults)
        say(
            f"{count} fault{'s' if count != 1 else ''}; nothing was written:", *(f"  {fault}" for fault in error.faults)
        )
        return FAILED
    except ProblemgenError as error:
        say(str(error))
        return FAILED
    except KeyboardInterrupt:
        say("interrupted; nothing was written")
        return INTERRUPTED
    except BrokenPipeError:
        sys.stderr.close()
        return FAILED
    return code


def _parser(wanted: Sequence[str]) -> argparse.ArgumentParser:
    """The parser, with the command that is wanted; with all of them where it is none."""
    parser = argparse.ArgumentParser(
        prog="problemgen", description="Auto-graded stoichiometry problem sets for the chemistry laboratory."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name in wanted if set(wanted) & _COMMANDS.keys() else _COMMANDS:
        import_module(f"problemgen.commands.{_COMMANDS[name]}").add_parser(commands)
    return parser


if __name__ == "__main__":
    sys.exit(main())
