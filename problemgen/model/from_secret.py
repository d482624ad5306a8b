"""What follows from a set's secret: who made its files, and names that nobody without it can guess."""

from __future__ import annotations

import base64
import hashlib
import hmac
from collections.abc import Iterable

__all__ = ["UNSIGNED", "fits", "sealed", "signature", "unguessable"]

UNSIGNED = ""
"""The signature of a file that nobody's secret stands for."""

_SIGNING = b"problemgen: signature of answers.json"
_NAMING = b"problemgen: name of a file"
_SEALING = b"problemgen: seal of what is handed out"
"""What keys are derived for: the secret's own use is drawing numbers."""

_NAME_BYTES = 15
"""120 bits: nobody finds a file by trying names, and the letters come out even, 24 of them."""


def signature(secret: bytes, digest: str) -> str:
    """The signature of a file, by its digest: HMAC-SHA256 (RFC 2104) with a key that is derived from the secret."""
    return f"hmac-sha256:{_keyed(secret, _SIGNING, digest).hex()}"


def fits(found: str, secret: bytes, digest: str) -> bool:
    """Whether a signature is the one that this secret gives to a file of this digest."""
    return hmac.compare_digest(found.encode(), signature(secret, digest).encode())


def unguessable(secret: bytes, *names: str) -> str:
    """A word of small letters and digits that stands for these names, always the same one."""
    return _word(secret, _NAMING, names)


def sealed(secret: bytes, *told: str) -> str:
    """A word that nobody without the secret can put to what is told, always the same one."""
    return _word(secret, _SEALING, told)


def _word(secret: bytes, purpose: bytes, names: Iterable[str]) -> str:
    told = "\0".join(f"{len(name)}:{name}" for name in names)
    return base64.b32encode(_keyed(secret, purpose, told)[:_NAME_BYTES]).decode().lower()


def _keyed(secret: bytes, purpose: bytes, text: str) -> bytes:
    key = hmac.digest(secret, purpose, hashlib.sha256)
    return hmac.digest(key, text.encode(), hashlib.sha256)
