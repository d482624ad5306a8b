"""What each command takes. Nothing that a command needs is loaded here: help is told at once."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path

from problemgen.language.languages import ENGLISH, LANGUAGES

__all__ = ["COMMANDS", "HERE", "parser"]

HERE = "."
"""What a command takes for the folder of a course where none is named."""

_STUDENTS = 1000  # what one in three hundred would meet is missed in one template of thirty (0.9967¹⁰⁰⁰ = 4 %)
_VARIANTS = 40  # of a problem: more than anybody practises of one; no other reason
_READING = """Shows how a marked cell is read. Number and unit belong together and are as written: the number in plain
decimal notation (a fraction to twelve figures), the unit in its usual spelling; --unit decides whether the dimension
is right. Status: number; ambiguous (1,234: read by the decimal mark); wrong_dimension; unreadable (blank cells too).
Figures are the significant figures written; a fraction has none. Exit code 0, whatever is read."""
_DASH = "A text that starts with - and is no plain number goes behind --, as in: problemgen read -- -5g"
_ADDING = (
    "Adds to the course of the current folder. At a terminal it asks, and an empty answer is the proposal; elsewhere "
    "the proposals are taken, and what is left to fill in is told."
)
_SOLVING = (
    "Solve problems with fixed numbers, and judge the answers that are given with them as a student's are judged. "
    "A problem names its quantities in the terms of templates: README shows one, and the docstring of "
    "problemgen/load/problems/fixed_problems.py is the reference."
)


def parser() -> argparse.ArgumentParser:
    """The parser of all commands: the namespace has `module`, the command's in `problemgen.commands`."""
    whole = argparse.ArgumentParser(
        prog="problemgen", description="Auto-graded stoichiometry problem sets for the chemistry laboratory."
    )
    commands = whole.add_subparsers(required=True, metavar="COMMAND")
    for name, (module, about, add_arguments) in COMMANDS.items():
        one = commands.add_parser(name, help=about)
        one.set_defaults(module=module, wrong_usage=one.error)
        add_arguments(one)
    return whole


def _build(one: argparse.ArgumentParser) -> None:
    one.add_argument("set", type=Path, metavar="SET", help="a set: its folder, or its name in `list`")
    one.add_argument("--out", type=_place, required=True, metavar="FOLDER", help="where to write")
    who = one.add_mutually_exclusive_group()
    who.add_argument("--roster", type=Path, metavar="FILE", help="another roster than the set's or the course's")
    mapping = "how the roster names our columns (id, name, first name, last name, section): CSV with ours, theirs"
    one.add_argument("--columns", type=Path, metavar="FILE", help=mapping)
    who.add_argument("--count", type=_count, metavar="N", help="N variants without names")
    again = "replace the files of an earlier run: printed numbers and typed answers stay"
    one.add_argument("--replace", action="store_true", help=again)
    anew = "draw this problem anew although its numbers are printed, by its number or name; again for another"
    one.add_argument("--redraw", action="append", default=[], metavar="PROBLEM", help=anew)
    lost = "the secret of the earlier run is lost: keep what is printed, and go on with another one"
    one.add_argument("--new-secret", action="store_true", help=lost)
    shown = "the set has a secret that comes with the program: build it all the same, for nobody's marks"
    one.add_argument("--demonstration", action="store_true", help=shown)
    one.add_argument("--session", type=_count, metavar="N", help="print the sheets of one session alone")
    one.add_argument("--section", metavar="NAME", help="print the sheets of one section alone")
    layout = "with lines for the working, or two columns without (default: what set.toml says, else roomy)"
    one.add_argument("--layout", choices=("roomy", "compact"), help=layout)
    worked = "also write worked-key.pdf: the worked solution of every variant"
    one.add_argument("--worked-key", action="store_true", help=worked)
    screen = "also write fill-in/ID.pdf: the sheet with a field at every blank, which `collect` reads"
    one.add_argument("--fill-in", action="store_true", help=screen)
    book = "also write workbooks/ID.xlsx: numbers, and cells for the answers, which `collect` reads"
    one.add_argument("--workbook", action="store_true", help=book)
    slip = "also write slips/ and slips.pdf: a page a student with all blanks, to be handed in alone"
    one.add_argument("--slip", action="store_true", help=slip)
    _add_workers(one)
    _add_quiet(one)


