"""The command line: reads arguments and runs one command of `problemgen.commands`.

Exit codes: 0 done; 1 not done, or answers not accepted; 2 wrong usage; 3 done, but something needs a look;
130 interrupted.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from problemgen.commands import build, check, grade, listing, sample, solve
from problemgen.commands.console import FAILED, INTERRUPTED, say
from problemgen.errors import FaultsError, ProblemgenError

__all__ = ["main"]

_COMMANDS = (build, grade, solve, check, sample, listing)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code."""
    options = _parser().parse_args(arguments)
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


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="problemgen", description="Auto-graded stoichiometry problem sets for the chemistry laboratory."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in _COMMANDS:
        command.add_parser(commands)
    return parser


if __name__ == "__main__":
    sys.exit(main())
