"""Who may hold the control of a leaf that closes only while it is held, and when that is so today."""

from __future__ import annotations

from sillwright.survey.model import Opening

TRAINED_ONLY = "europe"
"""The regime that gives a held control to trained persons, never to the public (EN 12453, from memory)."""
TRAINED = {"trained", "trained_public"}


def closes_unseen(opening: Opening) -> bool:
    """Whether some control that closes the leaf is known to be out of its view."""
    return opening.operator.station_in_view.value is False or any(
        station.in_view.value is False and station.closes.value is not False for station in opening.stations
    )


def found_by_tap(opening: Opening) -> bool:
    """Whether somebody found the leaf closing without a held control, whatever the operator is set to."""
    return opening.as_found.known and opening.as_found.value == "closes_by_tap"


def held_as_it_should_be(opening: Opening, regime: str | None) -> bool:
    """Whether the leaf closes today only while its control is held, in view and by the right person, as told.

    Where only trained persons may hold it, who is not known to be trained counts as the public.
    """
    if opening.operator.closing_control.value != "held" or closes_unseen(opening) or found_by_tap(opening):
        return False
    if opening.as_found.known and opening.as_found.value == "closes_on_objects":
        return False
    return regime != TRAINED_ONLY or (opening.use.users.value in TRAINED and opening.use.public.value is not True)
