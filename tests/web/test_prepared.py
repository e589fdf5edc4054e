"""A query that is built once finds what Django's own finds."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.template import Context, Template, TemplateSyntaxError

from sillwright.web.accounts.models import Session
from sillwright.web.prepared import Prepared
from sillwright.web.records.models import Answer, Opening, Site

from .conftest import World


def _as_told(row: Any) -> dict[str, Any]:
    return {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}


@pytest.mark.parametrize("related", ["", "site"])
def test_the_prepared_row_is_the_one_that_djangos_query_finds(world: World, related: str) -> None:
    for opening in Opening.objects.select_related("site"):
        found = Prepared(Opening, ["id"], related).get(opening.pk)
        assert found == opening
        assert _as_told(found) == _as_told(opening)
        if related:
            assert _as_told(found.site) == _as_told(opening.site)


def test_a_row_that_is_not_there_is_not_found(world: World) -> None:
    assert Prepared(Opening, ["id"], "site").get(uuid.uuid4()) is None


def test_two_columns_are_asked_together(world: World) -> None:
    opening = world.opening
    for reader in ("en-us-US", "en-metric-US"):
        Answer.objects.create(
            opening=opening, reader=reader, state="1", headline=reader, closing="no", level="", body=""
        )
    found = Prepared(Answer, ["opening", "reader"]).get(opening.pk, "en-metric-US")
    assert found is not None
    assert _as_told(found) == _as_told(Answer.objects.get(opening=opening, reader="en-metric-US"))


def test_a_row_that_points_to_nothing_says_so(world: World) -> None:
    Session.objects.create(session_key="k" * 32, session_data="", expire_date=world.site.made)
    found = Prepared(Session, ["session_key"], "person").get("k" * 32)
    assert found is not None
    assert found.person is None


def test_a_prepared_row_can_be_written_back(world: World) -> None:
    found = Prepared(Site, ["id"]).get(world.site.pk)
    assert found is not None
    found.name = "Another name"
    found.save()
    assert Site.objects.get(pk=world.site.pk).name == "Another name"


@pytest.mark.parametrize(
    "inside",
    ["{{ user }}", "{% trans words %}", "{% url 'site' id %}", "{% if a %}x{% endif %}", "{% csrf_token %}"],
)
def test_what_may_differ_from_request_to_request_is_not_kept(inside: str) -> None:
    with pytest.raises(TemplateSyntaxError):
        Template("{% once %}" + inside + "{% endonce %}")


def test_what_is_the_same_for_everybody_is_put_together_once() -> None:
    made = Template("{% once %}<a href=\"{% url 'home' %}\">{% trans 'Sites' %}</a>{% endonce %}")
    assert made.render(Context()) == made.render(Context()) == '<a href="/">Sites</a>'
