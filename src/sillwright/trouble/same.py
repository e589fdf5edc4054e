"""A fault model as a key of what was made of it."""

from __future__ import annotations

from sillwright.trouble.model import FaultModel


class Same:
    """A model as a key, equal only to itself: comparing its numbers would cost more than making it anew."""

    __slots__ = ("model",)

    def __init__(self, model: FaultModel) -> None:
        self.model = model

    def __hash__(self) -> int:
        return id(self.model)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.model is self.model
