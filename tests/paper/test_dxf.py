"""DXF: read back and audited in every version, true lengths, layers, text as text, the same bytes every time."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.tools.text import plain_mtext, plain_text
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import Reader, Units
from sillwright.drawing.shapes import Circle, Dimension, Drawing, Group, Line, Polyline, Rect, Role, Shape, Text
from sillwright.paper.dxf import PER_METRE, Version, drawing_as_dxf, in_dimension, one_line
from sillwright.paper.elevation import elevation
from sillwright.paper.legible import legible
from sillwright.paper.scribe import scribe_dxf
from sillwright.survey.model import Opening
from sillwright.survey.reading import read_survey
from sillwright.takeoff.floors.scribe import scribe
from tests.verification import Verify

from .hostile import HOSTILE

VERSIONS: tuple[Version, ...] = ("R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
INCH = 0.0254
CODES = (
    "50 %%d",
    "%%c%%p%%u%%%",
    "%%065",
    "a^Jb^ ",
    r"\U+0041 \M+1B0E0",
    r"\H5;big {x} \P",
    "<> []",
    "100 %",
    "%",
    "",
)


@pytest.fixture
def ferry_yard(root: Path) -> tuple[Opening, ...]:
    return read_survey(root / "examples" / "ferry-yard.yaml").openings


def back(made: bytes, tmp_path: Path) -> Any:
    """The document read from a file, without an error by its audit."""
    path = tmp_path / "back.dxf"
    path.write_bytes(made)
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    return document


def sheet(*parts: Shape, name: str = "", role: Role = "leaf") -> Drawing:
    return Drawing(
        title="t", described="d", parts=(Group(name=name, role=role, parts=tuple(parts)),), metres_per_mm=0.02
    )


def words(text: str) -> Drawing:
    return sheet(Text(x=0, y=0, words=text, size=0.1))


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_elevation_of_every_opening_of_the_example_is_audited(
    ferry_yard: tuple[Opening, ...], tmp_path: Path, version: Version, units: Units
) -> None:
    for opening in ferry_yard:
        made = drawing_as_dxf(elevation(opening, Reader(units=units)), units, version=version)
        document = back(made, tmp_path)
        assert document.dxfversion == ezdxf.lldxf.const.acad_release_to_dxf_version[version]
        assert document.header["$INSUNITS"] == {"us": 1, "metric": 4}[units]
        assert document.header["$MEASUREMENT"] == {"us": 0, "metric": 1}[units]


def test_dimensions_measure_what_was_measured_at_the_door(
    ferry_yard: tuple[Opening, ...], tmp_path: Path, verify: Verify
) -> None:
    opening = next(each for each in ferry_yard if each.tag.value == "B1")
    document = back(drawing_as_dxf(elevation(opening, Reader()), "us"), tmp_path)
    read = {plain_mtext(each.dxf.text): each.get_measurement() for each in document.modelspace().query("DIMENSION")}
    facts = {"clear height": opening.door.clear_height.value, "clear width": opening.door.clear_width.value}
    for name, metres in facts.items():
        (got,) = (value for label, value in read.items() if label.startswith(name))
        verify(
            f"{name} of an elevation in DXF, in",
            got=got,
            expected=(metres or 0.0) / INCH,
            within=1e-12,
            source="ezdxf reader",
        )


def test_shapes_lie_on_the_layers_of_their_roles_and_words_on_their_own(
    ferry_yard: tuple[Opening, ...], tmp_path: Path
) -> None:
    document = back(drawing_as_dxf(elevation(ferry_yard[0], Reader()), "us"), tmp_path)
    on = Counter((each.dxf.layer, each.dxftype()) for each in document.modelspace())
    assert {layer for layer, kind in on if kind == "TEXT"} == {"text"}
    assert on["leaf", "LWPOLYLINE"]
    assert on["dimension", "DIMENSION"]
    assert document.layers.get("leaf").dxf.lineweight == 50  # hundredths of a millimetre
    assert document.layers.get("unknown").dxf.linetype == "SILLWRIGHT_UNKNOWN"


def test_a_group_may_have_a_layer_of_its_own(tmp_path: Path) -> None:
    drawing = sheet(
        Line(start=(0, 0), end=(1, 0)),
        Group(name="", role="note", parts=(Line(start=(0, 1), end=(1, 1)),)),
        name="floor",
    )
    lines = back(drawing_as_dxf(drawing, "metric", layers={"floor": "ground"}), tmp_path).modelspace().query("LINE")
    assert {each.dxf.layer for each in lines} == {"ground"}
    plain = back(drawing_as_dxf(drawing, "metric"), tmp_path).modelspace().query("LINE")
    assert {each.dxf.layer for each in plain} == {"leaf", "note"}


@pytest.mark.parametrize(("units", "one_metre"), [("us", 1 / INCH), ("metric", 1000)])
def test_every_kind_of_shape_at_full_size(tmp_path: Path, units: Units, one_metre: float) -> None:
    drawing = sheet(
        Line(start=(0, 0), end=(1, 2), hidden=True),
        Polyline(points=((0, 0), (1, 0), (1, 1)), closed=True),
        Rect(x=1, y=2, width=3, height=4, fill="shade"),
        Rect(x=0, y=0, width=9, height=9, fill="blank"),
        Circle(x=1, y=1, radius=0.5),
        Text(x=1, y=1, words="up", size=0.1, turned=True, anchor="end"),
        Dimension(start=(0, 0), end=(0, 2), offset=0.5, label="2 m", size=0.1),
        Polyline(points=((0, 0),)),
        Circle(x=0, y=0, radius=0),
        Text(x=0, y=0, words=" ", size=0.1),
    )
    space = back(drawing_as_dxf(drawing, units), tmp_path).modelspace()
    assert Counter(each.dxftype() for each in space) == {
        "LINE": 1,
        "LWPOLYLINE": 2,
        "CIRCLE": 1,
        "TEXT": 1,
        "DIMENSION": 1,
    }
    (line,), (circle,), (text,) = (space.query(kind) for kind in ("LINE", "CIRCLE", "TEXT"))
    assert tuple(line.dxf.end)[:2] == pytest.approx((one_metre, 2 * one_metre))
    assert line.dxf.linetype == "SILLWRIGHT_HIDDEN"
    assert circle.dxf.radius == pytest.approx(0.5 * one_metre)
    assert (text.dxf.rotation, text.dxf.height) == (90, pytest.approx(0.1 * 0.714 * one_metre))
    triangle, rect = space.query("LWPOLYLINE")
    assert triangle.closed
    assert [tuple(point)[:2] for point in rect.get_points("xy")][2] == pytest.approx((4 * one_metre, 6 * one_metre))
    (dimension,) = space.query("DIMENSION")
    assert dimension.get_measurement() == pytest.approx(2 * one_metre)
    assert dimension.dxf.actual_measurement == pytest.approx(2 * one_metre)


def test_a_dimension_brings_its_own_picture(tmp_path: Path) -> None:
    drawing = sheet(Dimension(start=(0, 0), end=(3, 0), offset=0.5, label="3 m", size=0.1))
    document = back(drawing_as_dxf(drawing, "metric"), tmp_path)
    (dimension,) = document.modelspace().query("DIMENSION")
    drawn = Counter(each.dxftype() for each in document.blocks.get(dimension.dxf.geometry))
    assert drawn == {"LINE": 5, "TEXT": 1}


def test_a_dimension_of_nothing_is_drawn_as_lines(tmp_path: Path) -> None:
    drawing = sheet(Dimension(start=(1, 1), end=(1, 1), offset=0.5, label="0", size=0.1))
    assert not back(drawing_as_dxf(drawing, "us"), tmp_path).modelspace().query("DIMENSION")


def shown_as(text: str) -> str:
    """What a drawing program shows for a text: first its codes, then letters written by number."""
    return str(decode_dxf_unicode(plain_text(text)))


def without_last_caret(text: str) -> str:
    """The library's reader leaves out carets at the end, however they are written."""
    return text.rstrip("^")


