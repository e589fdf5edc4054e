"""The papers of one opening, each by its kind: drawings, scribe, install sheet, wiring sheet."""

from __future__ import annotations

from datetime import date
from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Reader, say
from sillwright.catalogue.model import Catalogue
from sillwright.drawing.shapes import Drawing
from sillwright.paper.elevation import elevation
from sillwright.paper.svg import svg
from sillwright.study.model import OpeningStudy
from sillwright.takeoff.floors.scribe import ScribeCurve, scribe
from sillwright.takeoff.ordering.lines import order_lines

Kind = Literal["elevation", "dxf", "scribe", "scribe_dxf", "install", "wiring", "wiring_svg"]
ENDINGS: dict[Kind, str] = {
    "elevation": "svg",
    "dxf": "dxf",
    "scribe": "pdf",
    "scribe_dxf": "dxf",
    "install": "pdf",
    "wiring": "pdf",
    "wiring_svg": "svg",
}


def opening_paper(
    kind: Kind,
    study: OpeningStudy,
    reader: Reader,
    *,
    made_on: date,
    version: str,
    catalogue: Catalogue | None = None,
) -> bytes:
    """One paper of a studied opening.

    Raises :class:`OutOfRange` for a scribe of a floor that nobody has read, and :class:`OutputError` where a paper
    cannot be set.
    """
    if kind == "elevation":
        return svg(_drawn(study, reader)).encode("utf-8")
    if kind == "install":
        return _install(study, reader, made_on, version, catalogue)
    if kind in {"wiring", "wiring_svg"}:
        return _wiring(kind, study, reader, made_on, version)
    from sillwright.paper.dxf import drawing_as_dxf  # heavy, as what sets pages is

    if kind == "dxf":
        return drawing_as_dxf(_drawn(study, reader), reader.units)
    from sillwright.paper.scribe import scribe_dxf, scribe_pdf

    curve, name = scribe_of(study), str(study.opening.tag.value)
    if kind == "scribe_dxf":
        return scribe_dxf(curve, reader, name=name)
    return scribe_pdf(curve, reader, name=name, made_on=made_on)


def scribe_of(study: OpeningStudy) -> ScribeCurve:
    """The scribe from jamb to jamb. Raises :class:`OutOfRange` where the floor was not read, or has no width."""
    width, heights = study.opening.door.clear_width.value, study.takeoff.floor.heights
    if not heights or width is None:
        raise OutOfRange(
            say(N_("there is no scribe without the floor's points and the clear width; take both down"))
        )
    return scribe(heights, 0.0, width)


def _drawn(study: OpeningStudy, reader: Reader) -> Drawing:
    return elevation(study.opening, reader, study.findings, study.takeoff)


def _install(
    study: OpeningStudy, reader: Reader, made_on: date, version: str, catalogue: Catalogue | None
) -> bytes:
    from sillwright.paper.install_sheet import install_sheet_of

    order, tag = study.takeoff, str(study.opening.tag.value)
    known = catalogue.profiles if catalogue else ()
    profile = next((each for each in known if each.name == order.profile), None)
    lines = order_lines(tag, order, profile, catalogue)
    return install_sheet_of(study.opening, order, profile, lines, reader, made_on=made_on, version=version)


def _wiring(kind: Kind, study: OpeningStudy, reader: Reader, made_on: date, version: str) -> bytes:
    tag = str(study.opening.tag.value)
    if kind == "wiring_svg":
        from sillwright.paper.wiring_sheet import wiring_sheet

        return svg(wiring_sheet(study.hookup, reader, tag=tag)).encode("utf-8")
    from sillwright.paper.wiring_page import wiring_paper

    return wiring_paper(study.hookup, reader, tag=tag, made_on=made_on, version=version)
