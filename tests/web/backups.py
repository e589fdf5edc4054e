"""Backups as tests make them, take them apart and put them together again."""

from __future__ import annotations

import hashlib
import io
import json
import subprocess
import sys
import tarfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.web.commands import ROOT, environment, sillwright

Parts = dict[str, bytes]


@dataclass(frozen=True)
class Kept:
    """An installation with something in every table, and its backup."""

    data: Path
    file: Path
    parts: Parts


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """Made once; what a test changes, it changes in a copy."""
    folder = tmp_path_factory.mktemp("kept")
    data, file = folder / "data", folder / "doors.tar"
    (data / "run").mkdir(parents=True)
    (data / "cache").mkdir()
    filling = [sys.executable, "-m", "tests.web.filled"]
    subprocess.run(filling, cwd=ROOT, env=environment(data), capture_output=True, timeout=120, check=True)
    done = sillwright("backup", file, data=data)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return Kept(data, file, parts_of(file))


def parts_of(file: Path) -> Parts:
    """Every part of a backup."""
    with tarfile.open(file) as tar:
        return {each.name: content.read() for each in tar if (content := tar.extractfile(each))}


def rows(part: bytes) -> list[Any]:
    """The rows of a part, whatever order a database keeps the keys of a JSON object in."""
    return [json.loads(line) for line in part.splitlines()]


def written(parts: Parts, file: Path, change: Callable[[dict[str, Any]], None] = lambda _: None) -> Path:
    """A backup of these parts, with a manifest that fits them; ``change`` is made to the manifest last."""
    told = json.loads(parts["manifest.json"])
    told["sha256"] = {
        name: hashlib.sha256(content).hexdigest() for name, content in parts.items() if name != "manifest.json"
    }
    change(told)
    with tarfile.open(file, "w") as tar:
        for name, content in {**parts, "manifest.json": json.dumps(told).encode()}.items():
            entry = tarfile.TarInfo(name)
            entry.size = len(content)
            tar.addfile(entry, io.BytesIO(content))
    return file


def restored(file: Path, data: Path, **more: str) -> str:
    """Restore into a folder; what was said beside the answer."""
    done = sillwright("restore", file, data=data, **more)
    assert done.returncode == 0, done.stderr
    return done.stderr
