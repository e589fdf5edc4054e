"""Making and changing sites and openings: each change with its audit line, in one transaction."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

from django.db import IntegrityError, transaction
from django.db.models import F, Max
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.model import Survey
from sillwright.survey.places import country_mistake
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.records.audit import id_of, record
from sillwright.web.records.log import Refused, Said, checked, write_all
from sillwright.web.records.models import Fact, Opening, Share, Site
from sillwright.web.records.text import as_seen, unkept

LONGEST_NAME = 200
LONGEST_TAG = 100


def name_of(words: str, most: int = LONGEST_NAME) -> str:
    """A name as it is kept, which is as it is seen. Raises :class:`Refused` where it cannot be."""
    name = as_seen(words)
    if not name:
        raise Refused(_("A name is wanted."))
    if len(name) > most:
        raise Refused(_("A name has at most %(most)d signs.") % {"most": most})
    if sign := unkept(name):
        raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    return name


@transaction.atomic
def make_site(
    organisation: Organisation,
    name: str,
    country: str,
    *,
    author: User,
    request: HttpRequest | None = None,
    key: uuid.UUID | None = None,
) -> Site:
    """A new site of an organisation. Whether the author may make one there is the caller's question.

    Raises :class:`Refused` for a name or country that cannot be kept.
    """
    code = country.strip().upper()
    if wrong := country_mistake(code, None):
        raise Refused(f"{wrong[1]}; {wrong[2]}")
    site = Site(id=key or uuid.uuid4(), name=name_of(name), country=code, organisation=organisation)
    site.save(force_insert=True)
    record(request, "site made", site.name, who=author, organisation=organisation, site=site)
    write_all(site, None, [Said(fact="site.country", typed=code)], author=author, request=id_of(request))
    site.refresh_from_db()
    return site


def make_opening(
    site: Site,
    tag: str,
    *,
    author: User,
    said: Iterable[Said] = (),
    request: HttpRequest | None = None,
    key: uuid.UUID | None = None,
) -> Opening:
    """A new opening at the end of a site's walk, with what is known of it.

    Raises :class:`Refused` for a tag that cannot be kept or that another opening of the site has.
    """
    called = name_of(tag, LONGEST_TAG)
    try:
        with transaction.atomic():
            last = site.openings.aggregate(last=Max("position"))["last"]
            opening = Opening(
                id=key or uuid.uuid4(), site=site, tag=called, position=0 if last is None else last + 1
            )
            opening.save(force_insert=True)
            _record(request, "opening made", called, opening, author)
            told = list(said)
            if told:
                write_all(site, opening, told, author=author, request=id_of(request))
                opening.refresh_from_db()
            return opening
    except IntegrityError:
        raise Refused(_("This site has an opening “%(tag)s” already.") % {"tag": called}) from None


def rename(thing: Site | Opening, words: str, *, author: User, request: HttpRequest | None = None) -> None:
    """Another name for a site, another tag for an opening. Raises :class:`Refused`."""
    is_site = isinstance(thing, Site)
    name, before = name_of(words, LONGEST_NAME if is_site else LONGEST_TAG), str(thing)
    field = "name" if is_site else "tag"
    if name == before:
        return
    try:
        with transaction.atomic():
            type(thing).objects.filter(pk=thing.pk).update(**{field: name, "revision": F("revision") + 1})
            setattr(thing, field, name)
            _record(request, "renamed", f"{before} → {name}", thing, author)
    except IntegrityError:
        raise Refused(_("This site has an opening “%(tag)s” already.") % {"tag": name}) from None


@transaction.atomic
def put_away(
    thing: Site | Opening, *, author: User, back: bool = False, request: HttpRequest | None = None
) -> None:
    """Take a site or an opening out of the lists, or put it back. Nothing is deleted."""
    if back == (thing.put_away is None):
        return
    thing.put_away = None if back else timezone.now()
    thing.save(update_fields=["put_away"])
    _record(request, "put back" if back else "put away", str(thing), thing, author)


@transaction.atomic
def share(
    site: Site,
    organisation: Organisation,
    mode: str | None,
    *,
    author: User,
    request: HttpRequest | None = None,
) -> None:
    """Let another organisation ``read`` or ``write`` a site; None takes that back. Raises :class:`Refused`."""
    if organisation.pk == site.organisation_id:
        raise Refused(_("This site is that organisation's own."))
    if mode is None:
        Share.objects.filter(site=site, organisation=organisation).delete()
    elif mode in {"read", "write"}:
        Share.objects.update_or_create(site=site, organisation=organisation, defaults={"mode": mode})
    else:
        raise Refused(_("A site is shared for reading or for writing."))
    _record(request, "shared", f"{organisation.name}: {mode or 'no longer'}", site, author)


def _record(request: HttpRequest | None, verb: str, what: str, thing: Site | Opening, author: User) -> None:
    site = thing if isinstance(thing, Site) else thing.site
    opening = thing if isinstance(thing, Opening) else None
    record(request, verb, what, who=author, organisation=site.organisation, site=site, opening=opening)


@transaction.atomic
def take_in(
    organisation: Organisation,
    survey: Survey,
    *,
    author: User,
    device: str = "",
    request: HttpRequest | None = None,
    key: uuid.UUID | None = None,
) -> Site:
    """A new site from a survey file: every reading becomes an observation, with where it comes from.

    Raises :class:`Refused` where something of it cannot be kept.
    """
    about = survey.site
    name, country = about.name.value or "?", about.country.value or "US"
    site = make_site(organisation, name, country, author=author, request=request, key=key)
    told = in_order((each for each in entries_of(about, "site") if each.path != "site.name"), device)
    made = Fact.objects.get(site=site, opening=None, path="site.country").heads[0]["id"]
    wanted = [replace(each, replaces=(made,)) if each.fact == "site.country" else each for each in told]
    write_all(site, None, wanted, author=author, request=id_of(request))
    for opening in survey.openings:
        tag = opening.tag.value or "?"
        said = in_order((each for each in entries_of(opening) if each.path != "tag"), device, tag)
        make_opening(site, tag, author=author, said=said, request=request)
    site.refresh_from_db()
    return site


def in_order(entries: Iterable[Entry], device: str, tag: str = "") -> list[Said]:
    """Entries of a file as observations that keep its order.

    Raises :class:`Refused` where one cannot be kept, naming opening and fact.
    """
    now = timezone.now()
    found = [Said.of(each, device=device, at=now + timedelta(microseconds=n)) for n, each in enumerate(entries)]
    for each in found:
        try:
            checked(each, of_site=each.fact.startswith("site."))
        except Refused as refused:
            about = {"fact": f"{tag} {each.fact}".strip(), "why": refused}
            raise Refused(_("%(fact)s: %(why)s") % about) from None
    return found
