"""What can be set for a set, each with its consequence in a sentence; `model/policy.py` is the reference."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal, TypeAlias

from problemgen.exact.rounding import plain_text
from problemgen.language.messages import N_, _

__all__ = ["GROUPS", "KEYS", "Group", "Option", "Setting", "consequence", "shown_value", "written_value"]

_NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9})?")

How: TypeAlias = Literal["choice", "flag", "share", "percent", "count"]


@dataclass(frozen=True)
class Option:
    """One value of a choice: as it stands in the file, what it is called, what follows (messages)."""

    value: str
    label: str
    so: str


@dataclass(frozen=True)
class Setting:
    """A key of set.toml. `so` is what follows from a number, with {n} for it; of a choice, its options tell.

    `unsaid` is what holds where there is no number, of a setting that has none by itself.
    """

    key: str
    label: str
    how: How
    so: str = ""
    unsaid: str = ""
    options: Sequence[Option] = ()


@dataclass(frozen=True)
class Group:
    """Settings that are looked at together."""

    name: str
    title: str
    settings: Sequence[Setting]


_YES, _NO = N_("Yes"), N_("No")

_PRINTING = Group("printing", N_("How the sheets look"), (
    Setting("layout", N_("Layout"), "choice", options=(
        Option("roomy", N_("Roomy"), N_("Lines for the working below each part.")),
        Option("compact", N_("Compact"), N_("Two columns with room for the answers alone; far fewer pages.")),
    )),
    Setting("answers", N_("Answers"), "choice", options=(
        Option("beside", N_("Beside each part"), N_("Each part has its own blank.")),
        Option("box", N_("In one box"), N_("All answers of a sheet stand in one box, quick to mark by hand.")),
    )),
    Setting("head", N_("Head of the page"), "choice", options=(
        Option("name", N_("Name"), N_("Name, id and section stand on every page.")),
        Option("code", N_("Code alone"), N_("Pages have no name: who marks by hand does not know whose it is.")),
    )),
    Setting("paper", N_("Paper"), "choice", options=(
        Option("a4", N_("A4"), N_("210 mm by 297 mm.")),
        Option("us-letter", N_("US letter"), N_("8.5 in by 11 in.")),
    )),
    Setting("method", N_("How stoichiometry is told"), "choice", options=(
        Option("product", N_("By the product"), N_("Solutions work out what each reagent gives of the product.")),
        Option("extent", N_("By extents"), N_("Solutions compare the extents of reaction.")),
        Option("ratios", N_("By amount ratios"), N_("Solutions compare what is needed with what is there.")),
    )),
    Setting("worked_key", N_("Worked key"), "flag", options=(
        Option("true", _YES, N_("Each build also writes every worked solution, in a long file.")),
        Option("false", _NO, N_("The key has a line a part.")),
    )),
    Setting("feedback.worked_solution", N_("Solutions in feedback"), "flag", options=(
        Option("true", _YES, N_("Students see the worked solution of their own numbers, once marked.")),
        Option("false", _NO, N_("Students see their verdicts, and no solution.")),
    )),
))  # fmt: skip

_MARKING = Group("marking", N_("How answers are marked"), (
    Setting("policy.figures", N_("Significant figures"), "choice", options=(
        Option("ignore", N_("Not looked at"), N_("Too few or too many figures cost nothing and are not told.")),
        Option("remark", N_("Told"), N_("Too few or too many figures cost nothing, and feedback tells them.")),
        Option("deduct", N_("Cost points"), N_("Too few or too many figures cost the share of a deduction.")),
    )),
    Setting("policy.last_digit", N_("One off in the last digit"), "choice", options=(
        Option("accept", N_("Right"), N_("One unit of the last digit beside the window is right.")),
        Option("remark", N_("Right, and told"), N_("It is right, and feedback tells of the last digit.")),
        Option("refuse", N_("Wrong"), N_("It is judged as any answer beside the window.")),
    )),
    Setting("policy.missing_unit", N_("A number without its unit"), "choice", options=(
        Option("accept", N_("Right"), N_("A bare number is taken in the unit that is asked for.")),
        Option("remark", N_("Right, and told"), N_("It counts in full, and feedback asks for the unit.")),
        Option("deduct", N_("Costs points"), N_("It costs the share of a deduction.")),
    )),
    Setting("policy.deduction", N_("A deduction"), "share", N_("What costs points takes {n} % of the part's.")),
    Setting("policy.follow_through", N_("Follows from an earlier error"), "share",
            N_("What follows rightly from a wrong answer gets {n} %: at 100 % an error is paid once.")),
    Setting("policy.unit_slip", N_("Slip of unit, sign or power of ten"), "share",
            N_("Such a slip gets {n} % of the points.")),
    Setting("policy.rounded_early", N_("Rounded too early"), "share",
            N_("The right way with numbers cut on it gets {n} % of the points.")),
    Setting("policy.named_mistake", N_("A usual mistake"), "share",
            N_("What a usual mistake leads to gets {n} %; feedback calls it by its name.")),
    Setting("policy.widen_percent", N_("Wider windows"), "percent",
            N_("Answers up to {n} % of the value beyond the derived window are right.")),
    Setting("policy.replace_percent", N_("Windows of your own"), "percent",
            N_("Within ± {n} % of the exact value is right; the derived window does not count."),
            N_("The derived window counts.")),
    Setting("attempts.number", N_("Attempts"), "count",
            N_("Attempts of each student: {n}. Every one has numbers of its own.")),
    Setting("attempts.counts", N_("Which attempt counts"), "choice", options=(
        Option("last", N_("The last"), N_("What was handed in last counts.")),
        Option("best", N_("The best"), N_("The best one counts: trying again cannot harm.")),
        Option("mean", N_("The mean"), N_("The mean of all attempts counts.")),
    )),
    Setting("gradebook.drop_lowest", N_("Lowest problems dropped"), "count",
            N_("Of a student's problems the weakest are left out of the sum: {n}.")),
))  # fmt: skip

GROUPS = (_PRINTING, _MARKING)
"""All settings, as the page shows them."""

KEYS = ("language", "course", *(one.key for group in GROUPS for one in group.settings))
"""The keys that the page writes, those that it shows beside the title among them."""


def written_value(setting: Setting | None, text: str) -> str:
    """A value of the page as TOML has it; a share in percent becomes a share of one. It is checked where it is read."""
    if setting is None or setting.how == "choice":
        return _quoted(text)
    if setting.how == "flag":
        return text if text in ("true", "false") else _quoted(text)
    if not _NUMBER.fullmatch(text):
        return _quoted(text)
    return f"{(Decimal(text) / 100).normalize():f}" if setting.how == "share" else text


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(one if one.isprintable() else " " for one in escaped) + '"'


def shown_value(setting: Setting, value: Any) -> str:
    """A value of a record as the page shows it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if setting.how in ("share", "percent"):
        number = Fraction(value) * (100 if setting.how == "share" else 1)
        return plain_text(number, -4).rstrip("0").rstrip(".")
    return str(value)


def consequence(setting: Setting, value: str) -> str:
    """What follows from a value, in a sentence."""
    if setting.how in ("choice", "flag"):
        return next((_(one.so) for one in setting.options if one.value == value), "")
    return _(setting.so).format(n=value) if value else _(setting.unsaid)
