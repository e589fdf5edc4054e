"""A bench worked through: the inputs as typed, and what comes of them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import yaml
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from sillwright.base.calculation import Calculation
from sillwright.base.errors import InputError
from sillwright.base.words import Reader, translate
from sillwright.mechanics.model import ContactResult
from sillwright.web.workbench.answers import sentence_of
from sillwright.web.workbench.asked import Asked
from sillwright.web.workbench.charts.contact import Frame, Side, frames_of, side_view
from sillwright.web.workbench.charts.sweep import sweep_chart
from sillwright.web.workbench.example import Example
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.form import Form
from sillwright.web.workbench.pictures import Pictures, drawn, pictures_of
from sillwright.web.workbench.reach import within_reach
from sillwright.web.workbench.typed import node_of, plain
from sillwright.web.workbench.vary import Curve, Wrong, curve_of


@dataclass
class Sheet:
    """One state of one bench."""

    found: Calculation
    asked: Asked
    reader: Reader
    form: Form
    result: Any = None
    curve: Curve | None = None
    wrong: dict[str, str] = field(default_factory=dict)  # of the varied input, by field
    frames: list[Frame] = field(default_factory=list)

    @property
    def good(self) -> bool:
        """Whether nothing is wrong in what was typed."""
        return self.result is not None and not self.wrong

    @property
    def sentence(self) -> str:
        """The answer in words."""
        return sentence_of(self.found.name, self.result, self.reader) if self.result is not None else ""

    @property
    def notes(self) -> list[str]:
        """What the calculation adds to its answer."""
        return [translate(each, self.reader) for each in getattr(self.result, "notes", ())]

    @property
    def count_of_mistakes(self) -> int:
        """How many fields want another look."""
        return len(self.form.mistakes) + len(self.wrong)

    @property
    def pictures(self) -> Pictures:
        """The charts of the result."""
        return pictures_of(self.result, self.frames, self.reader)

    def curve_chart(self) -> SafeString | None:
        """The chart of the varied input."""
        if self.curve is None:
            return None
        chart = sweep_chart(self.found.name, self.curve, self.reader)
        return drawn(chart, "varied") if chart else None

    def side(self) -> Side | None:
        """The view from the side."""
        return side_view(self.result, self.frames) if self.frames else None

    def example(self) -> Example | None:
        """The example whose state this is."""
        query = replace(self.asked, units="", large=False, vary={}).query(self.found)
        return next(
            (
                each
                for each in EXAMPLES.get(self.found.name, ())
                if Asked(typed=each.typed, vary={}).query(self.found) == query
            ),
            None,
        )

    def file(self) -> str:
        """The case file that the command line takes."""
        head = _("A case of {name}. Run it: sillwright calc {name} FILE").format(name=self.found.name)
        body = plain(node_of(self.found.case, self.asked.typed))
        return f"# {head}\n" + yaml.safe_dump(body, sort_keys=False, allow_unicode=True, width=116)


def worked(found: Calculation, asked: Asked, reader: Reader) -> Sheet:
    """Read what was typed and compute it; mistakes stand at their fields and there is no result then."""
    form = Form(name=found.name, model=found.case, typed=asked.typed, reader=reader, more=asked.more)
    sheet = Sheet(found, asked, reader, form)
    form.read()
    if form.case is None:
        return sheet
    try:
        within_reach(form.case)
        sheet.result = _computed(found, form.case)
    except InputError as error:
        form.refuse(error)
        return sheet
    if isinstance(sheet.result, ContactResult):
        sheet.frames = frames_of(sheet.result)
    try:
        sheet.curve = curve_of(found, form.case, asked.vary, reader)
    except Wrong as wrong:
        sheet.wrong[wrong.key] = wrong.words
    return sheet


def _computed(found: Calculation, case: Any) -> Any:
    """The result; a contact with its record, for its charts."""
    return found.function(replace(case, trace=True) if hasattr(case, "trace") else case)
