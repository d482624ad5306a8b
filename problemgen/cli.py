"""The command line: reads arguments and runs one command of `problemgen.commands`.

Exit codes: 0 done; 1 not done, or answers not accepted; 2 wrong usage; 3 done, but something needs a look;
128 and the number of the signal where the run was ended from outside (130: interrupted at the keyboard).
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module
from types import FrameType, ModuleType
from typing import NoReturn

from problemgen.commands.console import ENDED, FAILED, say
from problemgen.errors import FaultsError, ProblemgenError
from problemgen.write.endings import ENDINGS, HEARD, WRITTEN, undisturbed

__all__ = ["main", "program"]


def program() -> NoReturn:
    """The command line as a program of its own: what asks it to end is heard as an interruption at the keyboard is."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # nobody's plugin has a say in what a file may hold
    heard = [number for number in ENDINGS if signal.getsignal(number) is not signal.SIG_IGN]
    for number in heard:
        signal.signal(number, _interrupt)
    code = main()
    for number in heard:  # all is said and done
        signal.signal(number, signal.SIG_IGN)
    sys.exit(code)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code. Only the command that is run is loaded: some take a second to."""
    WRITTEN.clear()
    try:
        options = import_module("problemgen.commands.arguments").parser().parse_args(arguments)
        with import_module("problemgen.pipeline.keeping").keeping():
            command = _loaded(f"problemgen.commands.{options.module}")
            code: int = command.run(options)
    except FaultsError as error:
        count = len(error.faults)
        say(
            f"{count} fault{'s' if count != 1 else ''}; nothing was written:", *(f"  {fault}" for fault in error.faults)
        )
        return FAILED
    except ProblemgenError as error:
        say(str(error))
        return FAILED
    except KeyboardInterrupt as error:
        return _interrupted(error)
    except BrokenPipeError:
        sys.stderr.close()
        return FAILED
    except OSError as error:  # the system's refusal, where nobody else had more to say of it
        say(f"{error.filename or 'the system'}: {(error.strerror or str(error)).lower()}; {_told_written()}")
        return FAILED
    return code


def _loaded(name: str) -> ModuleType:
    """A module; what comes with it for the first time stays to the end, so nobody looks whether it is garbage."""
    if name in sys.modules:
        return import_module(name)
    gc.disable()
    try:
        return import_module(name)
    finally:
        gc.freeze()
        gc.enable()


def _interrupt(number: int, _: FrameType | None) -> None:
    HEARD.append(number)
    raise KeyboardInterrupt(number)


def _interrupted(error: KeyboardInterrupt) -> int:
    """Clear what is aside, and say what was written; a second interruption asks for nothing that is not done then."""
    with suppress(KeyboardInterrupt), undisturbed():
        import_module("problemgen.write.files").give_up()
        with suppress(OSError):  # the terminal is closed
            say(f"interrupted; {_told_written()}")
    return ENDED + int(error.args[0] if error.args else signal.SIGINT)


def _told_written() -> str:
    return f"written, and whole: {', '.join(map(str, WRITTEN))}" if WRITTEN else "nothing was written"


if __name__ == "__main__":
    program()
