"""Whether a fault model adds up, and whether a call speaks of what is in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from math import fsum, isfinite

from sillwright.base.errors import DocumentError, Mistake, OutOfRange, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say
from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel, Move, Test

ROUND_OFF = 1e-6
MOST_HYPOTHESES = 2000
Mistakes = Iterator[Mistake]


def check_model(model: FaultModel, name: str = "fault model") -> None:
    """Raise :class:`DocumentError` with every place of a model that does not add up."""
    mistakes = tuple(mistakes_of(model))
    if mistakes:
        raise DocumentError(name, mistakes)


def mistakes_of(model: FaultModel) -> Mistakes:
    """Every place of a model that does not add up; the numbers are looked at only where all names are known."""
    named = [*_ids(model), *_unknown(model)]
    yield from named
    if not named:
        for part in (_shares, _rows, _costs, _sizes, _words):
            yield from part(model)


def _ids(model: FaultModel) -> Mistakes:
    lists = {
        "faults": [each.id for each in model.faults],
        "symptoms": [each.id for each in model.symptoms],
        "tests": [each.id for each in model.tests],
        "repairs": [each.id for each in model.repairs],
        "facts": [name for name, _ in model.facts],
        "pairs": ["+".join(sorted((one, other))) for one, other, _ in model.pairs],
        **{f"tests.{test.id}.likelihood": [fault for fault, _ in test.likelihood] for test in model.tests},
        **{f"tests.{test.id}.outcomes": [each.id for each in test.outcomes] for test in model.tests},
    }
    for path, names in lists.items():
        for name, count in Counter(names).items():
            if count > 1:
                yield Mistake(path=f"{path}.{name}", message=say(N_("stands more than once")))


def _unknown(model: FaultModel) -> Mistakes:
    faults, repairs = {each.id for each in model.faults}, {each.id for each in model.repairs}
    for fault in model.faults:
        yield from _known(f"faults.{fault.id}.remedy", [fault.remedy], repairs)
        yield from _moves(f"faults.{fault.id}.moves", fault.moves, model)
    for symptom in model.symptoms:
        yield from _known(f"symptoms.{symptom.id}.causes", [name for name, _ in symptom.causes], faults)
        told = tuple(Move(fact=name, value=value, factor=1.0) for name, value in symptom.tells)
        yield from _moves(f"symptoms.{symptom.id}.tells", told, model)
        yield from _known(f"symptoms.{symptom.id}.where", [name for name, _ in symptom.where], faults)
        yield from _moves(f"symptoms.{symptom.id}.where", [move for _, move in symptom.where], model)
    for test in model.tests:
        yield from _known(f"tests.{test.id}.likelihood", [name for name, _ in test.likelihood], faults)
        yield from _moves(f"tests.{test.id}.needs", test.needs, model)
    for one, other, _ in model.pairs:
        yield from _known("pairs", [one, other], faults)
    for symptom_id, tests in model.checklist:
        yield from _known("checklist", [symptom_id], {each.id for each in model.symptoms})
        yield from _known(f"checklist.{symptom_id}", tests, {each.id for each in model.tests})


def _known(path: str, names: Iterable[str], known: Iterable[str]) -> Mistakes:
    names_known = set(known)
    for name in names:
        if name not in names_known:
            yield Mistake(
                path=path, message=say(N_("unknown name")), got=repr(name), accepted=did_you_mean(name, names_known)
            )


def _moves(path: str, moves: Iterable[Move], model: FaultModel) -> Mistakes:
    facts = dict(model.facts)
    for move in moves:
        yield from _known(path, [move.fact], facts)
        yield from _known(f"{path}.{move.fact}", [move.value], facts.get(move.fact, (move.value,)))
        if not (isfinite(move.factor) and move.factor >= 0):
            yield _wrong(f"{path}.{move.fact}", move.factor, N_("a number of at least 0"))


def _wrong(path: str, got: object, accepted: str) -> Mistake:
    return Mistake(path=path, message=say(N_("out of range")), got=str(got), accepted=say(accepted))


def _shares(model: FaultModel) -> Mistakes:
    for symptom in model.symptoms:
        yield from _adds(f"symptoms.{symptom.id}.causes", [share for _, share in symptom.causes])
        if not 0 < symptom.share <= 1:
            yield _wrong(f"symptoms.{symptom.id}.share", symptom.share, N_("above 0 and at most 1"))
    named = {fault for symptom in model.symptoms for fault, share in symptom.causes if share > 0}
    for fault in model.faults:
        if fault.id not in named:
            yield Mistake(path=f"faults.{fault.id}", message=say(N_("no symptom has it among its causes")))
    if not 0 <= model.unlisted < 0.5:
        yield _wrong("unlisted", model.unlisted, N_("at least 0 and below 0.5"))
    for one, other, share in model.pairs:
        if not 0 < share < 1 or one == other:
            yield _wrong(f"pairs.{one}+{other}", share, N_("two different faults and a share between 0 and 1"))
    together = fsum(share for _, _, share in model.pairs)
    if not together <= 0.5:
        yield _wrong("pairs", together, N_("at most half of all calls, together"))


def _rows(model: FaultModel) -> Mistakes:
    for test in model.tests:
        yield from _row(test, "otherwise", test.otherwise)
        for fault, row in test.likelihood:
            yield from _row(test, f"likelihood.{fault}", row)


def _row(test: Test, name: str, row: tuple[float, ...]) -> Mistakes:
    path = f"tests.{test.id}.{name}"
    if len(row) != len(test.outcomes):
        accepted = say(N_("{count} numbers, one for each outcome"), count=len(test.outcomes))
        yield Mistake(path=path, message=say(N_("wrong length")), got=str(len(row)), accepted=accepted)
    else:
        yield from _adds(path, row)


def _adds(path: str, numbers: Iterable[float]) -> Mistakes:
    """Shares are at least 0 and add to one; written so that NaN does not."""
    found = tuple(numbers)
    if not all(isfinite(each) and each >= 0 for each in found):
        yield _wrong(path, found, N_("numbers of at least 0"))
    elif not abs(fsum(found) - 1) <= ROUND_OFF:
        yield Mistake(
            path=path,
            message=say(N_("the numbers do not add up to 1")),
            got=f"{fsum(found):.6g}",
            accepted=say(N_("add what is missing, or take away what is too much")),
        )


def _costs(model: FaultModel) -> Mistakes:
    for test in model.tests:
        if not (isfinite(test.minutes) and test.minutes >= 0):
            yield _wrong(f"tests.{test.id}.minutes", test.minutes, N_("a number of at least 0"))
    for repair in model.repairs:
        if not (isfinite(repair.minutes) and repair.minutes > 0):
            yield _wrong(f"repairs.{repair.id}.minutes", repair.minutes, N_("a number above 0"))
        if not 0 < repair.success <= 1:
            yield _wrong(f"repairs.{repair.id}.success", repair.success, N_("above 0 and at most 1"))
    if not (isfinite(model.referral) and model.referral > 0):
        yield _wrong("referral", model.referral, N_("a number above 0"))


def _sizes(model: FaultModel) -> Mistakes:
    if not (model.faults and model.symptoms and model.repairs):
        yield Mistake(path="", message=say(N_("at least one fault, one symptom and one repair are wanted")))
    for test in model.tests:
        if len(test.outcomes) < 2:
            yield _wrong(f"tests.{test.id}.outcomes", len(test.outcomes), N_("at least two outcomes"))
    count = 1 + len(model.faults) + len(model.pairs)
    if count > MOST_HYPOTHESES:
        yield _wrong("pairs", count, N_("at most 2,000 faults and pairs of faults"))


def _words(model: FaultModel) -> Mistakes:
    """A text is a sentence of its own: a brace would ask for a value that there is none for."""
    said: dict[str, tuple[str, ...]] = {
        **{f"faults.{each.id}": (each.words,) for each in model.faults},
        **{f"symptoms.{each.id}": (each.words,) for each in model.symptoms},
        **{
            f"tests.{each.id}": (each.question, each.how, *each.cautions, *(one.words for one in each.outcomes))
            for each in model.tests
        },
        **{f"repairs.{each.id}": (each.words, *each.proof, *each.cautions, *each.parts) for each in model.repairs},
    }
    for path, texts in said.items():
        for text in texts:
            if "{" in text or "}" in text:
                yield Mistake(path=path, message=say(N_("a text holds no braces")), got=repr(text))


def check_call(model: FaultModel, call: Call) -> None:
    """Raise :class:`UnknownName` where a call names what the model does not have.

    Raise :class:`OutOfRange` where an answer comes after more repairs than were made.
    """
    outcomes = {test.id: [each.id for each in test.outcomes] for test in model.tests}
    facts = dict(model.facts)
    if call.symptom is not None:
        _named("symptom", call.symptom, [each.id for each in model.symptoms])
    for at, (test, outcome) in enumerate(call.answers):
        _named(f"answers[{at}].test", test, outcomes)
        if outcome is not None:
            _named(f"answers[{at}].outcome", outcome, outcomes[test])
    for at, (name, value) in enumerate(call.facts):
        _named(f"facts[{at}].fact", name, facts)
        _named(f"facts[{at}].value", value, facts[name])
    for at, repair in enumerate(call.repaired):
        _named(f"repaired[{at}]", repair, [each.id for each in model.repairs])
    for at, (test, made) in enumerate(call.after):
        _named(f"after[{at}].test", test, outcomes)
        if not 0 <= made <= len(call.repaired):
            said = N_("{path}: after {made} repairs; {most} were made")
            raise OutOfRange(say(said, path=f"after[{at}]", made=made, most=len(call.repaired)))


def _named(path: str, name: str, known: Iterable[str]) -> None:
    names = tuple(known)
    if name not in names:
        said = N_("{path}: nothing here is called “{name}”; {nearest}")
        raise UnknownName(say(said, path=path, name=name[:80], nearest=did_you_mean(name, names)))
