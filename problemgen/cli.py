"""The command line: reads arguments and runs one command of `problemgen.commands`.

Exit codes: 0 done; 1 not done, or answers not accepted; 2 wrong usage; 3 done, but something needs a look;
130 interrupted.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module

from problemgen.commands.arguments import parser
from problemgen.commands.console import FAILED, INTERRUPTED, say
from problemgen.errors import FaultsError, ProblemgenError

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code. Only the command that is run is loaded: some take a second to."""
    try:
        options = parser().parse_args(arguments)
        code: int = import_module(f"problemgen.commands.{options.module}").run(options)
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


if __name__ == "__main__":
    sys.exit(main())
