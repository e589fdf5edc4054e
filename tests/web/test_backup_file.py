"""The file of a backup: whatever was done to it, it is read whole or refused, and nothing is written outside."""

from __future__ import annotations

import gzip
import io
import json
import random
import tarfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sillwright.base.errors import InputError
from sillwright.web.serving.archive import Manifest, Writing, unpacked

PAPER = "files/papers/0a/0a000000-0000-4000-8000-000000000000"
PARTS = {"data/records.site.jsonl": b'{"id": 1}\n' * 300, PAPER: b"%PDF-" + bytes(range(256)) * 9}
MIGRATIONS = {"records": ["0001_initial"]}
ROWS = {"records.site": 300}


def made(folder: Path) -> Path:
    """A small backup."""
    file = folder / "doors.tar"
    with file.open("wb") as out:
        writing = Writing(out)
        for number, (name, content) in enumerate(PARTS.items()):
            part = folder / str(number)
            part.write_bytes(content)
            writing.add(name, part)
        writing.end("0.1", MIGRATIONS, ROWS)
    return file


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A small backup in a folder of its own."""
    (tmp_path / "made").mkdir()
    return made(tmp_path / "made")


@pytest.fixture
def aside(tmp_path: Path) -> Path:
    """Where it is read to."""
    (tmp_path / "aside").mkdir()
    return tmp_path / "aside"


def everything(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def changed(file: Path, change: Callable[[tarfile.TarInfo, bytes], list[tuple[tarfile.TarInfo, bytes]]]) -> None:
    """Write the tar anew, with other entries in the place of each."""
    with tarfile.open(file) as tar:
        entries = [(each, content.read() if (content := tar.extractfile(each)) else b"") for each in tar]
    with tarfile.open(file, "w", format=tarfile.PAX_FORMAT) as tar:
        for each in entries:
            for entry, content in change(*each):
                tar.addfile(entry, io.BytesIO(content))


def an_entry(name: str, content: bytes = b"", **fields: Any) -> tuple[tarfile.TarInfo, bytes]:
    entry = tarfile.TarInfo(name)
    entry.size = len(content)
    for field, value in fields.items():
        setattr(entry, field, value)
    return entry, content


def test_a_backup_is_read_as_it_was_written(file: Path, aside: Path) -> None:
    manifest = unpacked(file, aside)
    assert (manifest.version, manifest.migrations, manifest.rows) == ("0.1", MIGRATIONS, ROWS)
    assert set(manifest.sha256) == set(PARTS)
    assert everything(aside) == PARTS


FOREIGN = [
    an_entry("/etc/passwd", b"x"),
    an_entry("../../escaped", b"x"),
    an_entry("files/papers/../../escaped", b"x"),
    an_entry("data/records.site.jsonl/../x", b"x"),
    an_entry("files/papers/0a/0a000000-0000-4000-8000-000000000000x", b"x"),
    an_entry("secret_key", b"x"),
    an_entry("data/records.paper.jsonl", type=tarfile.SYMTYPE, linkname="/etc/passwd"),
    an_entry("data/records.paper.jsonl", type=tarfile.LNKTYPE, linkname="manifest.json"),
    an_entry("data/records.paper.jsonl", type=tarfile.DIRTYPE),
    an_entry("data/records.paper.jsonl", type=tarfile.CHRTYPE, devmajor=1, devminor=5),
    an_entry("data/records.paper.jsonl", type=tarfile.FIFOTYPE),
    an_entry("data/records.paper.jsonl", type=tarfile.GNUTYPE_SPARSE),
    an_entry("data/records.paper.jsonl", pax_headers={"path": "../../escaped"}),
    an_entry("x" * 300, b"x"),
    an_entry("data/records.site.jsonl", b"twice"),
    an_entry("data/tür.x.jsonl", b"x"),
]


@pytest.mark.parametrize("foreign", FOREIGN, ids=lambda each: f"{each[0].name[:30]} {each[0].type!r}")
@pytest.mark.parametrize("first", [True, False])
def test_what_no_backup_holds_is_refused_and_nothing_is_written_outside(
    file: Path, aside: Path, tmp_path: Path, foreign: tuple[tarfile.TarInfo, bytes], first: bool
) -> None:
    done: list[bool] = []

    def beside(entry: tarfile.TarInfo, content: bytes) -> list[tuple[tarfile.TarInfo, bytes]]:
        once = [] if done else [foreign]
        done.append(True)
        return [*once, (entry, content)] if first else [(entry, content), *once]

    changed(file, beside)
    before = everything(tmp_path)
    with pytest.raises(InputError):
        unpacked(file, aside)
    after = everything(tmp_path)
    assert {name for name in after if not name.startswith("aside/")} == set(before)


def test_a_backup_that_was_cut_off_anywhere_is_refused(file: Path, tmp_path: Path) -> None:
    whole = file.read_bytes()
    end = whole.rindex(b"}") + 1
    for length in [0, 1, 511, 512, 513, *range(600, end, 257), end - 1]:
        file.write_bytes(whole[:length])
        aside = tmp_path / f"aside{length}"
        aside.mkdir()
        with pytest.raises(InputError):
            unpacked(file, aside)


def test_a_backup_in_which_any_byte_was_changed_is_refused_or_reads_the_same(file: Path, tmp_path: Path) -> None:
    whole, chance = file.read_bytes(), random.Random(7)  # noqa: S311
    told, refused = unpacked(file, _folder(tmp_path, "whole")), 0
    for number in range(400):
        content = bytearray(whole)
        content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
        file.write_bytes(content)
        aside = _folder(tmp_path, str(number))
        try:
            manifest = unpacked(file, aside)
        except InputError:
            refused += 1
        else:
            assert everything(aside) == PARTS
            assert manifest.sha256 == told.sha256
    assert refused > 200


def _folder(here: Path, name: str) -> Path:
    (here / name).mkdir()
    return here / name


@pytest.mark.parametrize(
    "content", [b"", b"not a tar", b"\0" * 10240, gzip.compress(b"\0" * 100_000), b"SQLite format 3\0" * 100]
)
def test_what_is_no_backup_is_refused(aside: Path, tmp_path: Path, content: bytes) -> None:
    (tmp_path / "other").write_bytes(content)
    with pytest.raises(InputError, match="no backup"):
        unpacked(tmp_path / "other", aside)
    with pytest.raises(InputError, match="cannot be read"):
        unpacked(tmp_path / "none", aside)
    with pytest.raises(InputError, match="cannot be read"):
        unpacked(tmp_path, aside)
    assert everything(aside) == {}


@pytest.mark.parametrize(
    "wrong",
    [
        {"format": "sillwright-backup/9"}, {"version": 3}, {"rows": []}, {"rows": {"records.site": "300"}},
        {"sha256": {}}, {"sha256": {"a": 1}}, {"migrations": {"records": "x"}}, {"more": 1},
        {"rows": {"records.site": 300, "records.other": 0}},
    ],
)  # fmt: skip
def test_a_manifest_that_does_not_fit_its_parts_is_refused(file: Path, aside: Path, wrong: dict[str, Any]) -> None:
    def other(entry: tarfile.TarInfo, content: bytes) -> list[tuple[tarfile.TarInfo, bytes]]:
        if entry.name != "manifest.json":
            return [(entry, content)]
        return [an_entry(entry.name, json.dumps({**json.loads(content), **wrong}).encode())]

    changed(file, other)
    with pytest.raises(InputError):
        unpacked(file, aside)


def test_a_manifest_that_is_no_json_or_nests_for_ever_is_refused(file: Path, tmp_path: Path) -> None:
    for number, content in enumerate((b"{", b"[" * 200_000, b"\xff")):
        broken = made(_folder(tmp_path, f"made{number}"))
        changed(
            broken,
            lambda entry, kept, new=content: [an_entry(entry.name, new if "manifest" in entry.name else kept)],
        )  # type: ignore[misc]
        with pytest.raises(InputError):
            unpacked(broken, _folder(tmp_path, f"aside{number}"))


def test_a_backup_is_an_ordinary_tar(file: Path, tmp_path: Path) -> None:
    with tarfile.open(file) as tar:
        assert [each.name for each in tar] == [*PARTS, "manifest.json"]
        tar.extractall(_folder(tmp_path, "by hand"), filter="data")
    told = json.loads((tmp_path / "by hand/manifest.json").read_text())
    assert Manifest(**{name: value for name, value in told.items() if name != "format"}).rows == ROWS
