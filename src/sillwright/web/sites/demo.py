"""The invented site of a demonstration."""

from __future__ import annotations

from importlib.resources import files

from sillwright.survey.reading import survey_of
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.records.models import Site
from sillwright.web.records.sites import take_in


def make_demo(organisation: Organisation, author: User) -> Site:
    """Take the invented site in for an organisation."""
    content = (files("sillwright.web") / "data" / "demo.yaml").read_bytes()
    return take_in(organisation, survey_of(content, "demo.yaml"), author=author)
