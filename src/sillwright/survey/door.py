"""The leaf, its opening and what hangs at its bottom edge."""

from __future__ import annotations

from sillwright.base.fact import Fact
from sillwright.survey.interval import Interval
from sillwright.survey.spec import Group, choice, day, flag, group, length, quantity, side, text

GATES = ("slide_gate", "swing_gate")
KINDS = ("sectional", "rolling", "grille", "rolling_fire", "high_speed", "one_piece", *GATES)


class LeftRight(Group):
    """A length on each side, inside looking out."""

    left: Fact[float] = length(60)
    right: Fact[float] = length(60)


class GuideClear(Group):
    """Clear between the guide faces at three heights."""

    floor: Fact[float] = length(40)
    chest: Fact[float] = length(40)
    head: Fact[float] = length(40)


class Bottom(Group):
    """The bottom edge of the leaf, where an edge is carried."""

    material: Fact[str] = choice("wood", "steel", "aluminium", "insulated", title="what the bottom is made of")
    channel: Fact[str] = text()
    slot_spacing: Fact[float] = length(1)
    condition: Fact[str] = text()
    seat_width: Fact[float] = length(1)
    seat_length: Fact[float] = length(40)
    brackets: LeftRight = group(LeftRight)
    bar_overall: Fact[float] = length(40, title="bottom bar over all")
    old_height: Fact[float] = length(1, title="height of the old seal")


class FireLabel(Group):
    """The label of a fire door."""

    readable: Fact[bool] = flag()
    number: Fact[str] = text()


class SecondLeaf(Group):
    """Another leaf in the same opening."""

    kind: Fact[str] = choice(*KINDS)
    mounted: Fact[str] = choice("inside", "outside")
    operator_side: Fact[str] = side()


class Door(Group):
    """The leaf and its opening."""

    kind: Fact[str] = choice(*KINDS, title="kind of leaf", required=True)
    occupancy: Fact[str] = choice("commercial", "residential")
    clear_width: Fact[float] = length(60, least=0.2, required=True)
    clear_height: Fact[float] = length(40, least=0.2, required=True)
    panel_width: Fact[float] = length(60, least=0.2, title="bottom panel, stile to stile")
    guide_clear: GuideClear = group(GuideClear)
    guide_condition: Fact[str] = text()
    leaf_width: Fact[float] = length(60, least=0.2)
    leaf_length: Fact[float] = length(60, least=0.2)
    leaf_height: Fact[float] = length(40, least=0.2)
    leaf_top: Fact[float] = length(40, title="top of the leaf above grade")
    underside: Fact[float] = length(10, title="gap under the leaf")
    leaf_mass: Fact[float] = quantity("kg", 0.5, 50_000, title="weight of the leaf")
    moving_mass: Fact[float] = quantity("kg", 0.5, 100_000, title="moving mass that an obstruction meets")
    net_weight: Fact[float] = quantity("kg", 0, 50_000, title="weight under the balanced leaf")
    lift: Fact[str] = choice("standard", "high", "vertical", "follows_roof")
    mounted: Fact[str] = choice("inside", "outside")
    side_room: LeftRight = group(LeftRight)
    headroom: Fact[float] = length(30)
    bottom: Bottom = group(Bottom)
    closing_speed: Fact[float] = quantity("m/s", 0.005, 5)
    opening_speed: Fact[float] = quantity("m/s", 0.005, 5)
    fitted: Fact[Interval] = day()
    serial: Fact[str] = text()
    fire_label: FireLabel = group(FireLabel)
    last_drop_test: Fact[Interval] = day()
    opens: Fact[str] = side("in", "out", title="way a gate opens")
    meets: Fact[str] = choice("overlaps", "between_jambs")
    inside_is: Fact[str] = text(title="which side counts as inside")
    second_leaf: SecondLeaf = group(SecondLeaf)

    @property
    def is_gate(self) -> bool:
        """Whether the leaf is a vehicular gate."""
        return self.kind.value in GATES or (
            bool(self.kind.rivals) and all(kind in GATES for kind in self.kind.rivals)
        )
