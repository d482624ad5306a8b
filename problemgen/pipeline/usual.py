"""What is usual where nobody says otherwise: command line and desk propose the same, and load nothing for it."""

from __future__ import annotations

__all__ = ["VARIANTS_TO_PRACTISE"]

VARIANTS_TO_PRACTISE = 40
"""Variants of a problem on a practice page: more than anybody practises of one; no other reason."""
