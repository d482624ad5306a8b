"""What is said to people: the mark by which sentences are found for a catalogue of translations."""

from __future__ import annotations

__all__ = ["N_"]


def N_(message: str) -> str:  # noqa: N802 - gettext's own name for "marked, not yet translated"
    """A sentence, as it is. Whoever collects the sentences to translate looks for this call and its plain literal.

    >>> N_("Density")
    'Density'
    """
    return message