@pytest.mark.parametrize("version", ["R2000", "R2010"])
@pytest.mark.parametrize("typed", [*CODES, *HOSTILE], ids=ascii)
def test_what_people_type_stays_text(tmp_path: Path, typed: str, version: Version) -> None:
    shown = legible(typed)
    found = back(drawing_as_dxf(words(typed), "us", version=version), tmp_path).modelspace().query("TEXT")
    if not shown.strip():
        assert not found
        return
    assert shown_as(found[0].dxf.text) == without_last_caret(shown)


@pytest.mark.parametrize("typed", [*CODES, *HOSTILE], ids=ascii)
def test_what_people_type_stays_text_in_a_dimension(tmp_path: Path, typed: str) -> None:
    drawing = sheet(Dimension(start=(0, 0), end=(1, 0), offset=0.5, label=typed, size=0.1))
    (found,) = back(drawing_as_dxf(drawing, "us"), tmp_path).modelspace().query("DIMENSION")
    read = plain_mtext(found.dxf.text)
    assert read.strip() == legible(typed).replace("<>", "< >").strip()
    assert "<>" not in found.dxf.text, "the measured length would be put in its place"


@given(st.text(st.sampled_from("%dcpuo^ J\\U+0041M{}<>;HP~5x"), max_size=14))
def test_no_code_of_a_drawing_program_gets_through(typed: str) -> None:
    assert shown_as(one_line(typed)) == without_last_caret(typed)
    assert plain_mtext(in_dimension(typed)).replace("< >", "<>").strip() == typed.replace("< >", "<>").strip()


