"""Long forms in sections: what only some doors need stands folded away until something is said there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from django.utils.translation import gettext_lazy as _

from sillwright.web.workbench.choices import Words
from sillwright.web.workbench.controls import Control, Group, Part, Section, Table

SECTIONS: dict[str, tuple[tuple[Words, frozenset[str]], ...]] = {
    "cord": (
        (_("Where the box may be"), frozenset({"box_height", "reach_lowest", "reach_highest"})),
        (_("Cords and reels that can be had"), frozenset({"stock", "reel_cables", "most_ratio", "conductors"})),
    ),
    "floor": (
        (_("How the leaf hangs, and its bottom"), frozenset({"crossfall", "greatest_slope", "bottom"})),
        (_("How far the edge may be pressed"), frozenset({"greatest_compression", "least_contact"})),
        (_("Overtravel, warm and cold"), frozenset({"force", "required_overtravel", "room", "coldest"})),
    ),
    "length": (
        (
            _("Sectional door: panel and brackets"),
            frozenset({"panel_width", "bracket_left", "bracket_right", "bracket_below_channel"}),
        ),
        (
            _("Rolling door and grille: guides and bottom bar"),
            frozenset({"guide_clear_floor", "guide_clear_chest", "guide_clear_head", "guide_condition"})
            | frozenset({"seat_length", "bar_overall", "plugs_bigger"}),
        ),
        (_("One-piece leaf"), frozenset({"leaf_width", "meets"})),
        (
            _("Gate"),
            frozenset({"underside", "underside_open", "leaf_top", "leaf_length", "leaf_height"})
            | frozenset({"post_count", "post_start", "tail_gap"}),
        ),
        (
            _("The body and its order"),
            frozenset({"dead_end_lead", "dead_end_far", "lead_end", "shift", "construction", "ships"})
            | frozenset({"piece_limit", "order_word"}),
        ),
    ),
}
"""By calculation, what a section is called and which fields stand in it."""


def sectioned(name: str, parts: Sequence[Part], typed: Mapping[str, Sequence[str]]) -> Iterator[Part]:
    """The parts of a form with its sections, each where its first field stood."""
    left = list(parts)
    while left:
        key, label, fields = _section_of(name, left[0])
        if not fields:
            yield left.pop(0)
            continue
        inside = tuple(each for each in left if _path(each) in fields)
        left = [each for each in left if _path(each) not in fields]
        said = any(path.partition(".")[0] in fields and any(typed[path]) for path in typed)
        yield Section(key=key, label=label, parts=inside, open=said or any(_wrong(each) for each in inside))


def _section_of(name: str, part: Part) -> tuple[str, str, frozenset[str]]:
    for at, (label, fields) in enumerate(SECTIONS.get(name, ())):
        if _path(part) in fields:
            return f"section-{at + 1}", str(label), fields
    return "", "", frozenset()


def _path(part: Part) -> str:
    return "" if isinstance(part, Section) else part.path


def _wrong(part: Part) -> bool:
    if isinstance(part, Table):
        rows = (bool(row.mistakes) or any(cell.mistakes for cell in row.cells) for row in part.rows)
        return bool(part.mistakes) or any(rows)
    return isinstance(part, (Control, Group)) and bool(part.mistakes)
