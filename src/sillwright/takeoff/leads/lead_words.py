"""The lead in words, inside looking out and mirrored, and as a sketch of the body lying face down."""

from __future__ import annotations

from typing import Literal

from sillwright.base.words import ENGLISH, N_, Amount, Reader, Sentence, in_words, render
from sillwright.drawing.shapes import Anchor, Circle, Dimension, Drawing, Group, Point, Polyline, Rect, Shape, Text
from sillwright.takeoff.answer import Body, Lead
from sillwright.takeoff.leads.lead_findings import plain

Seen = Literal["inside", "outside"]
MIRROR = {"left": "right", "right": "left", "both": "both"}
ENDS = {
    "left": N_("at the left end"),
    "right": N_("at the right end"),
    "both": N_("at both ends"),
    None: N_("at an end that is not known"),
}
EXITS = {
    "end": N_("out of the end"),
    "back": N_("out of the back into the channel"),
    "inside_face": N_("out of the inside face"),
    "down": N_("downward"),
}
FINS = {
    "outside": N_("fin on the outside"),
    "inside": N_("fin on the inside"),
    "both": N_("fins on both sides"),
    "none": N_("no fin"),
}


def lead_in_words(lead: Lead) -> tuple[Sentence, Sentence]:
    """The lead for someone inside looking out, and mirrored for someone who stands outside and faces the door.

    What is inside and outside stays inside and outside; only left and right change places.
    """
    inside = {**_facts(lead), "end": Sentence(ENDS[lead.end])}
    mirrored = {**inside, "end": Sentence(ENDS[MIRROR[lead.end] if lead.end else None])}
    if lead.end is None and lead.exit == "down":
        inside["end"] = mirrored["end"] = Sentence(N_("at the lower end"))
    return (
        Sentence(N_("Inside, looking out: the lead leaves {end}, {exit}, {distance}, {length}; {fin}."), inside),
        Sentence(
            N_("Outside, facing the door: the lead leaves {end}, {exit}, {distance}, {length}; {fin}."), mirrored
        ),
    )


def _facts(lead: Lead) -> dict[str, Sentence]:
    way = plain(lead.exit) if lead.exit else None
    out = Sentence(EXITS[way]) if way in EXITS else Sentence(N_("where it comes out is not known"))
    if lead.exit and way not in EXITS:
        out = Sentence(N_("{exit}"), {"exit": lead.exit})
    fin = plain(lead.fin) if lead.fin else None
    side = Sentence(FINS[fin]) if fin in FINS else Sentence(N_("side of the fin not known"))
    if lead.fin and fin not in FINS:
        side = Sentence(N_("fin: {fin}"), {"fin": lead.fin})
    far = Sentence(N_("distance from the end not known"))
    if lead.from_end is not None:
        far = Sentence(N_("{far} from the end"), {"far": Amount(lead.from_end, "m")})
    free = Sentence(N_("free length not known"))
    if lead.length is not None:
        free = Sentence(N_("{free} free"), {"free": Amount(lead.length, "m")})
    return {"exit": out, "fin": side, "distance": far, "length": free}


# The sketch, in metres of paper: it is no picture to scale.
LONG, WIDE, FIN, SIZE, TAIL = 0.120, 0.008, 0.005, 0.003, 0.016


def lead_sketch(
    lead: Lead, body: Body | None = None, *, seen_from: Seen = "inside", reader: Reader = ENGLISH
) -> Drawing:
    """The body lying face down at one's feet, seen from above, with lead and fin.

    Face down is how it hangs on the leaf. Whoever stands inside and looks out has its left end on the left and its
    outside at the top, away from the feet. Someone outside walks round it: the same sketch turned by half a turn,
    so that left and right, inside and outside change places together. It is never a mirror image.

    An upright body of a gate lies with its lower end to the right; its sides are not named, as inside and outside
    lie on one or the other by the way in which the gate closes.
    """
    turned = seen_from == "outside" and not _upright(body)
    rubber = Rect(x=0.0, y=0.0, width=LONG, height=WIDE, fill="paper")
    parts = (
        Group(name="body", role="device", parts=(rubber,), title=_say(N_("body, face down"), reader)),
        Group(name="length", role="dimension", parts=(_length(body, reader),)),
        *(() if _upright(body) else _fins(lead, turned, reader)),
        *_leads(lead, body, turned, reader),
        *_names(body, turned, reader),
    )
    viewer = N_("inside, looking out") if not turned else N_("outside, facing the door")
    title = Sentence(
        N_("The body lying face down, seen from above by someone {viewer}"), {"viewer": Sentence(viewer)}
    )
    described = lead_in_words(lead)[1 if turned else 0]
    return Drawing(
        title=render(title, reader), described=render(described, reader), parts=parts, metres_per_mm=0.001
    )


