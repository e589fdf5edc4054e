"""Files that mean harm are refused in plain words, in little time, and leave nothing behind."""

from __future__ import annotations

import io
import time
import zipfile
from typing import Any

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from sillwright.survey.questions import further, questions
from sillwright.web.records.models import Event, Observation, Opening, Site

from .conftest import World

HEAD = "format: sillwright-survey/1\nsite: {name: Quay, country: US}\n"
SCRIPT = "<script>alert(document.cookie)</script>"


def sent(world: World, content: bytes, name: str = "survey.yaml", more: bool = False) -> Any:
    address = f"/sites/{world.site.pk}/take-in/" if more else "/sites/take-in/"
    return world.client("owner").post(address, {"file": SimpleUploadedFile(name, content)})


def bomb() -> bytes:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    return "\n".join(lines).encode()


def packed(**parts: bytes) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name.replace("__", "/") + ".xml", content)
    return target.getvalue()


def workbook(cell: str, name: str = "Quay") -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Openings"
    for row in (["tag", "door.serial"], ["unit", None], ["Q1", cell]):
        sheet.append(row)
    place = book.create_sheet("Site")
    for pair in (("key", "value"), ("name", name), ("country", "US")):
        place.append(pair)
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


HOSTILE = {
    "references that double": (bomb(), "aliases are not read"),
    "one reference": (b"format: &f sillwright-survey/1\nsite: *f\n", "aliases are not read"),
    "a tag of another language": (b"!!python/object/apply:os.system ['true']", "tags are not read"),
    "an archive that unpacks to a gigabyte": (
        packed(xl__workbook=b"0" * 200_000_000),
        "unpacks to more than 2.5 MB",
    ),
    "three megabytes": (HEAD.encode() + b"# " + b"x" * 3_000_000, "larger than 2 MB"),
    "junk": (bytes(range(256)) * 40, "not a text file"),
    "an old workbook": (b"\xd0\xcf\x11\xe0" + b"\0" * 600, "old or encrypted workbook"),
    "an archive that is none": (b"PK\x03\x04" + b"\xff" * 300, "not a workbook"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + b"\0" * 100, "not a text file"),
    "nothing": (b"", "empty"),
    "a formula": (workbook("=1+1"), "a formula"),
    "nesting without end": (b"[" * 100_000, "not valid YAML"),
    "two documents": (HEAD.encode() + b"openings: []\n---\n" + HEAD.encode(), "a second document begins here"),
    "text of another alphabet's bytes": ("format: é".encode("utf-16"), "not a text file"),
}


@pytest.mark.parametrize("more", [False, True], ids=["new site", "more"])
@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_plainly_and_leaves_nothing(world: World, name: str, more: bool) -> None:
    content, said = HOSTILE[name]
    before = _counts()
    began = time.monotonic()
    answer = sent(world, content, "survey.xlsx" if "workbook" in name else "survey.yaml", more)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "nothing was changed" in page or "Choose a survey file first" in page
    assert said in page.replace("&#x27;", "'")
    assert len(page) < 60_000
    assert time.monotonic() - began < 10
    assert _counts() == before


def _counts() -> tuple[int, ...]:
    return tuple(each.objects.count() for each in (Site, Opening, Observation, Event))


def test_an_upload_beyond_every_measure_is_refused(world: World) -> None:
    answer = sent(world, b"x" * 17_000_000)
    assert answer.status_code == 422
    assert Site.objects.count() == 1


def test_a_script_in_every_fact_is_shown_as_text_wherever_it_is_shown(world: World) -> None:
    words = f'"{SCRIPT}"'
    plain = [each.path for each in (*questions(), *further()) if each.spec.kind == "text"]
    facts = [path for path in plain if "*" not in path and not path.startswith("site.") and path != "tag"]
    tree: dict[str, Any] = {}
    for path in facts:
        here = tree
        *groups, last = path.split(".")
        for group in groups:
            here = here.setdefault(group, {})
        here[last] = words
    content = f"format: sillwright-survey/1\nsite: {{name: {words}, country: US}}\nopenings:\n  - tag: {words}\n"
    tree["statements"] = f"[{words}]"
    tree.setdefault("use", {})["traffic"] = f"[{{who: {words}}}]"
    content += _lines(tree, 4)
    answer = sent(world, content.encode())
    site = Site.objects.get(name=SCRIPT)
    opening = site.openings.get(tag=SCRIPT)
    client = world.client("owner")
    assert answer.status_code == 302
    assert len(facts) > 15
    here, there = f"/sites/{site.pk}/", f"/openings/{opening.pk}/"
    pages = ["/", here, f"{here}facts/", f"{here}sharing/", f"{here}name/", f"{here}take-in/", f"{here}papers/"]
    pages += [f"{here}openings/new/", there, f"{there}facts/", f"{there}name/", f"{there}list/statements/"]
    for address in pages:
        page = client.get(address).content.decode()
        assert "<script>alert" not in page, address
        assert "&lt;script&gt;alert" in page, address
    said = client.get(f"{there}headline.json")
    assert said.headers["Content-Type"] == "application/json"
    for name in ("survey.yaml", "survey.xlsx"):
        assert client.get(f"{here}{name}").headers["X-Content-Type-Options"] == "nosniff"


def _lines(tree: dict[str, Any], indent: int) -> str:
    return "".join(
        f"{' ' * indent}{key}: {inner}\n"
        if isinstance(inner, str)
        else f"{' ' * indent}{key}:\n{_lines(inner, indent + 2)}"
        for key, inner in tree.items()
    )


def test_a_script_in_a_wrong_file_is_shown_as_text(world: World) -> None:
    for content in (
        f"format: '{SCRIPT}'\n",
        f"{HEAD}openings: [{{tag: A, '{SCRIPT}': '{SCRIPT}', door: {{kind: '{SCRIPT}'}}}}]",
    ):
        page = sent(world, content.encode(), f"{SCRIPT}.yaml").content.decode()
        assert "<script>alert" not in page
        assert "&lt;script&gt;" in page
    page = sent(world, workbook(f"={SCRIPT}"), "x.xlsx").content.decode()
    assert "<script>alert" not in page


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (
            f"format: sillwright-survey/1\nsite: {{name: {'x' * 300}, country: US}}\nopenings: []",
            "A name has at most 200",
        ),
        (f"{HEAD}openings: [{{tag: {'x' * 150}}}]", "A name has at most 100"),
        (f'{HEAD}openings: [{{tag: "A  1"}}, {{tag: "A 1"}}]', "has an opening “A 1” already"),
        (f'{HEAD}openings: [{{tag: A, name: "a\\x7f"}}]', "A name: typed: the sign U+007F cannot be kept."),
    ],
)
def test_what_the_log_cannot_keep_is_refused_as_a_whole(world: World, content: str, said: str) -> None:
    before = _counts()
    answer = sent(world, content.encode())
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert _counts() == before
