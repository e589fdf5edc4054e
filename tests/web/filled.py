"""An installation with something in every table: ``python -m tests.web.filled`` fills a data folder."""

from __future__ import annotations

import json
from datetime import timedelta


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


if __name__ == "__main__":
    from tests.web.browser_world import make

    told = make()
    fill()
    print(json.dumps(told))
