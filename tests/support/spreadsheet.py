"""A spreadsheet program at work without a window: LibreOffice opens a workbook, types into cells, and saves it.

It is told what to do from the Python that it comes with, in a process of its own.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

__all__ = ["HAS_OFFICE", "typed_in_office"]

_OFFICE, _PYTHON = "soffice", "/usr/bin/python3"  # Debian's: libreoffice-calc-nogui and python3-uno


def _has_office() -> bool:
    if shutil.which(_OFFICE) is None or not Path(_PYTHON).exists():
        return False
    return subprocess.run([_PYTHON, "-c", "import uno"], check=False, capture_output=True).returncode == 0  # noqa: S603


HAS_OFFICE = _has_office()


def typed_in_office(books: Mapping[str, tuple[bytes, Mapping[str, str]]]) -> dict[str, bytes]:
    """Workbooks with texts typed into cells by the cells' names ("C7"), as the program saves them."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for stem, (content, _) in books.items():
            (folder / f"{stem}.xlsx").write_bytes(content)
        order = {"folder": str(folder), "cells": {stem: dict(cells) for stem, (_, cells) in books.items()}}
        pipe = f"problemgen{folder.name}"
        office = subprocess.Popen(  # noqa: S603
            [
                *(str(shutil.which(_OFFICE)), "--headless", "--norestore", "--nologo"),
                *(f"--accept=pipe,name={pipe};urp;", f"-env:UserInstallation={(folder / 'profile').as_uri()}"),
            ],
            stderr=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
        )
        try:
            told = json.dumps(order | {"pipe": pipe})
            subprocess.run([_PYTHON, __file__], input=told, text=True, check=True, timeout=300)  # noqa: S603
            office.wait(60)
        finally:
            office.kill()
            office.wait()
        return {stem: (folder / f"{stem}-saved.xlsx").read_bytes() for stem in books}


def _work() -> None:
    """What runs in the Python that knows the program."""
    import time

    import uno  # type: ignore[import-not-found]
    from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]

    order = json.load(sys.stdin)
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(600):
        try:
            context = resolver.resolve(f"uno:pipe,name={order['pipe']};urp;StarOffice.ComponentContext")
            break
        except Exception:  # noqa: BLE001 - it has not started yet
            time.sleep(0.2)
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)

    def said(**values: object) -> tuple[object, ...]:
        return tuple(PropertyValue(Name=name, Value=value) for name, value in values.items())

    for stem, cells in order["cells"].items():
        place = f"file://{order['folder']}/{stem}"
        book = desktop.loadComponentFromURL(f"{place}.xlsx", "_blank", 0, said(Hidden=True))
        sheet = book.Sheets.getByIndex(0)
        controller = book.CurrentController
        frame = controller.Frame if controller is not None else None
        helper = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.DispatchHelper", context)
        for cell, text in cells.items():
            controller.select(sheet.getCellRangeByName(cell))
            helper.executeDispatch(frame, ".uno:EnterString", "", 0, said(StringName=text))
        book.storeToURL(f"{place}-saved.xlsx", said(FilterName="Calc MS Excel 2007 XML"))
        book.close(True)
    desktop.terminate()


if __name__ == "__main__":
    _work()
