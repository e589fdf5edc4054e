"""Curves inside a row of a list, as one text: ``20 degC: 0 mm 0 N, 6 mm 45 N; 0 degC: 0 mm 0 N, 6 mm 70 N``.

Each part is one curve: what it holds at, and its points with their two quantities beside each other.
"""

from __future__ import annotations

from sillwright.base import quantity
from sillwright.base.errors import QuantityError
from sillwright.base.model import FieldSpec, fields_of
from sillwright.base.node import Node

EXAMPLE = "20 degC: 0 mm 0 N, 6.5 mm 45 N; -20 degC: 0 mm 0 N, 6.5 mm 90 N"


def text_node(text: str) -> Node:
    """A text as a document has it."""
    return Node(kind="scalar", line=0, column=0, scalar=text, text=text)


def curves_node(spec: FieldSpec, text: str) -> Node:
    """The list of curves that a text holds; what cannot be read in it is left to whoever reads the document.

    >>> from sillwright.takeoff.floors.floor_model import FloorProfile
    >>> spec = next(each for each in fields_of(FloorProfile) if each.name == "curves")
    >>> (curve,) = curves_node(spec, "20 degC: 0 mm 0 N, 1/4 in 10 lbf").items
    >>> [[each.text for each in point.items] for point in curve.pairs[1][1].items]
    [['0 mm', '0 N'], ['1/4 in', '10 lbf']]
    """
    model = spec.item.model if spec.item else None
    if model is None:
        return text_node(text)
    at, curve = fields_of(model)
    parts = [each.partition(":") for each in text.split(";") if each.strip()]
    return _list(
        [
            Node(
                kind="mapping",
                line=0,
                column=0,
                pairs=tuple(
                    (each.name, node, node)
                    for each, node in (
                        (at, text_node(head.strip())),
                        (curve, _list([_point(point, curve.units) for point in rest.split(",")])),
                    )
                ),
            )
            for head, _colon, rest in parts
        ]
    )


def _point(text: str, units: tuple[str, ...]) -> Node:
    """Two quantities beside each other; parted where both can be read, else in the middle."""
    words = text.split()
    cuts = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    good = (cut for cut in cuts if all(reads(each, unit) for each, unit in zip(cut, units, strict=True)))
    pair = next(good, cuts[(len(cuts) - 1) // 2] if cuts else (text.strip(), ""))
    return _list([text_node(each) for each in pair])


def _list(items: list[Node]) -> Node:
    return Node(kind="list", line=0, column=0, items=tuple(items))


def reads(text: str, unit: str) -> bool:
    """Whether a text is a quantity of this unit."""
    try:
        quantity.parse(text, unit)
    except QuantityError:
        return False
    return True