def _grade(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    answers = "the students' answers, CSV or .xlsx; several files where sections or graders have one each"
    one.add_argument("responses", type=Path, nargs="+", metavar="FILE", help=answers)
    where = "where to write (default: FOLDER/grades; with --anonymous, FOLDER/grades-anonymous)"
    one.add_argument("--out", type=_place, metavar="FOLDER", help=where)
    one.add_argument("--replace", action="store_true", help="replace the grades of an earlier run")
    one.add_argument("--without-solutions", action="store_true", help="feedback without the worked solutions")
    one.add_argument("--no-pdf", action="store_true", help="feedback as pages for the browser alone")
    mapping = "how tables name our columns: CSV with ours, theirs, perhaps file (default: columns.csv of FOLDER)"
    one.add_argument("--columns", type=Path, metavar="FILE", help=mapping)
    _add_overrides(one, "FOLDER")
    _add_means(one, "FOLDER")
    _add_set(one)
    codes = "codes in the place of names and ids; codes.csv tells which is whose"
    one.add_argument("--anonymous", action="store_true", help=codes)
    names = "feedback under file names that nobody can guess; mail-merge.csv tells whose each is"
    one.add_argument("--unguessable", action="store_true", help=names)
    _add_workers(one)
    _add_quiet(one)


def _collect(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    back = "what came back: a folder or an archive (.zip), with any names and sub-folders"
    one.add_argument("returns", type=Path, metavar="RETURNS", help=back)
    where = "the table of answers to write, which `grade` reads; beside it stands NAME-unread.csv"
    one.add_argument("--out", type=_place, required=True, metavar="FILE", help=where)
    one.add_argument("--replace", action="store_true", help="replace the files of an earlier run")
    _add_quiet(one)


def _follow_up(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    answers = "the students' answers, as for grade (default: FOLDER/responses.csv)"
    one.add_argument("responses", type=Path, nargs="*", metavar="FILE", help=answers)
    one.add_argument("--out", type=_place, required=True, metavar="NEXT", help="the folder of the follow-up set")
    one.add_argument("--for-all", action="store_true", help="a harder problem for who had all right")
    one.add_argument("--replace", action="store_true", help="replace the follow-up set of an earlier run")
    _add_overrides(one, "FOLDER")
    _add_means(one, "FOLDER")
    _add_set(one)
    _add_quiet(one)


def _explain(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="SET", help="the folder of the built set")
    one.add_argument("student", metavar="STUDENT", help="the student's id")
    one.add_argument("part", nargs="?", default="", metavar="PART", help="one part, for example 1a (default: all)")
    answers = "the answers, in one file or several (default: SET/responses.csv)"
    one.add_argument("--responses", type=Path, nargs="+", metavar="FILE", help=answers)
    _add_overrides(one, "SET")
    _add_means(one, "SET")
    _add_set(one)
    one.add_argument("--attempt", type=_count, default=1, metavar="N", help="which attempt (default: 1)")


def _key(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="SET", help="the folder of the built set")
    one.add_argument("student", metavar="STUDENT", help="the student's id")
    one.add_argument("--attempt", type=_count, default=1, metavar="N", help="which attempt (default: 1)")
    measured = "the answers, where the student's own measured values stand"
    one.add_argument("--responses", type=Path, metavar="FILE", help=measured)
    one.add_argument("--out", type=_place, metavar="FILE", help="where to write (default: SET/worked-key-ID.pdf)")
    one.add_argument("--replace", action="store_true", help="replace an earlier file")


def _read(one: argparse.ArgumentParser) -> None:
    one.description, one.epilog = _READING, _DASH
    one.add_argument("texts", nargs="*", metavar="TEXT", help="the answers (default: a line each of standard input)")
    one.add_argument("--unit", metavar="U", help="the unit asked for (default: the unit written)")
    mark = "the decimal mark of the sheet, . or , (default: .): decides about 1,234"
    one.add_argument("--decimal-mark", choices=(".", ","), default=".", metavar="MARK", help=mark)
    one.add_argument("--json", action="store_true", help="print one JSON object a line")


def _practice(one: argparse.ArgumentParser) -> None:
    one.add_argument("names", nargs="*", metavar="TEMPLATE|TOPIC", help="what to practise, files too (default: all)")
    one.add_argument("--out", type=_place, required=True, metavar="FILE", help="the file to write: practice.html")
    variants = f"variants of each (default: {_VARIANTS})"
    one.add_argument("--variants", type=_count, default=_VARIANTS, metavar="N", help=variants)
    titled = "the page's title (default: Stoichiometry, in the language of the page)"
    one.add_argument("--title", default="", metavar="TEXT", help=titled)
    one.add_argument("--language", choices=LANGUAGES, default=ENGLISH, help="the language of the page (default: en)")
    one.add_argument("--seed-words", metavar="WORDS", help="the same words make the same page again")
    one.add_argument("--replace", action="store_true", help="replace an earlier file")
    _add_workers(one)
    _add_quiet(one)


def _solve(one: argparse.ArgumentParser) -> None:
    one.description = _SOLVING
    one.add_argument("file", type=Path, metavar="FILE", help="the problems: a JSON list, or one object")
    one.add_argument("--check", action="store_true", help="exit with 1 if any given answer is not accepted")
    one.add_argument("--json", action="store_true", help="print JSON")


def _check(one: argparse.ArgumentParser) -> None:
    one.add_argument(
        "paths",
        type=Path,
        nargs="*",
        metavar="PATH",
        help="templates, sets, a course (default: the course you are in, or all)",
    )
    _add_quiet(one)


def _audit(one: argparse.ArgumentParser) -> None:
    one.add_argument("templates", nargs="*", metavar="TEMPLATE", help="files, ids or topics (default: all)")
    one.add_argument("--students", type=_count, default=_STUDENTS, metavar="N", help=f"a template ({_STUDENTS})")
    words = "other words, other numbers and habits"
    one.add_argument("--seed-words", default="simulated students", metavar="WORDS", help=words)
    one.add_argument("--json", action="store_true", help="one JSON document in the place of the tables")
    _add_quiet(one)


def _sample(one: argparse.ArgumentParser) -> None:
    one.add_argument("template", metavar="TEMPLATE", help="a template's file, or its name in `list`")
    one.add_argument("-n", type=_count, default=3, metavar="N", help="how many (default: 3)")


def _list(one: argparse.ArgumentParser) -> None:
    one.add_argument("words", nargs="*", metavar="WORD", help="only what has all these words")
    what = one.add_mutually_exclusive_group()
    for name in ("substances", "reactions", "bottles", "glassware"):
        about = f"the {name} of the bank"
        what.add_argument(f"--{name}", dest="what", action="store_const", const=name, help=about)
    one.set_defaults(what="templates")


def _new(one: argparse.ArgumentParser) -> None:
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder to make: it must not hold anything yet")


def _desk(one: argparse.ArgumentParser) -> None:
    here = "the folder of a course (default: the one you are in); where there is none, the page makes one"
    one.add_argument("course", nargs="?", default=HERE, metavar="COURSE", help=here)
    one.add_argument("--port", type=_port, default=0, metavar="N", help="the port (default: any that is free)")
    one.add_argument("--no-browser", action="store_true", help="show the link, and open no browser")


def _copy(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", metavar="TEMPLATE|SET", help="what to copy, by its name in `list`")
    here = "the course (default: the one you are in)"
    one.add_argument("into", type=Path, nargs="?", default=Path(), metavar="COURSE", help=here)


def _add_overrides(one: argparse.ArgumentParser, folder: str) -> None:
    decided = f"""your own decisions: CSV with student (* for all), part (or problem, or nothing for the sheet), points
        (or 'bonus 1', or 'drop'), reason (default: {folder}/overrides.csv of the built set, if any)"""
    one.add_argument("--overrides", type=Path, metavar="FILE", help=decided)


def _add_set(one: argparse.ArgumentParser) -> None:
    ruled = "the folder of the set, whose set.toml tells policies and points (default: where it was built from)"
    one.add_argument("--set", type=Path, metavar="FOLDER", dest="set_folder", help=ruled)


def _add_means(one: argparse.ArgumentParser, folder: str) -> None:
    meant = f"what cells mean that cannot be read: CSV with written, means (default: {folder}/means.csv, if any)"
    one.add_argument("--means", type=Path, metavar="FILE", help=meant)


def _add(one: argparse.ArgumentParser) -> None:
    one.description = _ADDING
    kinds = one.add_subparsers(required=True, metavar="KIND", dest="what")
    substance = kinds.add_parser("substance", help="look up a substance, offline, and write it into the course's bank")
    substance.add_argument("name_or_number", metavar="NAME", help="its name, its CAS number, or a SMILES")
    for name, metavar, about in _OF_SUBSTANCE:
        substance.add_argument(f"--{name}", default="20 °C" if name == "at" else "", metavar=metavar, help=about)
    reaction = kinds.add_parser("reaction", help="balance a reaction in words; substances that are missing are added")
    reaction.add_argument("equation", metavar="EQUATION", help='"2-methylfuran + maleic anhydride -> adduct"')
    for name, metavar, about in _OF_REACTION:
        reaction.add_argument(f"--{name}", default="", metavar=metavar, help=about)
    template = kinds.add_parser("template", help="write the template of a reaction, with ranges on its scale")
    template.add_argument("reaction", metavar="REACTION", help="a reaction's id in `list --reactions`, or its product")
    template.add_argument("--set", default="", metavar="SET", help="a set of the course that it is added to")


_OF_SUBSTANCE = (
    ("name", "NAME", "what sheets call it (default: as typed)"),
    ("formula", "FORMULA", "its formula, where the tables do not have it or you write it otherwise"),
    ("smiles", "SMILES", "its structure, where the tables do not have it"),
    ("state", "STATE", "solid, liquid or gas at 25 °C"),
    ("density", "NUMBER", "of a liquid, g/mL"),
    ("at", "TEXT", "the temperature of the density (default: 20 °C)"),
    ("concentration", "NUMBER", "it is sold as a solution of so many mol/L"),
    ("solvent", "NAME", "the solvent of that solution, where it is not water"),
    ("hazards", "TEXT", 'signal word and codes of its safety data sheet: "Danger H225 H319"'),
)
_OF_REACTION = (
    ("id", "ID", "its id (default: the product's)"),
    ("product-name", "NAME", "what the one product is called that nothing is known of"),
    ("product-formula", "FORMULA", "its formula (default: the atoms left over)"),
    ("product-smiles", "SMILES", "its structure"),
    ("scale", "RANGE", 'mmol of product, "5 to 20" (default: about 2 g)'),
    ("above", "TEXT", 'what stands above its arrow: "NaOH (catalyst), ethanol"'),
    ("below", "TEXT", 'what stands below it: "room temperature"'),
    ("auxiliaries", "NAMES", 'what else is in the flask, so that sheets warn of it: "sodium hydroxide; ethanol"'),
)


def _add_workers(one: argparse.ArgumentParser) -> None:
    shared = """how many processes share the work (default: one a processor); each takes about 200 MB of memory, and the
        files are the same"""
    one.add_argument("--workers", type=_count, metavar="N", help=shared)


def _add_quiet(one: argparse.ArgumentParser) -> None:
    one.add_argument("--quiet", action="store_true", help="no progress, no remarks; errors only")


def _place(text: str) -> Path:
    """A path to write to; an empty one is a variable of a shell that is not set."""
    if not text.strip():
        raise argparse.ArgumentTypeError("an empty name; a file or folder is needed")
    return Path(text)


def _count(text: str) -> int:
    """A whole number from 1 to 100000; raises argparse.ArgumentTypeError."""
    if not text.isascii() or not text.isdecimal() or not 0 < int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to 100000")
    return int(text)


def _port(text: str) -> int:
    """A port that needs no rights, or 0 for any; raises argparse.ArgumentTypeError."""
    if not text.isascii() or not text.isdecimal() or (text != "0" and not 1024 <= int(text) <= 65_535):
        raise argparse.ArgumentTypeError(f"{text!r} is not a port from 1024 to 65535")
    return int(text)


COMMANDS: Mapping[str, tuple[str, str, Callable[[argparse.ArgumentParser], None]]] = {
    "desk": ("desk", "open the page for instructors in the browser: prepare, print, mark", _desk),
    "new": ("new", "make the folder of a course, with a small set that builds at once", _new),
    "copy": ("copy", "copy a template or a set that comes with the program into a course", _copy),
    "add": ("add", "add a substance, a reaction or a template of your own to a course", _add),
    "build": ("build", "make the sheets, the key and answers.json of a set", _build),
    "collect": ("collect", "take the answers out of sheets and workbooks that came back", _collect),
    "grade": ("grade", "mark the responses to a built set", _grade),
    "follow-up": (
        "follow_up",
        "make the set of the week after: to each what they got wrong, in new problems",
        _follow_up,
    ),
    "explain": ("explain", "tell why a student's parts were given their points (shows the key)", _explain),
    "key": ("key", "write the worked solution of one student's variants", _key),
    "read": ("read", "show how answers are read: number, unit, figures, or why not", _read),
    "practice": ("practice", "make one file in which students practise, offline", _practice),
    "solve": ("solve", "solve problems with fixed numbers", _solve),
    "check": ("check", "check templates, sets and banks: all faults at once", _check),
    "audit": ("audit", "simulate students: honest work is accepted, no mistake is rewarded", _audit),
    "sample": ("sample", "show some variants of a template with their worked solutions", _sample),
    "list": ("listing", "list templates and sets by topic, or the banks' entries", _list),
}
"""Each command's module in `problemgen.commands`, what it does, and what adds its arguments."""
