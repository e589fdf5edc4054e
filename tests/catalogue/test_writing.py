"""A catalogue as text: reads back as the same one; its fingerprint is that of its content."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.base.errors import OutputError
from sillwright.catalogue import Catalogue, Profile, demo
from sillwright.catalogue.parts import Rate
from sillwright.catalogue.profile import CurveAt, Ends, Price
from sillwright.catalogue.reading import catalogue_of
from sillwright.catalogue.writing import catalogue_as_yaml, fingerprint, plain, write_template

from .building import edges, read


def again(catalogue: Catalogue) -> Catalogue:
    return catalogue_of(catalogue_as_yaml(catalogue).encode(), "again.yaml")


def test_the_invented_catalogue_reads_back_as_it_was():
    assert again(demo()) == demo()
    assert fingerprint(again(demo())) == fingerprint(demo())


def test_what_is_as_by_default_is_not_written():
    assert plain(read(edges("E")).profiles[0]) == {
        "name": "E",
        "construction": "factory_sealed",
        "height": 0.04445,
        "actuation_travel": 0.0047625,
        "circuits": ["resistor"],
    }


def test_no_price_and_a_price_of_nothing_are_not_the_same():
    free = read(edges("E", more="price: {}"))
    assert again(free).profiles[0].price == Price()
    assert fingerprint(free) != fingerprint(read(edges("E")))


def test_a_list_that_is_empty_is_not_the_one_by_default():
    nowhere = read(edges("E", more="environments: []"))
    assert nowhere.profiles[0].environments == ()
    assert again(nowhere) == nowhere


lengths = st.floats(0.06, 0.29, allow_nan=False)
words = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Cn", "Co", "Z")) | st.just(" "), min_size=1, max_size=40
).map(str.strip)
tricky = st.sampled_from(
    ["true", "null", "~", "012", "1e3", "- a", "a: b", "# no", "'", '"', "=1+1", "2026-01-15", "{}", "[", "*a",
     "&a", "!b", "|", "1.0", ".nan", "0x1F", "1_000", "on", "no", "?", "%", "@", "`", "a #b", "\U0001f6aa"]
)  # fmt: skip
names = st.one_of(tricky, words.filter(bool))


@st.composite
def profiles(draw: st.DrawFn, name: str) -> Profile:
    answers = draw(st.floats(0.001, 0.05))
    far = draw(st.floats(0.0, 0.02))
    force = draw(st.floats(1.0, 300.0))
    return Profile(
        name=name,
        construction=draw(st.sampled_from(["factory_sealed", "cut_on_site"])),
        height=draw(lengths),
        actuation_travel=answers,
        circuits=("plain",),
        curves=(CurveAt(temperature=draw(st.floats(200, 300)), curve=((0, 0), (answers * 2, force))),),
        ends=draw(st.none() | st.just(Ends(lead=0.01, far=far))),
        price=draw(st.none() | st.builds(Price, each=st.floats(0, 1e7), per_metre=st.floats(0, 1e6))),
        lead_days=draw(st.none() | st.integers(0, 400)),
        note=draw(st.just("") | names | st.just("two\nlines\n\nand more")),
    )


@st.composite
def catalogues(draw: st.DrawFn) -> Catalogue:
    from sillwright.catalogue.naming import key

    called = draw(st.lists(names.filter(key), max_size=4, unique_by=key))
    return Catalogue(
        format="sillwright-catalogue/1",
        name=draw(names.filter(key)),
        currency="EUR",
        priced_on="2026-01-15",
        profiles=tuple(draw(profiles(name)) for name in called),
    )


@settings(deadline=None, max_examples=60)
@given(catalogues())
def test_every_catalogue_reads_back_to_the_last_bit(catalogue: Catalogue):
    assert again(catalogue) == catalogue
    assert fingerprint(again(catalogue)) == fingerprint(catalogue)


# the fingerprint


def test_the_fingerprint_is_that_of_the_content_however_it_was_typed():
    typed = read(edges("E", more="price: {each: 40, per_metre: 0}, lead_days: 5") + "# in days")
    rest = "construction: factory_sealed, height: 0.04445, actuation_travel: 4.7625 mm"
    other = read(
        f"# mine\nprofiles: [{{price: {{each: 40.0}}, lead_days: 5, name: '  E', circuits: [resistor], {rest}}}]"
    )
    assert typed == other
    assert fingerprint(typed) == fingerprint(other)


def test_whole_numbers_and_nothing_below_nothing_are_written_alike():
    whole = replace(read(""), rates=(Rate(what="a", persons=1, price=40),), tax_percent=0)
    broken = replace(read(""), rates=(Rate(what="a", persons=1, price=40.0),), tax_percent=-0.0)
    assert fingerprint(whole) == fingerprint(broken)


@pytest.mark.parametrize(
    "change",
    [{"name": "other"}, {"currency": "CAD"}, {"priced_on": "2026-01-16"}, {"invented": False}, {"tax_percent": 7.0},
     {"profiles": demo().profiles[::-1]}, {"rates": ()}],
)  # fmt: skip
def test_the_fingerprint_changes_with_the_content(change):
    assert fingerprint(replace(demo(), **change)) != fingerprint(demo())


def test_a_single_cent_changes_the_fingerprint():
    first, *rest = demo().rates
    dearer = replace(demo(), rates=(replace(first, price=first.price + 0.01), *rest))
    assert fingerprint(dearer) != fingerprint(demo())


def test_the_fingerprint_is_sixty_four_figures_and_stays_what_it_was():
    """A quote keeps it: the same content has it in years to come, whatever fields models get by then."""
    content = b'{"currency":"USD","format":"sillwright-catalogue/1","name":"Yard","priced_on":"2026-01-15"}'
    assert fingerprint(read("")) == sha256(content).hexdigest()
    assert fingerprint(read("")) == "7116252759c874924b3bffd1ae78d6cc3ab03d9be8a48691eb8c2d067a75b917"


# files


def test_a_template_is_not_written_over_what_is_there(tmp_path: Path):
    path = tmp_path / "parts.xlsx"
    write_template(path)
    first = path.read_bytes()
    with pytest.raises(OutputError):
        write_template(path, units="metric")
    assert path.read_bytes() == first
    write_template(path, units="metric", replace=True)
    assert path.read_bytes() != first
