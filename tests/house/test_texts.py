"""What the files of the project say: no places of a machine, no hosts, no promises about a door."""

from __future__ import annotations

import ast
import re
import tomllib

import pytest

from .tree import ROOT, SOURCE, parsed, sources, texts, tracked, where

# Written in pieces, so that this file does not find itself.
HOSTS = ["py" + "pi.org", "files." + "pythonhosted"]
PLACES = [r"(?<![\w.~])/" + name + "/" for name in ("root", r"home/\w+", r"Users/\w+", "tmp", "work", "mnt", "opt")]
PROMISES = ["safe", "compliant", "certified", "approved", "guaranteed"]
FORBIDDEN = re.compile("|".join([*map(re.escape, HOSTS), *PLACES]))
PROMISE = re.compile(rf"\b({'|'.join(PROMISES)})\b", re.IGNORECASE)
# Where such a word is not said of a door: what precedes or follows it.
ALLOWED = re.compile(
    r"\bnever counts as safe\b|\bmaking safe\b|\bnot (?:an approval|approved)\b|\bOperation Safe Gate\b",
    re.IGNORECASE,
)


def test_no_place_of_a_machine_and_no_host_in_any_file():
    found = [f"{where(path)}: {match[0]}" for path, text in texts() for match in FORBIDDEN.finditer(text)]
    assert not found


def spoken() -> list[tuple[str, str]]:
    """What the product can say: strings of its code but docstrings, and the texts of its tables."""
    said = []
    for path in sources():
        tree = parsed(path)
        quiet = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        said += [
            (where(path, node), node.value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in quiet
        ]
    for path in sorted(SOURCE.rglob("*.toml")):
        said += [(where(path), text) for text in strings(tomllib.loads(path.read_text(encoding="utf-8")))]
    return said


def strings(value: object) -> list[str]:
    """The texts inside a table, keys left out."""
    if isinstance(value, str):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return [text for each in inner for text in strings(each)]


def test_the_product_promises_nothing_about_a_door():
    promised = [f"{place}: {text!r}" for place, text in spoken() if PROMISE.search(ALLOWED.sub("", text))]
    assert not promised, "say what is met, not met, not tested, not known, told by whom"


def test_lock_files_carry_hashes_and_no_address():
    for path in sorted((ROOT / "requirements").glob("*.lock")):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"://|--(?:index|extra-index|find-links|trusted)", text), where(path)
        pins = re.split(r"\n(?=[A-Za-z0-9])", text)[1:]
        assert pins
        assert not [pin.split()[0] for pin in pins if "--hash=sha256:" not in pin]


KINDS = {"added", "changed", "fixed", "numbers"}


def test_changelog_fragments_are_of_a_known_kind():
    folder = ROOT / "changelog.d"
    fragments = [path for path in tracked() if path.parent == folder and path.name != "README.md"]
    wrong = [
        path.name for path in fragments if not re.fullmatch(rf"[a-z0-9-]+\.(?:{'|'.join(KINDS)})\.md", path.name)
    ]
    assert not wrong
    assert all(path.read_text(encoding="utf-8").strip() for path in fragments)


@pytest.mark.parametrize("page", ["README.md", "CONTRIBUTING.md"])
def test_a_page_names_only_commands_that_exist(page):
    targets = set(re.findall(r"^([a-z][a-z-]*):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    in_code = set(
        re.findall(r"^\s*make ([a-z-]+)|`make ([a-z-]+)`", (ROOT / page).read_text(encoding="utf-8"), re.M)
    )
    assert {first or second for first, second in in_code} <= targets
    assert in_code


def packages(name: str) -> set[str]:
    """The packages that a file of requirements asks for."""
    lines = (ROOT / "requirements" / name).read_text(encoding="utf-8").splitlines()
    return {re.split(r"[\[<>=]", line.strip())[0] for line in lines if line.strip() and line[0] not in "#-"}


def test_every_dependency_has_one_line_saying_what_for_and_what_else():
    text = (ROOT / "docs" / "dependencies.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([\w.-]+) \| ([^|]{8,}) \| ([^|]{3,}) \|$", text, flags=re.MULTILINE)
    names = [name for name, *_ in rows if name != "package"]
    assert len(set(names)) == len(names)
    assert set(names) == packages("run.in") | packages("dev.in")


def test_the_project_file_asks_for_what_is_locked():
    from .tree import project

    asked = {re.split(r"[\[<>=]", name)[0] for name in project()["project"]["dependencies"]}
    assert asked == packages("run.in")


def test_the_builders_that_make_installs_are_all_there_and_pinned():
    """An installation for `make study` takes the builder of the package, and what it needs, from dev.lock."""
    from importlib.metadata import requires

    (line,) = re.findall(r"^BUILDERS := (.*)$", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE)
    named = set(line.split())
    asked = {text for name in named for text in requires(name) or [] if "extra ==" not in text}
    needed = {re.split(r"[^\w.-]", text)[0] for text in asked if not re.search(r"python_version ?<", text)}
    pinned = set(re.findall(r"^([\w.-]+)==", (ROOT / "requirements/dev.lock").read_text(encoding="utf-8"), re.M))
    assert needed <= named <= pinned
