"""The report on a class: one file, in order, every figure defined, and sentences where there are no figures."""

from __future__ import annotations

import re
import warnings
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from markupsafe import escape

from problemgen.grade.classes.report import class_statistics
from problemgen.load.resources import layouts
from problemgen.model.policy import Attempts
from problemgen.render.classes.report import class_report
from tests.support.invented_class import Invented, head, record_of
from tests.support.simulated_points import drawn

AWKWARD = "<b>Ada</b> & \"Bea\" 'x' {{ 7 * 7 }} \u202eטלורה"
SECTIONS = ("scores", "difficulty", "discrimination", "reliability", "mistakes", "fairness", "unread")


class Page(HTMLParser):
    """The start tags of a page with their attributes, and its words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.open = ""
        self.feed(text)
        self.text = re.sub(r"\s+", " ", " ".join(self.words))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.open = tag

    def handle_data(self, data: str) -> None:
        if self.open != "style":
            self.words.append(data)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for one, attributes in self.tags if one == tag]


def report(students: list[Invented], title: str = "Invented week") -> str:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return class_report(head(title), class_statistics(record_of(students)), layouts())


def told(students: list[Invented]) -> str:
    """The words of the report, which holds no figure that is none."""
    page = Page(report(students))
    assert not re.search(r"\b([Nn]a[Nn]|inf|None)\b", page.text)
    return page.text


def alike(count: int, shares: list[float]) -> list[Invented]:
    return [Invented(f"s{place}", shares) for place in range(count)]


@pytest.fixture(scope="module")
def text() -> str:
    students = drawn(60, ("first", "second"))
    first = replace(students[0], verdicts={"1a": "unread"}, mistakes={"1b": ("ratio",)}, name="Adrel Sommer")
    return report([first, *students[1:], Invented("zz", [0] * 5, handed_in=False)])


@pytest.fixture(scope="module")
def page(text: str) -> Page:
    return Page(text)


def test_it_is_one_file_without_a_script_and_without_a_request(text: str, page: Page) -> None:
    assert not {"script", "link", "img", "iframe", "object", "form", "base"} & {tag for tag, _ in page.tags}
    (policy,) = [one["content"] for one in page.all("meta") if one.get("http-equiv") == "Content-Security-Policy"]
    assert policy == "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
    assert all(value.startswith("#") for tag, one in page.tags for key, value in one.items() if key == "href" and value)
    assert not re.search(r"https?:|@import|url\((?!#)|\son\w+=", text)


def test_headings_and_sections_stand_in_order(page: Page) -> None:
    headings = [int(tag[1]) for tag, _ in page.tags if re.fullmatch("h[1-6]", tag)]
    assert headings[0] == 1
    assert headings.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(headings))
    assert [one["id"] for one in page.all("h2")] == [*SECTIONS, "absent"]
    assert [one["href"] for one in page.all("a")] == [f"#{name}" for name in (*SECTIONS, "absent")]
    assert page.all("html")[0]["lang"] == "en"


def test_every_chart_is_a_picture_with_words_and_its_figures_behind_it(text: str, page: Page) -> None:
    charts = page.all("svg")
    assert len(charts) == 6
    ids = [one["id"] for _, one in page.tags if one.get("id")]
    assert len(ids) == len(set(ids))
    for one in charts:
        assert one["role"] == "img"
        assert set((one["aria-labelledby"] or "").split()) <= set(ids)
    figures = text.split("<figure>")[1:]
    assert len(figures) == 6
    assert all("<details>" in after for after in figures)


def test_tables_have_captions_and_heads(page: Page) -> None:
    tables = len(page.all("table"))
    assert tables == len(page.all("caption")) == len(page.all("thead"))
    assert {one.get("scope") for one in page.all("th")} == {"col", "row"}


def test_what_is_folded_is_open_in_print(text: str) -> None:
    printed = text.split("@media print")[-1]
    assert "details::details-content" in printed


def test_every_statistic_is_defined_with_its_source(page: Page) -> None:
    for name in (
        *("Hyndman and Fan", "Lord and Novick", "Henrysson", "Johnson", "Kelley", "Ebel", "Cronbach", "Feldt"),
        *("Sireci", "Kruskal and Wallis", "Holm", "Tomczak", "Spearman"),
    ):
        assert name in page.text
    assert "cited from memory" in page.text


def test_it_names_the_students_concerned(page: Page) -> None:
    assert "s000 Adrel Sommer (1b)" in page.text
    assert "1 answer could not be read." in page.text
    assert "Why 1a." in page.text
    assert "60 of 61 students handed in" in page.text


def test_the_same_class_gives_the_same_bytes() -> None:
    assert report(drawn(12)) == report(drawn(12))


def test_every_text_from_outside_is_escaped_and_cleaned() -> None:
    students = [
        replace(one, name=AWKWARD, wrote=AWKWARD, verdicts={"1a": "unread"}, mistakes={"1b": ("ratio",)})
        for one in drawn(3)
    ]
    found = report([*students, Invented("zz", [0] * 5, name=AWKWARD, handed_in=False)], title=AWKWARD)
    clean = AWKWARD.replace("\u202e", "")
    assert "<b>" not in found
    assert "\u202e" not in found
    assert "{{ 7 * 7 }}" in found
    assert found.count(str(escape(clean))) >= 2 + 3 * 3 + 1
    assert "Laboratory &lt;1&gt;" in found


def test_a_long_answer_is_cut() -> None:
    found = report([Invented("s1", [0] * 5, verdicts={"1a": "unread"}, wrote="4" * 300)])
    assert "4" * 200 + "…" in found
    assert "4" * 201 not in found


# Small classes, and classes without any spread


def test_nobody_at_all() -> None:
    found = told([])
    assert "Nobody has handed anything in yet." in found


def test_nobody_has_handed_in() -> None:
    found = told([replace(one, handed_in=False) for one in alike(3, [0] * 5)])
    assert "Nobody has handed anything in yet." in found
    assert "s0" in found
    assert "Mean" not in found


@pytest.mark.parametrize("count", [1, 2, 3, 9])
def test_so_few_students_have_sentences_in_the_place_of_figures(count: int) -> None:
    found = told(drawn(count))
    handed_in = "1 student has" if count == 1 else f"{count} students have"
    assert found.count(f"It takes 10 students or more to tell; {handed_in} handed in.") == 3
    assert "Mean share" in found
    assert "No two kinds of variants to compare" in found


def test_one_student_has_no_distribution_and_no_deviation() -> None:
    found = Page(report(drawn(1)))
    assert "Students by score" not in found.text
    assert "Standard deviation –" in found.text
    assert "1 student handed in." in found.text


@pytest.mark.parametrize("shares", [[1] * 5, [0] * 5, [1, 0, 0.5, 1, 0]])
@pytest.mark.parametrize("count", [2, 30])
def test_where_all_are_alike_nothing_is_told_apart(shares: list[float], count: int) -> None:
    found = told(alike(count, shares))
    assert "All students have the same score." in found
    if count == 30:
        assert "No part tells the students apart" in found
        assert "Alpha takes two items or more on which students scored differently; there are not two." in found
    assert "No answer shows a usual mistake." in found
    assert "Every answer could be read." in found


def test_the_same_sum_from_different_parts_has_no_alpha() -> None:
    students = [Invented(f"s{n}", (n % 2, 0.5, (n + 1) % 2, 1, 1)) for n in range(12)]
    found = told(students)
    assert "All students have the same sum of points, so there is no alpha." in found
    assert "Left out, since" not in found


def test_parts_that_few_have_are_named() -> None:
    students = [replace(one, template="second" if place < 4 else "first") for place, one in enumerate(drawn(30))]
    found = told(students)
    assert "Without a figure, since fewer than 10 students have them" in found
    assert "2.2a, 2.2b." in found


def test_a_part_on_which_all_scored_the_same_is_left_out_of_alpha() -> None:
    students = [replace(one, shares=(1, *one.shares[1:])) for one in drawn(30)]
    assert "Left out, since all students scored the same on them: 1a." in told(students)


def test_a_part_that_the_better_ones_lose_is_pointed_at() -> None:
    students = [Invented(f"s{n:02}", (n < 10, n >= 10, n >= 8, n >= 9, n >= 12)) for n in range(20)]
    assert "Lost by those who do well otherwise: 1a. Look at wording and key." in told(students)


def test_parts_that_nobody_answered_are_said_and_are_not_called_hard() -> None:
    blank = {"2a": "blank", "2b": "blank"}
    students = [replace(one, shares=(*one.shares[:3], 0, 0), verdicts=blank) for one in drawn(12)]
    found = told(students)
    assert "Answered by nobody, and counted as not earned: 2a, 2b." in found
    assert "2a (mean share" not in found


def test_hard_parts_come_first_and_unfair_variants_are_named() -> None:
    students = [
        Invented(
            f"s{n:02}", (1, n % 3 == 0, 1, *((1, 1) if n % 2 else (0, 0))), template="first" if n % 2 else "second"
        )
        for n in range(40)
    ]
    found = told(students)
    assert "Hardest: 2.2a (mean share 0.00), 2.2b (mean share 0.00), 1b (mean share 0.35)." in found
    assert "Some variants were harder than others: problem 2." in found


@pytest.mark.parametrize(
    ("attempts", "words"),
    [
        (Attempts(), None),
        (Attempts(3, "last"), "Of several attempts each student’s last one is described."),
        (Attempts(2, "best"), "Of several attempts each student’s best one is described."),
        (Attempts(2, "mean"), "each student’s last one is described; the gradebook has their mean."),
    ],
)
def test_which_attempt_is_described(attempts: Attempts, words: str | None) -> None:
    found = class_report(replace(head(), attempts=attempts), class_statistics(record_of(drawn(2))), layouts())
    assert ("attempts" in found) is (words is not None)
    assert words is None or words in found
