"""The handout of a lesson: what it was, what was asked, what tells most; once in each language that there is."""

from __future__ import annotations

from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import override

from sillwright.base.words import Reader, render
from sillwright.paper.handout import Handout, Part
from sillwright.trouble.safety import questions
from sillwright.web.lesson.shown import Step, complaint, ending, steps_of, was
from sillwright.web.lesson.teaching import Under

MOST_LANGUAGES = 2


def languages_of(under: Under) -> list[str]:
    """The language of the lesson first, then another one that the program speaks, where there is one."""
    there = [code for code, _name in settings.LANGUAGES]
    first = under.row.language if under.row.language in there else there[0]
    return [first, *(each for each in there if each != first)][:MOST_LANGUAGES]


def sheets_of(under: Under) -> list[Handout]:
    """The handout, in one language after the other."""
    found = []
    for language in languages_of(under):
        with override(language):
            found.append(_sheet(under, Reader(language=language)))
    return found


def _sheet(under: Under, reader: Reader) -> Handout:
    return Handout(
        language=reader.language,
        title=complaint(under, reader),
        answer=_("It was: %(what)s") % {"what": " ".join(was(under, reader))},
        parts=[each for each in _parts(under, reader) if each.lines],
    )


def _parts(under: Under, reader: Reader) -> list[Part]:
    end = ending(under, reader)
    told = _("%(words)s – what it was stood at %(before)s before the answer, at %(after)s after it.")
    yours = {"minutes": end.minutes, "how": end.how}
    best = {"minutes": end.best, "how": end.best_ended}
    return [
        Part(
            heading=_("Before any fault is looked for"), lines=[render(each.words, reader) for each in questions()]
        ),
        Part(
            heading=_("What the class did: %(minutes)s min. %(how)s") % yours,
            lines=_lines(steps_of(under.course, reader)),
            numbered=True,
        ),
        Part(
            heading=_("The way the program takes: %(minutes)s min. %(how)s") % best,
            lines=_lines(end.best_steps),
            numbered=True,
        ),
        Part(heading=_("What told most"), lines=[told % vars(each) for each in end.most]),
        Part(
            heading=_("Not asked before the leaf was run or a tool was taken, and to be asked first"),
            lines=end.missed,
        ),
        Part(heading=_("Prove it once it is mended"), lines=end.prove),
        Part(heading=_("To keep in mind"), lines=[_never(), _invented()]),
    ]


def _lines(steps: list[Step]) -> list[str]:
    return [
        _("%(words)s %(answer)s (%(minutes)s min)") % vars(each) if each.answer else each.words for each in steps
    ]


def _never() -> str:
    return _("No device is bridged, taped over, unplugged or swapped to make a leaf run, whoever asks for it.")


def _invented() -> str:
    return _(
        "The door is invented. Shares and minutes of the program are invented but plausible; they order steps and "
        "are no statistics."
    )
