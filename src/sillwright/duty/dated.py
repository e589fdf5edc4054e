"""Which date decides the device rules of an operator: that of the operator, or of a newer board in it."""

from __future__ import annotations

from sillwright.survey.interval import Interval
from sillwright.survey.operator import Operator


def deciding_dates(operator: Operator) -> list[Interval]:
    """Every date that may decide, one for each pair of readings; empty where no date is known.

    A board older than its operator is a slip of the pen: the operator's own date stands.
    """
    mades = [value for value in (operator.made.value, *operator.made.rivals) if value is not None]
    boards = [value for value in (operator.board_made.value, *operator.board_made.rivals) if value is not None]
    if not boards:
        return mades
    return [board if board.last >= made.first else made for board in boards for made in mades] or boards
