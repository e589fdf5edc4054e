"""What a calculation rests on, from its own description: formula, model, where it is valid, where it comes from."""

from __future__ import annotations

import inspect
import re
from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base.calculation import Calculation
from sillwright.base.source import Source
from sillwright.base.words import Reader, translate
from sillwright.paper.voice import Voice
from sillwright.web.workbench.formula import mathml

_ROLE = re.compile(r":\w+:`([^`]+)`|``([^`]+)``")


@dataclass(frozen=True, kw_only=True)
class Rests:
    """Formulas as MathML; paragraphs with a heading each; what was assumed; what is cited."""

    formulas: tuple[str, ...]
    paragraphs: tuple[tuple[str, str], ...]
    assumptions: tuple[str, ...]
    sources: tuple[str, ...]


def rests_of(found: Calculation, result: object | None, reader: Reader) -> Rests:
    """What the calculation rests on, and what this result of it assumed and cites."""
    heads = {"Model": _("Model"), "Valid": _("Valid for"), "Source": _("Source")}
    return Rests(
        formulas=tuple(mathml(tex) for block in _blocks(found) for tex in _formulas(block)),
        paragraphs=tuple((heads[word], translate(said, reader)) for word, said in paragraphs_of(found)),
        assumptions=tuple(translate(each, reader) for each in getattr(result, "assumptions", ())),
        sources=tuple(_cited(each, reader) for each in getattr(result, "sources", ())),
    )


def paragraphs_of(found: Calculation) -> list[tuple[str, str]]:
    """Model, range of validity and source of a calculation, as its description says them."""
    blocks = _blocks(found)
    told = ((word, _said(block, word)) for word in ("Model", "Valid", "Source") for block in blocks)
    return [(word, _plain(said)) for word, said in told if said is not None]


def _blocks(found: Calculation) -> list[str]:
    return [block.strip() for block in (inspect.getdoc(found.function) or "").split("\n\n")[1:]]


def _formulas(block: str) -> list[str]:
    if not block.startswith(".. math::"):
        return []
    whole = " ".join(block.removeprefix(".. math::").replace("\\\\", " ").split())
    return [each.strip(" ,") for each in re.split(r"\\qquad|,\s*\\quad", whole) if each.strip(" ,")]


def _said(block: str, word: str) -> str | None:
    """The paragraph that a word begins, without it; also where it begins a sentence inside a paragraph."""
    text = " ".join(block.split())
    found = re.search(rf"(?:^|(?<=\. )){word}(?::| for| without| up to) ", text)
    if found is None or text.startswith(">>>"):
        return None
    rest = text[found.end() :] if found[0].endswith((": ", "for ")) else text[found.start() + len(word) + 1 :]
    return re.split(r" (?:Raises|Source:|Valid )", rest)[0]


def _plain(text: str) -> str:
    said = _ROLE.sub(lambda match: match[1] or match[2], text).strip()
    return said[:1].upper() + said[1:]


def _cited(source: Source, reader: Reader) -> str:
    return Voice(reader).cite(source)
