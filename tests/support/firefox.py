"""A real Firefox, driven by the W3C's WebDriver BiDi over its own port.

Playwright's Firefox is a build of its own; Debian's is what students have. The protocol: W3C, WebDriver BiDi (draft).
"""

from __future__ import annotations

import json
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

__all__ = ["FIREFOX", "Firefox", "firefox"]

FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")

_LISTENING = "WebDriver BiDi listening on "
_PATIENCE = 60


class Firefox:
    """One tab of it."""

    def __init__(self, connection: ClientConnection) -> None:
        self._connection = connection
        self._numbers = count(1)
        self._ask("session.new", capabilities={})
        self._tab = self._ask("browsingContext.getTree")["contexts"][0]["context"]

    def _ask(self, method: str, **params: object) -> Any:
        number = next(self._numbers)
        self._connection.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            told = json.loads(self._connection.recv(timeout=_PATIENCE))
            if told.get("id") == number:
                assert told["type"] == "success", told
                return told["result"]

    def open(self, address: str) -> None:
        """Open an address, and wait until it is loaded."""
        self._ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def reload(self) -> None:
        """Load the page anew."""
        self._ask("browsingContext.reload", context=self._tab, wait="complete")

    def run(self, expression: str) -> Any:
        """The value of an expression in the page: text, a number, or what JSON can hold, as JSON."""
        told = self._ask(
            "script.evaluate",
            expression=f"JSON.stringify({expression})",
            target={"context": self._tab},
            awaitPromise=True,
        )
        assert told["type"] == "success", told
        return json.loads(told["result"].get("value", "null"))

    def wait(self, expression: str) -> Any:
        """The value of an expression, once it is truthy."""
        until = time.monotonic() + _PATIENCE
        while time.monotonic() < until:
            if found := self.run(expression):
                return found
            time.sleep(0.05)
        raise AssertionError(expression)


@contextmanager
def firefox(folder: Path) -> Iterator[Firefox]:
    """A Firefox without a window, with a profile in a folder."""
    assert FIREFOX is not None
    folder.mkdir(exist_ok=True)  # it opens no window for one that is not there, and says nothing
    command = [FIREFOX, "--headless", "--no-remote", "--profile", str(folder), "--remote-debugging-port", "0"]
    with subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True) as process:  # noqa: S603 - Debian's browser
        try:
            with connect(f"{_address(process)}/session", max_size=None) as connection:
                yield Firefox(connection)
        finally:
            process.kill()


def _address(process: subprocess.Popen[str]) -> str:
    """Where it listens: it says so once it does."""
    assert process.stderr is not None
    for line in process.stderr:
        if _LISTENING in line:
            return line.split(_LISTENING)[1].strip()
    raise AssertionError("Firefox has ended")
