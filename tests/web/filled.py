"""An installation with something in every table: ``python -m tests.web.filled`` fills a data folder."""

from __future__ import annotations

import hashlib
import json
import uuid
from datetime import timedelta
from typing import Any


def fill() -> None:
    """Add to the invented world what people leave behind; nothing of it is real."""
    from allauth.account.models import EmailAddress
    from allauth.mfa.models import Authenticator
    from django.utils import timezone

    from sillwright.base.words import Reader
    from sillwright.web.accounts.inviting import invite
    from sillwright.web.accounts.models import Organisation, User
    from sillwright.web.accounts.roles import Role
    from sillwright.web.people.keys import make_key
    from sillwright.web.records.links import make_link
    from sillwright.web.records.log import Said, write
    from sillwright.web.records.models import Site
    from sillwright.web.records.papers import make_paper
    from sillwright.web.records.sites import put_away

    owner, technician = (User.objects.get(email=f"{name}@people.example") for name in ("owner", "technician"))
    site = Site.objects.get()
    first, second = site.openings.order_by("position")[:2]
    write(site, first, Said(fact="name", typed="“Schräg”, 門, \U0001f6aa\n\ttwo lines"), author=technician)
    for typed in ("10 ft 2 in", "11 ft"):
        write(site, first, Said(fact="door.clear_width", typed=typed, origin="measured"), author=technician)
    write(site, first, Said(fact="door.clear_height", says="unknown"), author=owner)
    make_link(make_paper("elevation", site, first, by=owner, reader=Reader()), 7, by=owner)
    make_paper("answer", site, None, by=technician, reader=Reader(units="metric"))
    put_away(second, author=owner)
    invite(Organisation.objects.get(name="Harbour Doors"), Role.READER, "nell@people.example", owner)
    make_key(technician, "a program", "read", (timezone.now() + timedelta(days=9)).date())
    EmailAddress.objects.create(user=owner, email=owner.email, primary=True)
    codes = {"seed": "of nobody", "used_mask": 3}
    Authenticator.objects.create(user=owner, type=Authenticator.Type.RECOVERY_CODES, data=codes)
    _beside_facts(first, technician)
    _ordered(first, owner)
    _called(first, technician)
    _taught(owner)


def _ordered(opening: Any, owner: Any) -> None:
    """A catalogue, a quote that went out and an order that was released, each with its file."""
    from sillwright.web.accounts.models import Organisation, User
    from sillwright.web.orders.models import QuoteFile
    from sillwright.web.records.models import Paper
    from tests.web.conftest import World
    from tests.web.ordering import bare_quote, bare_released

    dealer = Organisation.objects.get(name="Harbour Doors")
    world = World(dealer, dealer, {"owner": User.objects.get(pk=owner.pk)}, opening.site)
    paper = Paper.objects.get(kind="answer")
    QuoteFile.objects.create(quote=bare_quote(world, opening.site), ending="json", paper=paper)
    bare_released(world, opening)


def _called(opening: Any, author: Any) -> None:
    """A call that was kept and closed, and a substitute part that went in and out."""
    from sillwright.web.records.models import Photo
    from sillwright.web.trouble.models import CallEnd, SubstituteOut
    from tests.web.troubled import bare_call, bare_substitute

    CallEnd.objects.create(call=bare_call(opening, author), faults=["LEAD_OPEN"], minutes=45, by=author)
    photo = Photo.objects.filter(opening=opening, state="kept")[0]
    SubstituteOut.objects.create(substitute=bare_substitute(opening, author), photo=photo, by=author)


def _taught(owner: Any) -> None:
    """A lesson with a step of the class, and somebody who was there."""
    from sillwright.web.accounts.models import Organisation
    from tests.web.teaching import attended, bare_lesson

    attended(bare_lesson(Organisation.objects.get(name="Harbour Doors"), owner), owner)


def _beside_facts(opening: Any, author: Any) -> None:
    """A remark, a photo that is kept with a marked copy that is on its way, and a question about it."""
    from django.utils import timezone

    from sillwright.web.records.arriving import path_of, receive
    from sillwright.web.records.models import Question
    from sillwright.web.records.photos import Told, declare
    from sillwright.web.records.remarks import Remarked, remark
    from tests.web.photographs import noise

    content, now = noise(), timezone.now()
    said = Remarked(id=uuid.uuid4(), kind="remark", at=now, words="Cable frayed, left side")
    remark(opening, said, author=author)
    about = {"size": len(content), "digest": hashlib.sha256(content).hexdigest(), "taken": now}
    photo = declare(opening, Told(id=uuid.UUID(int=7 << 120), shot="plate", x=0.25, y=0.5, **about), author=author)
    receive(photo, 0, content)
    marks = ({"kind": "words", "x1": 0.1, "y1": 0.2, "x2": 0.3, "y2": 0.4, "words": "門"},)
    copy = Told(
        id=uuid.UUID(int=1 << 120), copy_of=photo.pk, marks=marks, **about
    )  # its row comes before the photo's
    path_of(copy.id, "part").unlink(missing_ok=True)  # what an earlier test took back is still on the disk
    receive(declare(opening, copy, author=author), 0, content[:1000])
    told = {"fact": "door.clear_height", "words": "How high?", "at": now, "by": author, "name": "Nell"}
    Question.objects.create(site=opening.site, opening=opening, photo=photo, **told)


if __name__ == "__main__":
    from tests.web.browser_world import make

    told = make()
    fill()
    print(json.dumps(told))
