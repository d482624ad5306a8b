"""Who may ask: this machine's browser, from the desk's own pages, with the cookie that the first link gave it.

A page of anybody else that is open in the same browser can send requests to a port of this machine, and can make a
name of its own lead there. It knows no cookie, it cannot choose Origin, Host and Sec-Fetch-Site, and these are looked
at on every request before anything else is.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from hmac import compare_digest
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from problemgen.language.messages import _

__all__ = ["ENTRY", "HEADERS", "Gate", "Keys"]

ENTRY = "/enter"
"""The address of the first link."""

_SAFE = frozenset({"GET", "HEAD"})
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
"""What every answer says; one that is more guarded, as students' pages are, says its own policy."""


class Keys:
    """The token of the first link, good for once, and the cookie that it is exchanged for."""

    def __init__(self, port: int) -> None:
        """Make both. Browsers keep cookies by host and not by port, so the port is in its name."""
        self.port = port
        self.cookie = f"desk-{port}"
        self._token: str | None = secrets.token_urlsafe(32)
        self._session = secrets.token_urlsafe(32)

    @property
    def link(self) -> str:
        """The first link. Raises ValueError where it is used up."""
        if self._token is None:
            raise ValueError("the first link is used up")
        return f"http://127.0.0.1:{self.port}{ENTRY}?token={self._token}"

    def exchange(self, token: str) -> str | None:
        """The cookie's value for the token, once; None for any other."""
        if self._token is None or not compare_digest(token.encode(), self._token.encode()):
            return None
        self._token = None
        return self._session

    def knows(self, cookies: str) -> bool:
        """Whether a header of cookies has ours."""
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load(cookies)
        except CookieError:
            return False
        found = jar.get(self.cookie)
        return found is not None and compare_digest(found.value.encode(), self._session.encode())


class Gate:
    """In front of the application. `limit` tells how many bytes a request may have, by its address."""

    def __init__(self, app: ASGIApp, keys: Keys, limit: Callable[[str], int]) -> None:
        """Take what is behind it."""
        self._app, self._keys, self._limit = app, keys, limit
        self._host = f"127.0.0.1:{keys.port}"
        self._origin = f"http://{self._host}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":  # no page of ours opens a socket
            await send({"type": "websocket.close", "code": 1008})
            return
        answer = self._refusal(scope) or self._entry(scope)
        if answer is not None:
            await answer(scope, receive, _guarded(send))
            return
        await self._app(scope, _Limited(receive, self._limit(scope["path"])), _guarded(send))

    def _refusal(self, scope: Scope) -> Response | None:
        headers, method = Headers(scope=scope), scope["method"]
        if headers.getlist("host") != [self._host]:
            return _refused(_("This address is not the desk's."), 421)
        if headers.get("sec-fetch-site", "same-origin") not in (("same-origin", "none") if method in _SAFE else _OWN):
            return _refused(_("Another page has asked for this; the desk answers its own pages only."))
        origins = headers.getlist("origin")
        if origins not in ([[], [self._origin]] if method in _SAFE else [[self._origin]]):
            return _refused(_("Another page has asked for this; the desk answers its own pages only."))
        if scope["path"] != ENTRY and not self._keys.knows(headers.get("cookie", "")):
            return _refused(_("The desk does not know this browser. Open the link that was shown when it was started."))
        return _too_large() if _announced(headers) > self._limit(scope["path"]) else None

    def _entry(self, scope: Scope) -> Response | None:
        if scope["path"] != ENTRY:
            return None
        token = parse_qs(scope["query_string"].decode("ascii", "replace")).get("token", [""])[0]
        session = self._keys.exchange(token) if scope["method"] == "GET" else None
        if session is None:
            return _refused(_("This link was used before, or is not the desk's. Stop the desk and start it again."))
        answer = RedirectResponse("/", 303)
        answer.set_cookie(self._keys.cookie, session, httponly=True, samesite="strict", path="/")
        return answer


_OWN = ("same-origin",)


class _Limited:
    """What a request sends, up to a number of bytes, whatever it has announced."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive, self._left = receive, most

    async def __call__(self) -> Message:
        message = await self._receive()
        self._left -= len(message.get("body", b""))
        if self._left < 0:  # the rest is not read: the client is told that it has gone
            return {"type": "http.disconnect"}
        return message


def _announced(headers: Headers) -> int:
    length = headers.get("content-length", "0")
    return int(length) if length.isascii() and length.isdecimal() and len(length) < 19 else 1 << 62


def _too_large() -> Response:
    return _refused(_("This is larger than what can be dropped here."), 413)


def _refused(why: str, status: int = 403) -> Response:
    return PlainTextResponse(why, status)


def _guarded(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sent
