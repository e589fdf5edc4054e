"""Bodies: JSON by the letter, within limits; and what is wrong with them, in words."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Annotated, Any, NoReturn

from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from ninja.parser import Parser
from pydantic import AfterValidator, BaseModel, ConfigDict
from pydantic_core import PydanticCustomError

from sillwright.base.errors import Mistake
from sillwright.base.node import MOST_DEPTH, short
from sillwright.web.api.problems import Problem
from sillwright.web.records.text import unkept

JSON = "application/json"
LONGEST_INTEGER = 18  # digits; a longer one is read as a number with a fraction


def _constant(name: str) -> NoReturn:
    raise ValueError(name)


def _integer(text: str) -> int | float:
    return int(text) if len(text) <= LONGEST_INTEGER else float(text)


def read_json(body: bytes) -> Any:
    """A JSON text as plain lists and mappings. Raises :class:`Problem` where it is none, or nested too deeply."""
    try:
        found = json.loads(body, parse_constant=_constant, parse_int=_integer)
    except (ValueError, RecursionError):
        raise Problem("bad-request") from None
    level = [found]
    for _depth in range(MOST_DEPTH):
        level = [inner for each in level for inner in _inside(each)]
        if not level:
            return found
    raise Problem("bad-request", _("The body is nested too deeply."))


def _inside(value: Any) -> Iterable[Any]:
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return [each for each in inner if isinstance(each, (dict, list))]


class Strict(Parser):
    """Reads bodies for the operations."""

    def parse_body(self, request: HttpRequest) -> Any:
        """The body of a request as plain lists and mappings. Raises :class:`Problem`."""
        if request.content_type != JSON:
            raise Problem("media-type")
        return read_json(request.body)


# shapes


def _kept(words: str) -> str:
    if sign := unkept(words):
        said = _("The sign %(sign)s cannot be kept.") % {"sign": sign}
        raise PydanticCustomError("sign", "{said}", {"said": said})
    return words


Words = Annotated[str, AfterValidator(_kept)]
"""Text that a database can hold."""


class Asked(BaseModel):
    """What comes in: a name that is not known is a mistake, not passed over."""

    model_config = ConfigDict(extra="forbid")


# mistakes


_SAID = {
    "missing": gettext_lazy("this is missing"),
    "extra_forbidden": gettext_lazy("this name is not known here"),
    "none_required": gettext_lazy("null is wanted"),
}
_WANTED = (
    ("string", gettext_lazy("text")),
    ("int", gettext_lazy("a whole number")),
    ("float", gettext_lazy("a number")),
    ("bool", gettext_lazy("true or false")),
    ("uuid", gettext_lazy("an id such as 0b5c1f0e-7c1d-4a53-9c1b-3f0f5a2a9d11")),
    ("datetime", gettext_lazy("a time such as 2026-03-04T10:20:30Z")),
    ("list", gettext_lazy("a list")),
    ("dict", gettext_lazy("an object")),
    ("model", gettext_lazy("an object")),
)


def mistakes_of(errors: Iterable[Mapping[str, Any]], *, skip: int = 1) -> tuple[Mistake, ...]:
    """What a shape found wrong, in words; ``skip`` is how many leading names only say which part it was."""
    return tuple(
        Mistake(path=_path(each["loc"], skip), message=_message(each), accepted=_accepted(each)) for each in errors
    )


def _path(place: tuple[Any, ...], skip: int) -> str:
    names = place[2:] if place[:1] == ("body",) else place[skip:]
    return "".join(f"[{each}]" if isinstance(each, int) else f".{short(str(each))}" for each in names).lstrip(".")


def _message(error: Mapping[str, Any]) -> str:
    kind = error["type"]
    if kind in _SAID:
        return str(_SAID[kind])
    return str(error["msg"]) if kind == "sign" else _("this cannot be used")


def _accepted(error: Mapping[str, Any]) -> str:
    context, kind = error.get("ctx") or {}, error["type"]
    if "max_length" in context:
        return _("at most %(most)s") % {"most": context["max_length"]}
    if "min_length" in context:
        return _("at least %(least)s") % {"least": context["min_length"]}
    if "le" in context:
        return _("at most %(most)s") % {"most": context["le"]}
    if "ge" in context:
        return _("at least %(least)s") % {"least": context["ge"]}
    if "expected" in context:
        return str(context["expected"])
    return next((str(words) for name, words in _WANTED if kind.startswith(name)), "")
