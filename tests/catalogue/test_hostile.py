"""Hostile catalogue files: refused in words, within the caps."""

from __future__ import annotations

import io
import struct
import tracemalloc
import zipfile
import zlib

import pytest

from sillwright.base.errors import DocumentError
from sillwright.base.node import MOST_BYTES, MOST_MISTAKES
from sillwright.catalogue.from_node import LONGEST_TEXT
from sillwright.catalogue.reading import catalogue_of
from sillwright.catalogue.writing import catalogue_as_yaml

from ..long import cases
from .building import EDGE, HEAD, edges, read, refused


def test_aliases_are_refused_before_they_multiply():
    bomb = "a: &a [x, x]\n" + "".join(f"{b}: &{b} [*{a}, *{a}]\n" for a, b in zip("abcdef", "bcdefg", strict=True))
    said = refused(bomb)
    assert "aliases are not read" in said
    assert "anchors are not read" in said


@pytest.mark.parametrize(
    "start", ["profiles: " + "[" * 100, "profiles: " + "{a: " * 100, "profiles:\n" + "- " * 100]
)
def test_a_deep_file_is_refused(start):
    assert "nested deeper than 40" in refused(start)
    assert "nest" in refused(start * 50)


def test_a_file_of_three_megabytes_is_refused():
    with pytest.raises(DocumentError, match="larger than 2 MB"):
        catalogue_of(HEAD.encode() + b"#" * 3_000_000, "parts.yaml")


PRICES = (
    ".nan", ".inf", "-.inf", "-1", "-0.01", "1e9", "1e999", '"$40"', '"40 USD"', '"1,000"', "true", "[40]", "{}",
    "null", '""', '"nan"', "'=1+1'",
)  # fmt: skip


@pytest.mark.parametrize("price", PRICES)
@pytest.mark.parametrize("key", ["each", "per_metre", "per_foot"])
def test_a_price_is_a_number_that_is_not_below_nothing(price, key):
    assert f"profiles[0].price.{key}" in refused(edges("E", more=f"price: {{{key}: {price}}}"))


@pytest.mark.parametrize(
    "text",
    [
        "profiles: !!python/object:os.system [x]",
        "profiles: [\x01]",
        "profiles: 'unfinished",
        "profiles: []\n---\nprofiles: []",
        "profiles: []\nprofiles: []",
        "? [a, b]\n: c",
    ],
)
def test_what_is_no_plain_yaml_is_refused(text):
    assert "mistake" in refused(text)


def test_bytes_that_are_no_text_are_refused():
    assert "not UTF-8" in refused(HEAD.encode() + b"\xff\xfe")


def test_a_text_longer_than_a_text_is_refused():
    assert read(edges("E", more=f"note: {'x' * LONGEST_TEXT}")).profiles
    assert "longer than 2000 characters" in refused(edges("E", more=f"note: {'x' * (LONGEST_TEXT + 1)}"))


def test_a_file_full_of_mistakes_is_given_up():
    said = refused("profiles:\n" + "- {name: E, colour: red}\n" * 5000)
    assert "so many mistakes that the rest was not read" in said
    assert said.count("line ") <= MOST_MISTAKES


def test_many_names_that_are_not_known_cost_no_more_than_a_few():
    channels = "channels:\n" + "".join(f"- {{name: Rail {n}, fixing: slide_in}}\n" for n in range(3000))
    wrong = edges(*(f"E{n}" for n in range(450)), more="channels: [Raill]")
    assert refused(channels + wrong).count("not in this catalogue") == 450


def test_one_profile_with_very_many_channels_is_looked_through_once():
    said = refused("channels: [{name: R, fixing: slide_in}]\n" + edges("E", more=f"channels: [{'R,' * 20_000}]"))
    assert "this name stands twice" in said


@pytest.mark.slow
@pytest.mark.long
def test_thousands_of_profiles_are_read_and_written():
    many = cases(3_000, 10_000)
    catalogue = read("profiles:\n" + "".join(f"- {{name: E{n}, {EDGE}}}\n" for n in range(many)))
    assert len(catalogue.profiles) == many
    assert catalogue_of(catalogue_as_yaml(catalogue).encode(), "parts.yaml") == catalogue


def test_what_cannot_be_written_to_be_read_again_is_refused_when_it_is_read():
    note = "'" * LONGEST_TEXT  # each of which is written twice
    notes = "".join(f'- {{name: E{n}, {EDGE}, note: "{note}"}}\n' for n in range(600))
    assert len(notes) < MOST_BYTES
    assert "written out, this catalogue is larger than 2 MB" in refused("profiles:\n" + notes)


# workbooks


def packed(parts: dict[str, bytes]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return target.getvalue()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (packed({"xl/worksheets/sheet1.xml": b"<a>" + b" " * 50_000_000}), "unpacks to more than 2.5 MB"),
        (packed({f"part{n}": b"x" for n in range(600)}), "unpacks to more than"),
        (packed({"xl/vbaProject.bin": b"x"}), "a workbook with macros"),
        (packed({"xl/worksheets/sheet1.xml": b"<!DOCTYPE a [<!ENTITY b 'b'>]><a>&b;</a>"}), "cannot be read"),
        (packed({"xl/worksheets/sheet1.xml": b"<a>" * 5000}), "cannot be read"),
        (packed({"hello.txt": b"hello"}), "cannot be read"),
        (b"PK\x03\x04" + b"\x00" * 100, "not a workbook"),
        (b"\xd0\xcf\x11\xe0" + b"\x00" * 100, "an old or encrypted workbook"),
    ],
    ids=["bomb", "parts", "macros", "entities", "deep", "empty", "torn", "old"],
)
def test_a_hostile_workbook_is_refused_whatever_it_is_called(content, said):
    for packed_so in (False, True):
        with pytest.raises(DocumentError) as caught:
            catalogue_of(content, "parts.dat", packed=packed_so)
        assert said in str(caught.value)


def lying(method: int, claimed: int = 100, megabytes: int = 300) -> bytes:
    """A workbook whose one part says that it is small, and holds hundreds of megabytes."""
    target, begin = io.BytesIO(), b"<a>".ljust(claimed)
    with (
        zipfile.ZipFile(target, "w", method, compresslevel=9) as archive,
        archive.open("xl/worksheets/sheet1.xml", "w") as part,
    ):
        part.write(begin)
        for _ in range(megabytes):
            part.write(b" " * 1_000_000)
    raw = bytearray(target.getvalue())
    for crc, size in ((14, 22), (raw.rfind(b"PK\x01\x02") + 16, raw.rfind(b"PK\x01\x02") + 24)):
        struct.pack_into("<I", raw, crc, zlib.crc32(begin))
        struct.pack_into("<I", raw, size, claimed)
    return bytes(raw)


@pytest.mark.parametrize("method", [zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_part_that_says_it_is_small_is_unpacked_no_further_than_it_says(method):
    content = lying(method)
    assert len(content) < MOST_BYTES
    tracemalloc.start()
    try:
        with pytest.raises(DocumentError, match="cannot be read"):
            catalogue_of(content, "parts.xlsx")
        assert tracemalloc.get_traced_memory()[1] < 30_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("typed", ["8.25%", "8.25 percent", '"8.25 %"'])
def test_a_tax_with_its_sign_is_not_a_hundredth_of_it(typed):
    assert "write the number alone" in refused(f"tax_percent: {typed}\n")
    assert read("tax_percent: 8.25\n").tax_percent == 8.25
