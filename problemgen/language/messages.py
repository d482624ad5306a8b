"""Messages and the language they are said in: gettext's calls, over the language that is spoken just now.

A message is a plain literal where it stands in the code: whoever collects the messages looks for the calls, and does
not run them. What is put into it has a name in braces, and is filled in behind the call:
`_("{name} limits.").format(name=name)`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache, wraps
from typing import Any, TypeVar, cast

from problemgen.language.catalogues import catalogue
from problemgen.language.languages import ENGLISH

__all__ = ["NN_", "N_", "_", "kept_by_language", "ngettext", "pgettext", "speaking", "spoken"]

F = TypeVar("F", bound=Callable[..., Any])

_SPOKEN: ContextVar[str] = ContextVar("language", default=ENGLISH)


def N_(message: str) -> str:  # noqa: N802 - gettext's own name for "marked, not yet translated"
    """A message, as it is: marked for the catalogue, where it stands in a constant. `_` says it, where it is used.

    >>> N_("Density")
    'Density'
    """
    return message


def NN_(one: str, several: str) -> tuple[str, str]:  # noqa: N802 - as `N_`
    """A message in singular and plural, marked for the catalogue; `ngettext` says it.

    >>> NN_("gram", "grams")
    ('gram', 'grams')
    """
    return one, several


def _(message: str) -> str:
    """A message in the language spoken; as it is, where the catalogue does not have it."""
    language = _SPOKEN.get()
    # gettext keeps its file's head under the empty message.
    return message if language == ENGLISH or not message else catalogue(language).gettext(message)


def pgettext(context: str, message: str) -> str:
    """A message that has another sense elsewhere; `context` tells which one is meant."""
    language = _SPOKEN.get()
    return message if language == ENGLISH or not message else catalogue(language).pgettext(context, message)


def ngettext(one: str, several: str, number: int) -> str:
    """The message that goes with a number, as the language forms its plurals.

    >>> ngettext("{n} point", "{n} points", 2).format(n=2)
    '2 points'
    """
    language = _SPOKEN.get()
    if language == ENGLISH:
        return one if number == 1 else several
    return catalogue(language).ngettext(one, several, number)


def kept_by_language(most: int) -> Callable[[F], F]:
    """Keep what a function of hashable values says, up to `most` results: by the language that it was said in."""

    def kept(work: F) -> F:
        in_language = lru_cache(maxsize=most)(lambda _language, *values: work(*values))

        @wraps(work)
        def said(*values: Any) -> Any:
            return in_language(_SPOKEN.get(), *values)

        return cast("F", said)

    return kept


def spoken() -> str:
    """The language that is spoken just now (BCP 47)."""
    return _SPOKEN.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Say all that is said inside in a language (BCP 47).

    What is made lazily is said when it is made: a generator that leaves the block takes the language that it is run in.

    Raises LookupError for a language that has no catalogue.

    >>> with speaking("en"):
    ...     _("Density")
    'Density'
    """
    catalogue(language)
    token = _SPOKEN.set(language)
    try:
        yield
    finally:
        _SPOKEN.reset(token)
