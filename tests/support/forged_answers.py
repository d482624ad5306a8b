"""answers.json with something else in it than what was built, and a digest that fits all the same."""

from __future__ import annotations

import copy
import hashlib
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

__all__ = ["forged", "in_lines", "parsed"]

_HUGE = "1e99999999999"
_LONG = "9" * 5000
_ODD: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 10**30, 10**400, 1.5, [], {}, [[]]),
    *("", "x", "0", "-1", "1/0", "1/3", _HUGE, f"-{_HUGE}", "1e999", "1e-999", "9" * 200, _LONG, f"1/{_LONG[:4000]}"),
    *("NaN", "Infinity", "p1", "p99", "1a", "99z", "number", "species", "formula", "equation", "chromate", "mol", "kg"),
    *("%", "1", "H2O", "C99999999H99999999", "silver-nitrate", "no such id", "mass(water)", "\0", "=1+1", "<b>"),
    *("a" * 10_000, ["num", _HUGE], ["num", "9" * 200], ["pow", ["num", "10"], 999999999], ["round", ["num", "1/2"]]),
    *(["div", ["num", "1"], ["num", "0"]], ["whole", 99, ["num", "1"]], ["min", ["num", "1"]], {"choice": "nobody"}),
    *({"text": "H2O"}, {"written": "1.0", "unit": "furlong"}, {"written": "0", "unit": "mL"}),
    {"value": "1", "low": _HUGE, "high": "2", "figures": 3, "printed": "1"},
    {"value": "1", "low": "2", "high": "0", "figures": 10**9, "printed": "1"},
)


def parsed(path: Path) -> dict[str, Any]:
    """A built answers.json as plain data."""
    data: dict[str, Any] = json.loads(path.read_bytes())
    return data


def in_lines(data: dict[str, Any]) -> bytes:
    """The data in the lines of an answers.json, with the digest worked out again."""
    students = data["students"]
    rest = {key: value for key, value in data.items() if key not in ("students", "digest", "signature")}
    first = _text(rest)[:-1] + ',"students":[\n'
    lines = ",\n".join(map(_text, students))
    body = (first + lines).encode("utf-8", "surrogatepass")
    return body + f'\n],"digest":"sha256:{hashlib.sha256(body).hexdigest()}","signature":""}}\n'.encode()


def _text(value: Any) -> str:
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def forged(sound: dict[str, Any], count: int, seed: int) -> Iterator[tuple[str, dict[str, Any]]]:
    """So many forged ones, each with what was done to it: one to three places have something else in them."""
    chance = random.Random(seed)  # noqa: S311 - no key is drawn
    for _ in range(count):
        data, told = copy.deepcopy(sound), []
        for _ in range(chance.choice((1, 1, 1, 2, 3))):
            # Half of the changes are among the students: the head has most of the places.
            top = ("students",) if chance.random() < 0.4 and data["students"] else ("head",)
            told.append(_changed(data, chance.choice(list(_places(data[top[0]], top))), chance))
        yield "; ".join(told), data


def _places(value: Any, at: tuple[str | int, ...]) -> Iterator[tuple[str | int, ...]]:
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inside:
        yield (*at, key)
        yield from _places(one, (*at, key))


def _changed(data: Any, place: tuple[str | int, ...], chance: random.Random) -> str:
    """Change one place; what was done."""
    *way, last = place
    for key in way:
        data = data[key]
    act = chance.choice(("odd", "odd", "odd", "odd", "delete", "twice", "swap", "rename", "shuffle"))
    if act == "delete":
        del data[last]
    elif act == "swap":
        other = chance.choice([*data] if isinstance(data, dict) else range(len(data)))
        data[last], data[other] = data[other], data[last]
    elif act == "shuffle" and isinstance(data[last], list):
        chance.shuffle(data[last])
    elif act == "twice" and isinstance(data, list):
        data.append(copy.deepcopy(data[int(last)]))
    elif act == "rename" and isinstance(data, dict):
        data[str(chance.choice(_ODD))[:50]] = data.pop(last)
    else:
        data[last] = copy.deepcopy(chance.choice(_ODD))
        act = f"{str(data[last])[:60]} in"
    return f"{act} {'.'.join(map(str, place))}"
