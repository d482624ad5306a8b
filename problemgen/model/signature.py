"""Who made an answers.json: whoever has the secret that the numbers of the set were drawn from."""

from __future__ import annotations

import hashlib
import hmac

__all__ = ["UNSIGNED", "fits", "signature"]

UNSIGNED = ""
"""The signature of a file that nobody's secret stands for."""

_PURPOSE = b"problemgen: signature of answers.json"  # the secret's own use is drawing numbers


def signature(secret: bytes, digest: str) -> str:
    """The signature of a file, by its digest: HMAC-SHA256 (RFC 2104) with a key that is derived from the secret."""
    key = hmac.digest(secret, _PURPOSE, hashlib.sha256)
    return f"hmac-sha256:{hmac.new(key, digest.encode(), hashlib.sha256).hexdigest()}"


def fits(found: str, secret: bytes, digest: str) -> bool:
    """Whether a signature is the one that this secret gives to a file of this digest."""
    return hmac.compare_digest(found.encode(), signature(secret, digest).encode())
