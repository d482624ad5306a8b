from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from problemgen.grade.reading.spelling import LONGEST, plain_characters
from problemgen.practice.patterns import javascript
from problemgen.practice.rules import RULES
from tests.support.malformed_cells import malformed_cells

WORD = r"\p{L}\p{N}_"
SPACE = r"\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000"


@pytest.mark.parametrize(
    ("python", "page"),
    [
        (r"[+-]?[.,]?[0-9]{1,3}(?![0-9])", r"[+-]?[.,]?[0-9]{1,3}(?![0-9])"),
        (r"(?<=\w)\d\b", rf"(?<=[{WORD}])[\p{{Nd}}](?:(?<![{WORD}])(?=[{WORD}])|(?<=[{WORD}])(?![{WORD}]))"),
        (r"\bmm +Hg\b", rf"(?<![{WORD}])mm +Hg(?![{WORD}])"),
        (r"\bm?", rf"(?:(?<![{WORD}])(?=[{WORD}])|(?<=[{WORD}])(?![{WORD}]))m?"),
        (r"[\w%][^\w]\[\]", r"[\p{L}\p{N}_%][^\p{L}\p{N}_]\[\]"),
        (r"[^\W\d_]+-[^\W\d]", r"[\p{L}\p{Nl}\p{No}]+-[\p{L}\p{Nl}\p{No}_]"),
        (r"\s[ \N{NO-BREAK SPACE}]\S", rf"[{SPACE}][ {chr(160)}][^{SPACE}]"),
    ],
)
def test_patterns_are_written_out_where_the_page_would_read_less(python: str, page: str) -> None:
    assert javascript(re.compile(python)) == {"pattern": page}


def test_flags_are_told() -> None:
    assert javascript(re.compile("a.", re.IGNORECASE | re.DOTALL)) == {"pattern": "a.", "flags": "is"}


@pytest.mark.parametrize(
    ("pattern", "refusal"),
    [
        (re.compile(r"\Aa"), r"'\\A' of '\\Aa' is not known"),
        (re.compile(r"[\b]"), r"'\\b' of '[\\b]' is not known"),
        (re.compile(r"[\S]"), r"'\\S' of '[\\S]' is not known"),
        (re.compile("a b", re.VERBOSE), "re.VERBOSE of 'a b' is not known"),
    ],
)
def test_what_is_not_known_is_refused(pattern: re.Pattern[str], refusal: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(refusal)}$"):
        javascript(pattern)


def is_known(character: str) -> bool:
    """Whether Python's edition of Unicode has a character; the browser's is newer."""
    return unicodedata.category(character) != "Cn"


CLASSES = (r"\w", r"\d", r"\s", r"\S", r"[^\W\d_]", r"[^\W\d]")


def test_a_class_holds_the_same_characters_in_the_browser(browser: Browser) -> None:
    known = "".join(chr(code) for code in (*range(0xD800), *range(0xE000, 0x20000)) if is_known(chr(code)))
    page = browser.new_page()
    found = page.evaluate(
        "([sources, known]) => sources.map((one) => (known.match(new RegExp(one, 'gu')) ?? []).join(''))",
        [[javascript(re.compile(one))["pattern"] for one in CLASSES], known],
    )
    page.close()
    assert [one for one, theirs in zip(CLASSES, found, strict=True) if theirs != "".join(re.findall(one, known))] == []


def patterns_in(rule: object) -> Iterator[re.Pattern[str]]:
    if isinstance(rule, re.Pattern):
        yield rule
    elif isinstance(rule, tuple):
        for one in rule:
            yield from patterns_in(one)


WAYS = """([patterns, texts]) => {
  const told = (match) => match && match[0];
  return Object.entries(patterns).map(([name, { pattern, flags = "" }]) => {
    const [search, here] = [new RegExp(pattern, `${flags}u`), new RegExp(pattern, `${flags}yu`)];
    const whole = new RegExp(`^(?:${pattern})$`, `${flags}u`);
    return texts.map((text) => {
      here.lastIndex = 0;
      return JSON.stringify([told(text.match(search)), told(here.exec(text)), whole.test(text)]);
    });
  });
}"""


def in_python(pattern: re.Pattern[str], text: str) -> list[object]:
    search, here = pattern.search(text), pattern.match(text)
    return [search and search[0], here and here[0], pattern.fullmatch(text) is not None]


def test_every_pattern_of_the_grader_finds_the_same_in_the_browser(browser: Browser) -> None:
    patterns = {
        f"{name}.{key}": found
        for name, rules in RULES.items()
        for key, rule in rules.items()
        for found in patterns_in(rule)
    }
    assert len(patterns) > 40
    written = ["".join(filter(is_known, cell)) for cell in malformed_cells(400, 250)]
    texts = [text for cell in written for text in (cell, plain_characters(cell)) if len(text) <= LONGEST]
    page = browser.new_page()
    found = page.evaluate(WAYS, [{name: javascript(pattern) for name, pattern in patterns.items()}, texts])
    page.close()
    different = [
        (name, text, theirs)
        for (name, pattern), all_theirs in zip(patterns.items(), found, strict=True)
        for text, theirs in zip(texts, all_theirs, strict=True)
        if json.loads(theirs) != in_python(pattern, text)
    ]
    assert different == []
