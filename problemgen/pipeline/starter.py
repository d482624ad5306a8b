"""What opens the desk by a double click, as the files of this system are opened by one."""

from __future__ import annotations

import sys

__all__ = ["starter"]

_CALL = "-m problemgen.cli desk"


def starter(system: str = sys.platform, python: str = sys.executable) -> tuple[str, str]:
    """The name and the text of the file that opens the desk over the folder it lies in, for a system of `sys.platform`.

    It names this Python by its place, for a double click knows no virtual environment. On each system it is the kind
    of file that a terminal opens for, in which the desk tells its link and is stopped: a desktop entry, which gets its
    own place as %k (freedesktop.org's Desktop Entry Specification), a .command, which the Terminal runs, a batch file.

    >>> starter("darwin", "/opt/py")[0]
    'Open the desk.command'
    """
    if system == "win32":
        lines = ["@echo off", f'"{python}" {_CALL} "%~dp0."', "if errorlevel 1 pause"]
        return "Open the desk.bat", "".join(f"{line}\r\n" for line in lines)
    if system == "darwin":
        quoted = python.replace("'", "'\\''")
        return "Open the desk.command", f'#!/bin/sh\nexec \'{quoted}\' {_CALL} "$(dirname "$0")"\n'
    lines = [
        "[Desktop Entry]",
        "Type=Application",
        "Name=Open the desk",
        f"Exec={_argument(python)} {_CALL} %k",
        "Terminal=true",
        "Icon=text-html",
    ]
    return "Open the desk.desktop", "".join(f"{line}\n" for line in lines)


def _argument(text: str) -> str:
    """An argument of Exec: quoted, its reserved characters escaped once as an argument and once as a string."""
    escaped = "".join(f"\\{one}" if one in '"`$\\' else one for one in text).replace("\\", "\\\\")
    return f'"{escaped.replace("%", "%%")}"'
