from __future__ import annotations

import re
from pathlib import Path

import pytest

import problemgen.practice
from problemgen.practice.modules import joined

ASSETS = Path(problemgen.practice.__file__).parent / "assets"

A = 'import { b, c } from "./b.js";\n\nexport const a = b + c;\n'
B = 'import { c } from "./c.js";\nexport function b() { return c; }\nlet inside = 1;\n'
C = "export class c {}\n"


def test_modules_stand_behind_those_that_they_import() -> None:
    text = joined({"a.js": A, "b.js": B, "c.js": C, "unused.js": "export const a = 1;\n"}, "a.js")
    assert text == "class c {}\nfunction b() { return c; }\nlet inside = 1;\n\nconst a = b + c;\n"


@pytest.mark.parametrize(
    ("modules", "refusal"),
    [
        ({"b.js": B, "c.js": C}, "the page imports a.js, which is missing"),
        ({"a.js": A, "b.js": B}, "b.js imports c.js, which is missing"),
        (
            {"a.js": A, "b.js": B, "c.js": C + 'import { a } from "./a.js";\n'},
            "modules import each other: a.js → b.js → c.js → a.js",
        ),
        ({"a.js": A, "b.js": B, "c.js": C + "const inside = 2;\n"}, "inside is declared in c.js and in b.js"),
        (
            {"a.js": 'import x from "./c.js";\n'},
            "a.js: 'import x from \"./c.js\";' is no import or export that can be joined",
        ),
        ({"a.js": "export default 1;\n"}, "a.js: 'export default 1;' is no import or export that can be joined"),
        ({"a.js": "export { a };\n"}, "a.js: 'export { a };' is no import or export that can be joined"),
    ],
)
def test_what_cannot_be_joined_is_refused(modules: dict[str, str], refusal: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(refusal)}$"):
        joined(modules, "a.js")


def test_every_module_is_used_and_so_is_all_that_it_exports() -> None:
    texts = {path.name: path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js")}
    imports = [one for text in texts.values() for one in re.findall(r'^import \{([^}]*)\} from "\./(.*)";', text, re.M)]
    used = {(name, module) for names, module in imports for name in re.findall(r"\w+", names)}
    exported = {
        (name, module)
        for module, text in texts.items()
        for name in re.findall(r"^export (?:async )?(?:function\*?|class|const|let) (\w+)", text, re.M)
    }
    assert exported - used == {("startApp", "app.js")}
    assert texts.keys() - {module for _, module in imports} == {"app.js"}
