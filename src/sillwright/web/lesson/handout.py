"""The handout of a lesson: what it was, what was asked, what tells most; in English, in Spanish, or side by side.

Spanish is spoken here and nowhere else in the program: these sentences have a catalogue of their own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sillwright.base.words import N_, Reader, Sentence, render, translate
from sillwright.paper.handout import Handout, Part, Roll, Signed
from sillwright.trouble.safety import questions
from sillwright.web.lesson.attending import HEIGHT, RESULTS_IN_WORDS, WIDTH, counting, due_on, path_of
from sillwright.web.lesson.models import Lesson
from sillwright.web.lesson.shown import Step, cautions, complaint, ending, steps_of, was
from sillwright.web.lesson.teaching import Under

EN, ES = Reader(), Reader(language="es", part="handout")
CHOICES: Mapping[str, tuple[Reader, ...]] = {"en": (EN,), "es": (ES,), "both": (EN, ES)}
"""What somebody may print, by name; with two readers each sentence stands in both languages."""
NEVER = N_("No device is bridged, taped over, unplugged or swapped to make a leaf run, whoever asks for it.")
INVENTED = N_(
    "The door is invented. Shares and minutes of the program are invented but plausible; they order steps and "
    "are no statistics."
)
TRANSLATED = N_(
    "The Spanish text was translated by us, not by a sworn translator. Where the two differ, the English text "
    "holds."
)
HEADS = (N_("Name"), N_("Signature"), N_("Result"), N_("Date"), N_("Due again"))

Said = tuple[str, list[str], bool]  # a heading, the lines under it, and whether they are in order


def handout_of(under: Under, choice: str) -> Handout:
    """The handout in the languages of a choice: each text once in each, in one order."""
    readers = CHOICES[choice]
    parts = [_parts(under, reader) for reader in readers]
    translated = ES in readers
    return Handout(
        readers=readers,
        title=tuple(complaint(under, each) for each in readers),
        answer=tuple(_say(N_("It was: {what}"), each, what=" ".join(was(under, each))) for each in readers),
        note=tuple(translate(TRANSLATED, each) for each in readers) if translated else (),
        parts=[_beside(same) for same in zip(*parts, strict=True) if same[0][1]],
    )


def _beside(same: Sequence[Said]) -> Part:
    """A part in all languages, line by line."""
    return Part(
        heading=tuple(heading for heading, _lines, _numbered in same),
        lines=list(zip(*(lines for _heading, lines, _numbered in same), strict=True)),
        numbered=same[0][2],
    )


def _say(template: str, reader: Reader, **values: str) -> str:
    return render(Sentence(template, values), reader)


def _parts(under: Under, reader: Reader) -> list[Said]:
    end = ending(under, reader)
    did = _say(N_("What the class did: {minutes} min. {how}"), reader, minutes=end.minutes, how=end.how)
    best = _say(N_("The way the program takes: {minutes} min. {how}"), reader, minutes=end.best, how=end.best_ended)
    told = N_("{words} – what it was stood at {before} before the answer, at {after} after it.")
    missed = N_("Not asked before the leaf was run or a tool was taken, and to be asked first")
    held = cautions((under.course, under.best), reader)

    def word(text: str) -> str:
        return translate(text, reader)

    return [
        (word(N_("Before any fault is looked for")), [render(each.words, reader) for each in questions()], False),
        (word(N_("What holds while these steps are made")), held, False),
        (did, _lines(steps_of(under.course, reader), reader), True),
        (best, _lines(end.best_steps, reader), True),
        (word(N_("What told most")), [_say(told, reader, **vars(each)) for each in end.most], False),
        (word(missed), end.missed, False),
        (word(N_("Prove it once it is mended")), end.prove, False),
        (word(N_("To keep in mind")), [word(NEVER), word(INVENTED)], False),
    ]


def _lines(steps: list[Step], reader: Reader) -> list[str]:
    template = N_("{words} {answer} ({minutes} min)")
    return [_say(template, reader, **vars(each)) if each.answer else each.words for each in steps]


def roll_of(lesson: Lesson, choice: str) -> Roll:
    """Who was there, with signatures, as a list to print; without names yet it is a list to be signed by hand."""
    readers = CHOICES[choice]

    def said(text: str) -> tuple[str, ...]:
        return tuple(translate(text, each) for each in readers)

    return Roll(
        heading=said(N_("Who was there")),
        heads=[said(each) for each in HEADS],
        rows=[
            Signed(
                name=each.name,
                drawn=path_of(each.signature),
                written=each.written,
                result=said(RESULTS_IN_WORDS[each.result]),
                day=each.day.isoformat(),
                due=due_on(each).isoformat(),
            )
            for each in counting(lesson)
        ],
        field=(WIDTH, HEIGHT),
    )
