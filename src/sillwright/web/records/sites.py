"""Making and changing sites and openings: each change with its audit line, in one transaction."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from datetime import timedelta

from django.db import IntegrityError, transaction
from django.db.models import F, Max
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.model import Survey
from sillwright.survey.places import country_mistake
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused, Said, write_all
from sillwright.web.records.models import Fact, Opening, Share, Site
from sillwright.web.records.text import unkept

LONGEST_NAME = 200
LONGEST_TAG = 100


def name_of(words: str, most: int = LONGEST_NAME) -> str:
    """A name as it is kept. Raises :class:`Refused` where it cannot be."""
    name = " ".join(words.split())
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
    request: str = "",
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
    record(None, "site made", site.name, who=author, organisation=organisation, site=site)
    write_all(site, None, [Said(fact="site.country", typed=code)], author=author, request=request)
    site.refresh_from_db()
    return site


def make_opening(
    site: Site, tag: str, *, author: User, said: Iterable[Said] = (), key: uuid.UUID | None = None
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
            record(
                None, "opening made", called, who=author, organisation=site.organisation, site=site, opening=opening
            )
            told = list(said)
            if told:
                write_all(site, opening, told, author=author)
                opening.refresh_from_db()
            return opening
    except IntegrityError:
        raise Refused(_("This site has an opening “%(tag)s” already.") % {"tag": called}) from None


def rename(thing: Site | Opening, words: str, *, author: User) -> None:
    """Another name for a site, another tag for an opening. Raises :class:`Refused`."""
    is_site = isinstance(thing, Site)
    name = name_of(words, LONGEST_NAME if is_site else LONGEST_TAG)
    site = thing if isinstance(thing, Site) else thing.site
    try:
        with transaction.atomic():
            before = str(thing)
            field = "name" if is_site else "tag"
            type(thing).objects.filter(pk=thing.pk).update(**{field: name, "revision": F("revision") + 1})
            setattr(thing, field, name)
            about = {"opening": thing} if isinstance(thing, Opening) else {}
            words = f"{before} → {name}"
            record(None, "renamed", words, who=author, organisation=site.organisation, site=site, **about)
    except IntegrityError:
        raise Refused(_("This site has an opening “%(tag)s” already.") % {"tag": name}) from None


@transaction.atomic
def put_away(thing: Site | Opening, *, author: User, back: bool = False) -> None:
    """Take a site or an opening out of the lists, or put it back. Nothing is deleted."""
    thing.put_away = None if back else timezone.now()
    thing.save(update_fields=["put_away"])
    site = thing if isinstance(thing, Site) else thing.site
    about = {"opening": thing} if isinstance(thing, Opening) else {}
    verb = "put back" if back else "put away"
    record(None, verb, str(thing), who=author, organisation=site.organisation, site=site, **about)


@transaction.atomic
def share(site: Site, organisation: Organisation, mode: str | None, *, author: User) -> None:
    """Let another organisation ``read`` or ``write`` a site; None takes that back."""
    if organisation.pk == site.organisation_id:
        raise Refused(_("This site is that organisation's own."))
    if mode is None:
        Share.objects.filter(site=site, organisation=organisation).delete()
    elif mode in {"read", "write"}:
        Share.objects.update_or_create(site=site, organisation=organisation, defaults={"mode": mode})
    else:
        raise Refused(_("A site is shared for reading or for writing."))
    words = f"{organisation.name}: {mode or 'no longer'}"
    record(None, "shared", words, who=author, organisation=site.organisation, site=site)


@transaction.atomic
def take_in(organisation: Organisation, survey: Survey, *, author: User, device: str = "") -> Site:
    """A new site from a survey file: every reading becomes an observation, with where it comes from."""
    about = survey.site
    site = make_site(organisation, about.name.value or "?", about.country.value or "US", author=author)
    told = _in_order(entries_of(about, "site"), device)
    country = Fact.objects.get(site=site, opening=None, path="site.country").heads[0]["id"]
    wanted = [
        Said(**{**vars(each), "replaces": (country,)}) if each.fact == "site.country" else each
        for each in told
        if each.fact != "site.name"
    ]
    write_all(site, None, wanted, author=author)
    for opening in survey.openings:
        said = _in_order((each for each in entries_of(opening) if each.path != "tag"), device)
        make_opening(site, opening.tag.value or "?", author=author, said=said)
    site.refresh_from_db()
    return site


def _in_order(entries: Iterable[Entry], device: str) -> list[Said]:
    """Entries of a file as observations that keep its order."""
    now = timezone.now()
    return [Said.of(each, device=device, at=now + timedelta(microseconds=n)) for n, each in enumerate(entries)]
