"""Writing papers: made aside, then renamed, so that nothing half written is ever left."""

from __future__ import annotations

import os
import re
import tempfile
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any

from sillwright.base.errors import OutputError
from sillwright.base.words import N_, Reader, say
from sillwright.catalogue.model import Catalogue
from sillwright.paper.elevation import elevation
from sillwright.paper.of_opening import ENDINGS, Kind, opening_paper
from sillwright.paper.report import report
from sillwright.paper.svg import svg
from sillwright.study.model import OpeningStudy, SiteStudy

LONGEST_SLUG = 60
_NOT_IN_NAMES = re.compile(r"[^a-z0-9]+")
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}


def write_papers(
    study: SiteStudy,
    out: Path,
    *,
    made_on: date,
    version: str,
    catalogue: Catalogue | None = None,
    shop: bool = False,
) -> tuple[Path, ...]:
    """Write the papers of a site: its report as PDF, and one elevation an opening as SVG.

    With ``shop`` also what shop and crew work from: of each opening the elevation as DXF, the install sheet, where
    there is a device the wiring sheet as PDF and SVG, and where the floor was read the scribe as PDF and DXF.
    Returns the files in that order. Raises :class:`OutputError` where they cannot be written; then none of them
    is, and files of earlier runs stay as they were.
    """
    names = slugs(
        [study.survey.site.name.value or "site", *(each.opening.tag.value or "" for each in study.openings)]
    )
    papers = [(out / f"{names[0]}.pdf", report(study, made_on=made_on, version=version))]
    for name, each in zip(names[1:], study.openings, strict=True):
        drawing = svg(elevation(each.opening, study.reader, each.findings, each.takeoff))
        papers.append((out / f"{name}.svg", drawing.encode("utf-8")))
        if shop:
            made = {"made_on": made_on, "version": version, "catalogue": catalogue}
            papers += [(out / file, paper) for file, paper in _of_the_shop(each, name, study.reader, **made)]
    write_all(papers)
    return tuple(path for path, _ in papers)


def _of_the_shop(study: OpeningStudy, name: str, reader: Reader, **made: Any) -> Iterator[tuple[str, bytes]]:
    kinds: tuple[Kind, ...] = ("dxf", "install")
    if study.hookup.wiring:
        kinds = (*kinds, "wiring", "wiring_svg")
    if study.takeoff.floor.heights:
        kinds = (*kinds, "scribe", "scribe_dxf")
    for kind in kinds:
        part = "" if kind == "dxf" else f"-{kind.partition('_')[0]}"
        yield f"{name}{part}.{ENDINGS[kind]}", opening_paper(kind, study, reader, **made)


def slugs(words: Iterable[str]) -> list[str]:
    """File names for words, in plain small letters; no two are the same.

    >>> slugs(["Bay 2", "bay-2", "../../etc", "Tür 3", "大"])
    ['bay-2', 'bay-2-2', 'etc', 'tur-3', 'opening']
    """
    taken: set[str] = set()
    found: list[str] = []
    for each in words:
        wanted = slug(each)
        name, count = wanted, 1
        while name in taken:
            count += 1
            name = f"{wanted}-{count}"
        taken.add(name)
        found.append(name)
    return found


def slug(words: str) -> str:
    """A file name for words: small letters, digits and hyphens only, so that it cannot leave its folder."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode("ascii").lower()
    name = _NOT_IN_NAMES.sub("-", plain).strip("-")[:LONGEST_SLUG].strip("-")
    return f"{name}-" if name in _RESERVED else name or "opening"


def write_all(papers: Iterable[tuple[Path, bytes]]) -> None:
    """Write files so that either all are new or none is: first all aside, then each renamed.

    Raises :class:`OutputError` with what went wrong and what to do; what was put aside is removed.
    """
    aside: list[tuple[Path, Path]] = []
    try:
        for path, content in papers:
            path.parent.mkdir(parents=True, exist_ok=True)
            _refuse_folder(path)
            aside.append((_written_aside(path, content), path))
            _sweep(*aside[-1])
        while aside:
            made, path = aside[0]
            made.replace(path)
            aside.pop(0)
    except OSError as error:
        said = N_(
            "the papers cannot be written to {place} ({why}); "
            "choose another folder with {option}, or make room there"
        )
        place = error.filename or say(N_("this folder"))
        raise OutputError(say(said, place=place, why=error.strerror, option="--out")) from error
    finally:
        for made, _ in aside:
            with suppress(OSError):
                made.unlink()


def _sweep(made: Path, path: Path) -> None:
    """Take away what a run that was killed left aside for this paper, so long ago that it is nobody's work."""
    now = made.stat().st_mtime
    for left in path.parent.glob(f".{path.stem}-*.part"):
        with suppress(OSError):
            if now - left.stat().st_mtime > FORGOTTEN:
                left.unlink()


FORGOTTEN = 3600.0  # s


def _refuse_folder(path: Path) -> None:
    if path.is_dir():
        said = N_("{path} is a folder, and a paper of that name is to be written; move it, or choose another")
        raise OutputError(say(said, path=path))


def _written_aside(path: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{path.stem}-", suffix=".part", dir=path.parent)
    made = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        made.chmod(0o666 & ~_umask())
    except OSError:
        made.unlink(missing_ok=True)
        raise
    return made


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
