"""The fault model that ships with the program, put together from its tables; refused where they do not add up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from math import isclose
from typing import Any, cast, get_args

from sillwright.base import data
from sillwright.base.errors import DocumentError, Mistake, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say
from sillwright.trouble.banding import settings
from sillwright.trouble.causes import resolved
from sillwright.trouble.checking import check_model
from sillwright.trouble.electrical import for_circuit, rows
from sillwright.trouble.measuring import READINGS
from sillwright.trouble.model import Fault, FaultModel, Move, Outcome, Repair, Stage, Symptom, Test, Who
from sillwright.trouble.tables import Row

HERE = "sillwright.trouble"
TABLES = ("faults", "symptoms", "tests", "repairs", "pairs", "facts", "checklist")
WHO: tuple[str, ...] = get_args(Who)
STAGES: tuple[str, ...] = get_args(Stage)
HUNDRED = 1e-6  # to which shares in per cent add up

Facts = tuple[tuple[str, tuple[str, ...]], ...]


@cache
def fault_book(circuit: str | None = None) -> FaultModel:
    """The fault model of the package, with its meter readings for one circuit; None: for one that is not known.

    All shares in it are invented but plausible, from memory; ``docs/trouble.md`` says how to replace them.
    Raises :class:`DocumentError` with every mistake where the tables do not add up: the whole is refused; and
    :class:`UnknownName` for a circuit that is not among the facts.

    >>> book = fault_book()
    >>> len(book.symptoms), len(book.faults)
    (25, 77)
    """
    if circuit is not None:
        known = dict(fault_book().facts)["circuit"]
        if circuit not in known:
            nearest = did_you_mean(circuit, known)
            raise UnknownName(say(N_("no such circuit: “{name}”; {nearest}"), name=circuit[:80], nearest=nearest))
        return for_circuit(fault_book(), circuit)
    return book_from({name: data.table(HERE, name) for name in TABLES})


def fact_titles() -> Mapping[str, str]:
    """What each fact of the model asks, for people."""
    return {row["id"]: row["title"] for row in data.table(HERE, "facts")["fact"]}


def standing() -> str:
    """How far the shares of the model are to be trusted, in words."""
    return str(data.table(HERE, "symptoms")["standing"])


def book_from(tables: Mapping[str, Mapping[str, Any]]) -> FaultModel:
    """A fault model from its tables, by name as in :data:`TABLES`; rows of meter readings are computed for it.

    Raises :class:`DocumentError` with every mistake and its place.
    """
    mistakes: list[Mistake] = []
    table = {name: Row(tables.get(name, {}), name, mistakes) for name in TABLES}
    for each in table.values():
        each.taken.add("standing")
    facts, moves = _facts(table["facts"])
    faults = _faults(table["faults"], moves)
    model = FaultModel(
        faults=faults,
        symptoms=_symptoms(table["symptoms"], facts),
        tests=_tests(table["tests"], faults),
        repairs=_repairs(table["repairs"]),
        pairs=_pairs(table["pairs"]),
        facts=facts,
        checklist=_checklist(table["checklist"]),
    )
    for each in table.values():
        each.close()
    if mistakes:
        raise DocumentError(HERE, tuple(dict.fromkeys(mistakes)))
    check_model(model, HERE)
    return model


def _facts(table: Row) -> tuple[Facts, Mapping[str, tuple[Move, ...]]]:
    """The facts with their values, and by fault what they move."""
    facts, moves = [], dict[str, tuple[Move, ...]]()
    for row in table.rows("fact"):
        name, values, moved = row.text("id"), row.texts("values"), row.inner("moves")
        row.text("title")
        facts.append((name, values))
        for value in moved.values:
            factors = moved.inner(value)
            if value not in values:
                moved.wrong(value, say(N_("not a value of this fact")), accepted=", ".join(values))
            for key, fault in factors.several():
                found = Move(fact=name, value=value, factor=factors.number(key))
                moves[fault] = (*moves.get(fault, ()), found)
        row.close()
    return tuple(facts), moves


def _faults(table: Row, moves: Mapping[str, tuple[Move, ...]]) -> tuple[Fault, ...]:
    found = []
    for row in table.rows("fault"):
        name = row.text("id")
        found.append(
            Fault(
                id=name,
                words=row.text("title"),
                remedy=row.text("mended_by"),
                danger=row.flag("danger"),
                unseen=row.flag("unseen"),
                hurt=_hurt(row),
                moves=moves.get(name, ()),
            )
        )
        row.close()
    for name in moves.keys() - {each.id for each in found}:
        table.wrong("", say(N_("facts move a fault that is not listed")), name)
    return tuple(found)


def _hurt(row: Row) -> str | None:
    name = row.maybe("hurt")
    if name is None or name in settings()["hurt"]:
        return name
    row.wrong("hurt", say(N_("no such hurt")), name, ", ".join(settings()["hurt"]))
    return None


def _symptoms(table: Row, facts: Facts) -> tuple[Symptom, ...]:
    stand_ins = table.rows("stands_for")
    listed = table.rows("symptom")
    causes = {row.text("id"): _causes(row) for row in listed}
    found = []
    for row, (name, own) in zip(listed, causes.items(), strict=False):
        of_this = resolved(name, own, causes, stand_ins)
        shares = tuple((fault, percent / 100) for fault, percent in of_this.items())
        words, share, harm = row.text("title"), row.number("share") / 100, row.flag("harm")
        told, where = _told(row, facts), tuple(_where(row))
        found.append(Symptom(id=name, words=words, share=share, causes=shares, harm=harm, tells=told, where=where))
        row.close()
    for row in stand_ins:
        row.close()
    total = 100 * sum(each.share for each in found)
    if len(causes) < len(listed):
        table.wrong("symptom", say(N_("a call stands more than once")))
    if not isclose(total, 100, abs_tol=HUNDRED):
        table.wrong("symptom", say(N_("the shares of the calls do not add up to 100")), total)
    return tuple(found)


def _told(row: Row, facts: Facts) -> tuple[tuple[str, str], ...]:
    """The facts that a call tells by itself."""
    table, values = row.inner("tells"), dict(facts)
    told = tuple((name, table.text(name)) for name in table.values)
    for name, value in told:
        if value not in values.get(name, ()):
            table.wrong(name, say(N_("no such fact or value")), value, ", ".join(values.get(name, values)))
    return told


def _where(row: Row) -> Iterator[tuple[str, Move]]:
    """Facts under which a fault seldom makes anybody complain so; the names are looked at with the whole model."""
    table = row.inner("where")
    for fact in table.values:
        values = table.inner(fact)
        for key, value in values.several():
            factors = values.inner(key)
            for fault in factors.values:
                yield fault, Move(fact=fact, value=value, factor=factors.number(fault))


def _causes(row: Row) -> Mapping[str, float]:
    """The causes of a call as they stand in the table, in per cent."""
    table = row.inner("causes")
    causes = {name: table.number(name) for name in table.values}
    if not isclose(sum(causes.values()), 100, abs_tol=HUNDRED):
        row.wrong("causes", say(N_("the causes do not add up to 100")), sum(causes.values()))
    return causes


def _tests(table: Row, faults: Sequence[Fault]) -> tuple[Test, ...]:
    cautions = _named(table.inner("cautions"))
    found = []
    for row in table.rows("test"):
        test = Test(
            id=row.text("id"),
            question=row.text("asks"),
            how=row.text("do"),
            minutes=row.number("minutes"),
            who=cast(Who, row.choice("by", WHO)),
            stage=cast(Stage, row.choice("stage", STAGES)),
            outcomes=_outcomes(row),
            otherwise=() if "reading" in row.values else row.numbers("otherwise"),
            likelihood=_likelihood(row),
            reading=row.maybe("reading"),
            cautions=_looked_up(row, "cautions", cautions),
            needs=_needs(row),
        )
        row.close()
        found.append(_with_rows(row, test, faults))
    return tuple(found)


def _outcomes(row: Row) -> tuple[Outcome, ...]:
    found = []
    for each in row.rows("outcomes"):
        found.append(Outcome(id=each.text("id"), words=each.text("says")))
        each.close()
    return tuple(found)


def _likelihood(row: Row) -> tuple[tuple[str, tuple[float, ...]], ...]:
    given = row.inner("given")
    return tuple((fault, given.numbers(key)) for key, fault in given.several())


def _needs(row: Row) -> tuple[Move, ...]:
    """Facts that rule a step out, as moves of factor 0."""
    table = row.inner("unless")
    return tuple(Move(fact=fact, value=value, factor=0) for fact in table.values for value in table.texts(fact))


def _with_rows(row: Row, test: Test, faults: Sequence[Fault]) -> Test:
    """A test with its rows; those of a reading are computed from the loop."""
    if test.reading is None:
        return test
    outcomes = READINGS.get(test.reading)
    if test.likelihood or outcomes != tuple(each.id for each in test.outcomes):
        accepted = say(N_("a reading of readings.toml with its outcomes in their order, and no rows of its own"))
        row.wrong("reading", say(N_("not a reading that can be computed")), test.reading, accepted)
        return test
    otherwise, likelihood = rows(test, None, faults)
    return replace(test, otherwise=otherwise, likelihood=likelihood)


def _repairs(table: Row) -> tuple[Repair, ...]:
    proofs, cautions = _named(table.inner("proofs")), _named(table.inner("cautions"))
    found = []
    for row in table.rows("repair"):
        repair = Repair(
            id=row.text("id"),
            words=row.text("title"),
            minutes=row.number("minutes"),
            success=row.number("success"),
            who=cast(Who, row.choice("by", WHO)),
            parts=row.texts("parts"),
            proof=_looked_up(row, "proof", proofs),
            cautions=_looked_up(row, "cautions", cautions),
            outside=row.flag("outside"),
        )
        row.close()
        found.append(repair)
    return tuple(found)


def _named(table: Row) -> Mapping[str, str]:
    """Texts that rows name, so that each stands once."""
    found = {}
    for name in table.values:
        row = table.inner(name)
        found[name] = row.text("text")
        row.close()
    return found


def _looked_up(row: Row, key: str, texts: Mapping[str, str]) -> tuple[str, ...]:
    names = row.texts(key)
    for name in names:
        if name not in texts:
            row.wrong(key, say(N_("no such text")), name, ", ".join(sorted(texts)))
    return tuple(texts[name] for name in names if name in texts)


def _pairs(table: Row) -> tuple[tuple[str, str, float], ...]:
    found = []
    for group in table.rows("group"):
        group.text("why")
        group.taken.add("pairs")
        for number, pair in enumerate(group.values.get("pairs", []), 1):
            if isinstance(pair, list) and [type(each) for each in pair] in ([str, str, float], [str, str, int]):
                found.append((pair[0], pair[1], pair[2] / 100))
            else:
                group.wrong(f"pairs.{number}", say(N_("two faults and a share in per cent are wanted")), pair)
        group.close()
    return tuple(found)


def _checklist(table: Row) -> tuple[tuple[str, tuple[str, ...]], ...]:
    lists = table.inner("checklist")
    return tuple((call, lists.texts(call)) for call in lists.values)