def _say(words: str, reader: Reader) -> str:
    return render(Sentence(words), reader)


def _turn(point: Point, turned: bool) -> Point:
    """A point of the sketch for who stands inside, or after half a turn around the middle of the body."""
    x, y = point
    return (LONG - x, WIDE - y) if turned else (x, y)


def _length(body: Body | None, reader: Reader) -> Dimension:
    label = _say(N_("length not known"), reader)
    if body is not None and body.piece is not None:
        label = in_words(Amount(body.piece, "m"), reader)
    return Dimension(start=(0.0, 0.0), end=(LONG, 0.0), offset=-0.022, label=label, size=SIZE)


def _upright(body: Body | None) -> bool:
    return body is not None and body.place not in {"bottom", "underside"}


def _fins(lead: Lead, turned: bool, reader: Reader) -> tuple[Group, ...]:
    fin = plain(lead.fin) if lead.fin else ""
    sides = {"outside": ("outside",), "inside": ("inside",), "both": ("outside", "inside")}.get(fin, ())
    found = []
    for side in sides:
        near, far = (WIDE, WIDE + FIN) if side == "outside" else (0.0, -FIN)
        corners = ((0.0, near), (LONG, near), (LONG - FIN, far), (FIN, far))
        flap = Polyline(points=tuple(_turn(each, turned) for each in corners), closed=True, fill="shade")
        words = _say(N_("fin, outside") if side == "outside" else N_("fin, inside"), reader)
        found.append(Group(name=f"fin.{side}", role="leaf", parts=(flap,), title=words))
    return tuple(found)


def _leads(lead: Lead, body: Body | None, turned: bool, reader: Reader) -> tuple[Group, ...]:
    """The lead at its end; at both ends, or as a question at both where the end is not known."""
    if _upright(body):
        ends: tuple[str, ...] = ("right",)  # an upright body lies with its lower end to the right
    else:
        ends = ("left", "right") if lead.end in {"both", None} else (str(lead.end),)
    known = lead.end is not None or _upright(body)
    found = []
    for end in ends:
        parts = [*_lead_shapes(lead, end, turned)]
        if not known:
            x, y = _turn((-TAIL if end == "left" else LONG + TAIL, WIDE / 2), turned)
            parts.append(Text(x=x, y=y + SIZE, words="?", size=SIZE * 1.4, anchor="middle", bold=True))
        words = N_("lead") if known else N_("lead, end not known")
        role: Literal["device", "unknown"] = "device" if known else "unknown"
        found.append(Group(name=f"lead.{end}", role=role, parts=tuple(parts), title=_say(words, reader)))
    return tuple(found)


def _lead_shapes(lead: Lead, end: str, turned: bool) -> tuple[Shape, ...]:
    """From where it comes out: the end, the back (a dot on what lies up), or the inside face (at the feet)."""
    way = plain(lead.exit) if lead.exit else "end"
    out = -1.0 if end == "left" else 1.0
    edge = 0.0 if end == "left" else LONG
    inward = edge - out * (0.006 + 0.002 * min(lead.from_end or 0.0, 0.3) / 0.05)
    start = {"back": (inward, WIDE / 2), "inside_face": (inward, 0.0)}.get(way, (edge, WIDE / 2))
    low = -0.006 if way == "inside_face" else WIDE / 2
    tip = (edge + out * TAIL, low)
    points = (start, (start[0], low), tip) if way == "inside_face" else (start, tip)
    line = Polyline(points=tuple(_turn(each, turned) for each in points))
    x, y = _turn(start, turned)
    return (Circle(x=x, y=y, radius=0.0009, fill="ink"), line)


def _names(body: Body | None, turned: bool, reader: Reader) -> tuple[Group, ...]:
    """Left and right for whoever looks, inside and outside, or the lower end of an upright body."""
    ends = (N_("upper end"), N_("lower end")) if _upright(body) else (N_("left"), N_("right"))
    places: list[tuple[float, float, str, Anchor]] = [
        (SIZE, -0.0135, ends[0], "start"),
        (LONG - SIZE, -0.0135, ends[1], "end"),
    ]
    if not _upright(body):
        top, bottom = (N_("inside"), N_("outside")) if turned else (N_("outside"), N_("inside"))
        places += [(LONG / 2, WIDE + FIN + 0.003, top, "middle"), (LONG / 2, -FIN - 0.005, bottom, "middle")]
    texts = [Text(x=x, y=y, words=_say(words, reader), size=SIZE, anchor=at) for x, y, words, at in places]
    return (Group(name="names", role="note", parts=tuple(texts)),)