def test_a_scribe_has_its_layers_and_its_lengths(tmp_path: Path, verify: Verify) -> None:
    curve = scribe([(0.0, 0.0125), (1.0, 0.0), (2.0, 0.005)], 0.0, 2.0)
    document = back(scribe_dxf(curve, Reader(units="metric"), name="B1"), tmp_path)
    space = document.modelspace()
    assert {each.dxf.layer for each in space} >= {"leaf", "floor", "scribe", "dimension", "text"}
    (line,) = space.query('LWPOLYLINE[layer=="scribe"]')
    assert [tuple(point) for point in line.get_points("xy")] == [
        pytest.approx(point) for point in ((0, 12.5), (1000, 0), (2000, 5))
    ]
    lengths = sorted(each.get_measurement() for each in space.query("DIMENSION"))
    verify("depth of a scribe in DXF, mm", got=lengths[0], expected=12.5, within=1e-12, source="ezdxf reader")
    verify("length of a scribe in DXF, mm", got=lengths[1], expected=2000, within=1e-12, source="ezdxf reader")


def test_a_scribe_in_inches(tmp_path: Path) -> None:
    curve = scribe([(0.0, 0.0127), (0.254, 0.0)], 0.0, 0.254)
    document = back(scribe_dxf(curve, Reader(), name="B1"), tmp_path)
    assert sorted(each.get_measurement() for each in document.modelspace().query("DIMENSION")) == [
        pytest.approx(0.5),
        pytest.approx(10),
    ]


PRINT = """
import hashlib
from sillwright.drawing.shapes import Dimension, Drawing, Group
from sillwright.paper.dxf import drawing_as_dxf
wide = Dimension(start=(0, 0), end=(1, 0), offset=1, label="1 m", size=0.1)
drawing = Drawing(title="", described="", parts=(Group(name="", role="leaf", parts=(wide,)),), metres_per_mm=0.001)
print(hashlib.sha256(drawing_as_dxf(drawing, "metric")).hexdigest())
"""


def test_the_bytes_are_the_same_in_every_process(root: Path) -> None:
    runs = {
        subprocess.run(
            [sys.executable, "-c", PRINT],
            capture_output=True,
            text=True,
            check=True,
            cwd=root,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "7")  # 1 and 7 order a set inside the library in two ways
    }
    assert len(runs) == 1


def test_both_units_are_of_one_metre() -> None:
    assert PER_METRE["metric"] / PER_METRE["us"] == pytest.approx(25.4)
