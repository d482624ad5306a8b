"""The server: a socket on this machine alone, the browser, and the end."""

from __future__ import annotations

import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn

from problemgen.desk.app import application
from problemgen.desk.desk import Desk
from problemgen.desk.gate import Keys
from problemgen.desk.rooms import ROOMS
from problemgen.errors import OutputError

__all__ = ["serve"]

_LOOPBACK = "127.0.0.1"


def serve(
    folder: Path | None,
    proposed: Path,
    port: int,
    tell: Callable[[str], None],
    made: Callable[[Desk], None] = lambda _: None,
    *,
    browser: bool = True,
) -> None:
    """Serve the desk until it is stopped: from the page, or by an interruption at the keyboard.

    `folder` is the course's (None: one is made at `proposed`), `port` 0 for any that is free. `tell` is given the first
    link, which is opened too with `browser`; `made` the desk, which can be stopped. Nothing is logged: an address may
    have a student's id in it.

    Raises:
        OutputError: for a port that is taken.
    """
    try:
        listening = socket.create_server((_LOOPBACK, port))
    except (OSError, OverflowError) as error:
        raise OutputError(f"port {port}: {error}; choose another one, or leave --port out") from error
    with listening:
        keys = Keys(listening.getsockname()[1])
        desk = Desk(folder, proposed)
        config = uvicorn.Config(
            application(desk, keys, ROOMS),
            access_log=False,
            log_level="error",
            server_header=False,
            proxy_headers=False,  # nobody stands between
            ws="none",
            lifespan="off",
            timeout_graceful_shutdown=2,
        )
        server = uvicorn.Server(config)

        def stop() -> None:
            server.should_exit = True

        desk.stop = stop
        try:
            made(desk)
            tell(keys.link)
            if browser:
                webbrowser.open(keys.link)
            server.run(sockets=[listening])
        finally:
            desk.close()
